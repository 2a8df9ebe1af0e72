//! Wings built in a jig: what their logs said when they were taken up, and whether that proves the wing that the plan
//! asks for.

use super::{Elsewhere, earlier_profile, fresh};
use crate::history::{Fold, Said};
use crate::parts::{Values, jig_twist};
use crate::twist::{ALPHA, Fits, Readings};
use crate::view::{JigChange, RigView, TakenView, Verdict as S, WingFound, WingView};
use numerics::mixture::Mixture;
use quantity::shown::count;
use record::plan::{Plan, RigWing};
use record::{GateState, JigShared, JigStation, WingTaken};

/// Every wing that, by the plan, was built in a jig.
pub(super) fn wings(plan: &Plan, fold: &Fold<'_>, elsewhere: &Elsewhere) -> Vec<WingView> {
    let view = |wing: &RigWing| {
        let taken = fold.wings.get(&wing.name);
        let found = elsewhere.get(&wing.name).cloned().unwrap_or_default();
        let known = match taken.and_then(|t| twin(plan, fold, wing, &t.what)) {
            Some(other) => Known::twice(wing, other),
            None => Known::of(wing, taken.map(|t| &t.what), &found),
        };
        WingView {
            name: wing.name.clone(),
            side: wing.side,
            state: known.state,
            words: known.words,
            settles: known.settles,
            another: known.another,
            taken: taken.map(taken_view),
            found,
            changes: Vec::new(),
        }
    };
    plan.rigging.wings.iter().map(view).collect()
}

/// Another wing of the plan for which the same log was taken up: one that begins with the same entry.
fn twin<'p>(plan: &'p Plan, fold: &Fold<'_>, wing: &RigWing, taken: &WingTaken) -> Option<&'p str> {
    let others = plan.rigging.wings.iter().map(|w| w.name.as_str()).filter(|name| *name != wing.name);
    let mut same = others.filter(|name| fold.wings.get(*name).is_some_and(|t| t.what.first == taken.first));
    same.next()
}

fn taken_view(said: &Said<WingTaken>) -> TakenView {
    let t = &said.what;
    TakenView {
        on: said.into(),
        log: t.log.clone(),
        wing: t.wing.clone(),
        serial: t.serial.clone(),
        drawing: t.drawing.clone(),
        issue: t.issue.clone(),
        plan_sha256: t.plan_sha256.clone(),
        entries: t.entries,
        head: t.head.clone(),
        gate: t.gate,
        decided: t.decided,
        signed: t.signed.clone(),
        stage: t.stage.clone(),
        stations: t.stations.clone(),
    }
}

/// What a wing's log proves.
struct Known {
    state: S,
    words: String,
    settles: Option<String>,
    /// True where the log is not of this wing.
    another: bool,
}

impl Known {
    /// One log is of one wing: nobody knows of which.
    fn twice(wing: &RigWing, other: &str) -> Self {
        Self {
            state: S::Outside,
            words: format!("{}: the same log is taken up for {other}", wing.name),
            settles: Some("take up the log of the right wing".to_owned()),
            another: true,
        }
    }

    fn of(wing: &RigWing, taken: Option<&WingTaken>, found: &WingFound) -> Self {
        let name = &wing.name;
        let not = |state: S, why: String, settles: &str| Self {
            state,
            words: format!("{name}: {why}"),
            settles: Some(settles.to_owned()),
            another: false,
        };
        let Some(t) = taken else {
            let settles = format!("jigtrue wing LOG \"{name}=ITS LOG\"");
            return not(S::Missing, "its jig's log is not taken up".to_owned(), &settles);
        };
        let of_another =
            |state: S, why: String, settles: &str| Self { another: true, ..not(state, why, settles) };
        let again = "take up the log of the right wing";
        if let WingFound::Changed { why } = found {
            let why = format!("{} is not the log that was taken up: {why}", t.log);
            return of_another(S::Outside, why, "compare with a backup");
        }
        if let WingFound::Unread { why } = found {
            let why = format!("{} cannot be read, so it may have changed: {why}", t.log);
            return not(S::CannotJudge, why, "make it readable, or take up its log where it is now");
        }
        if t.side != wing.side {
            return of_another(S::Outside, format!("its log is for a {} wing", t.side.word()), again);
        }
        let papers = [
            ("serial number", &wing.serial, &t.serial),
            ("drawing", &wing.drawing, &t.drawing),
            ("issue", &wing.issue, &t.issue),
        ];
        for (what, asked, is) in papers {
            match (asked, is) {
                (Some(asked), Some(is)) if asked != is => {
                    let why =
                        format!("it was built and signed for {what} {is}, but this plan asks for {asked}");
                    return of_another(S::Outside, why, again);
                }
                (Some(asked), None) => {
                    let why =
                        format!("its own plan does not give its {what}, but this plan asks for {asked}");
                    return of_another(S::CannotJudge, why, again);
                }
                _ => {}
            }
        }
        if let Some(bad) = t.signed.iter().find(|s| !s.sound) {
            let why = format!("the signature of {} (its entry {}) does not fit", bad.who, bad.entry);
            return not(S::Outside, why, "compare its log with a backup");
        }
        if t.gate == GateState::Hold {
            let why = t.held.first().map_or_else(String::new, |first| format!(": {first}"));
            let how = if t.decided.is_some() {
                "it was closed while its gate held"
            } else {
                "it was never cleared"
            };
            let settles = "clear and sign the wing in its own log, then take it up again";
            return not(S::Outside, format!("{how}{why}"), settles);
        }
        let clear = || t.signed.iter().filter(|s| s.gate == GateState::Clear);
        let Some(best) = clear().min_by_key(|s| (!s.same_plan, s.uncovered)) else {
            let settles = "sign the wing in its own log, then take it up again";
            return not(S::Missing, "nobody signed that it is clear".to_owned(), settles);
        };
        if !best.same_plan {
            let why = format!("{} signed it under another plan than the one in force", best.who);
            return not(S::Outside, why, "sign it under the plan in force, then take it up again");
        }
        if best.uncovered > 0 {
            let n = count(best.uncovered, "entry", "entries");
            let why = format!("{n} of its log came after what {} signed", best.who);
            return not(S::Doubtful, why, "sign the wing in its own log, then take it up again");
        }
        if let WingFound::GoneOn { bearing: n @ 1.., .. } = found {
            let n = count(*n, "entry", "entries");
            let why = format!("its log went on since it was taken up, by {n} that its decision may rest on");
            return not(S::Doubtful, why, "look what it was; sign the wing anew, then take it up again");
        }
        let there = |name: &String| t.stations.iter().any(|s| s.name == *name);
        if let Some(lacks) = wing.stations.iter().find(|s| !there(&s.name)) {
            let why = format!("the last profile of its jig has no station {}", lacks.name);
            return not(S::CannotJudge, why, "measure it in the wing's log, or replan");
        }
        let log = match found {
            WingFound::NotLookedFor => format!("{} was not looked for", t.log),
            WingFound::NotAtHand => format!("{} is not available, so only what was taken up is known", t.log),
            WingFound::AsTakenUp => format!("{} is as it was taken up", t.log),
            WingFound::GoneOn { entries, .. } => {
                format!("{} has {} more since", t.log, count(*entries, "entry", "entries"))
            }
            WingFound::Changed { .. } | WingFound::Unread { .. } => String::new(),
        };
        let words = format!("{name}: clear, signed by {} as {}; {log}", best.who, best.capacity);
        Self { state: S::Within, words, settles: None, another: false }
    }
}

/// Adds the changes since the jig to their wings.
pub(super) fn changes(plan: &Plan, rigging: &[RigView], wings: &mut [WingView]) {
    for (asked, wing) in plan.rigging.wings.iter().zip(wings) {
        let Some((from, others)) = asked.stations.split_first() else { continue };
        let Some(taken) = &wing.taken else { continue };
        let found: Vec<JigChange> = others
            .iter()
            .filter_map(|station| {
                let name = asked.change_at(station);
                let judged = rigging.iter().find(|r| r.name == name)?.judged.clone();
                let jig = jig_twist(&asked.name, &taken.stations, &from.name, &station.name).ok()?;
                let span_mm = taken.stations.iter().find(|s| s.name == station.name)?.span_mm;
                Some(JigChange {
                    station: station.name.clone(),
                    from: from.name.clone(),
                    span_mm,
                    jig_deg: jig.value,
                    now_deg: judged.value + jig.value,
                    p: Mixture::normal(judged.u).two_sided(judged.value),
                    change: judged,
                    real: false,
                })
            })
            .collect();
        let alpha = ALPHA / found.len().max(1) as f64;
        wing.changes = found.into_iter().map(|c| JigChange { real: c.p < alpha, ..c }).collect();
    }
}

/// The last profile of a wing's log, with its uncertainties.
#[derive(Clone, Debug, PartialEq)]
pub struct LastProfile {
    pub stage: String,
    pub stations: Vec<JigStation>,
}

/// The last profile of a wing's log; `None` if it never had one.
pub fn last_profile(plan: &Plan, fold: &Fold<'_>) -> Option<LastProfile> {
    let values: Values = super::current_values(plan, fold);
    let fits = Fits::new(plan);
    let now = fits.of(&values, Readings::of(fresh(fold)));
    let now = now.map(|fitted| (fold.stage_name.clone().unwrap_or_default(), fitted));
    let (stage, fitted) = now.or_else(|| earlier_profile(plan, fold, &fits))?;
    let stations = fitted.fit.stations.iter().filter_map(|s| {
        let planned = plan.stations.get(s.index)?;
        let e = &s.incidence.estimate;
        let shared = e.shared.iter().map(|(error, deg)| JigShared { error: error.to_string(), deg: *deg });
        Some(JigStation {
            name: planned.name.clone(),
            span_mm: planned.span.value(),
            design_deg: planned.incidence.value(),
            incidence_deg: e.value,
            own_deg: e.own,
            shared: shared.collect(),
        })
    });
    Some(LastProfile { stage, stations: stations.collect() })
}
