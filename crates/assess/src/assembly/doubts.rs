//! What an inspector would distrust, reported without being asked.

use crate::estimate::Shared;
use crate::history::{Distrust, Fold, SEATINGS, Said};
use crate::parts::Values;
use crate::view::{Doubt, DoubtKind};
use record::OpenAction;
use record::plan::{Acceptance, EARLIER, Plan};
use std::collections::BTreeSet;

pub(super) fn doubts(plan: &Plan, fold: &Fold<'_>, values: &Values) -> Vec<Doubt> {
    let mut out = Vec::new();
    let mut doubt = |kind, words: String| out.push(Doubt { kind, words });
    for seq in &fold.clock_back {
        doubt(DoubtKind::Clock, format!("entry {seq} is dated before the entry that precedes it"));
    }
    for Said { seq, what: point, .. } in &fold.unsettled {
        doubt(DoubtKind::Unsettled, format!("{point} was taken before it had settled (entry {seq})"));
    }
    for (point, freshness) in fold.points.iter().filter(|(_, f)| f.counts() && f.rounds > 1) {
        // More rounds than these are neither examined nor counted.
        let rounds = match freshness.rounds {
            all if all >= EARLIER => format!("{EARLIER} or more"),
            rounds => rounds.to_string(),
        };
        doubt(
            DoubtKind::Repeated,
            format!("{point} was measured in {rounds} rounds of this stage with nothing moved between"),
        );
    }
    for (point, freshness) in fold.points.iter().filter(|(_, f)| f.counts() && f.more) {
        let round = freshness.used.last().map_or(0, |u| u.reading.round);
        doubt(
            DoubtKind::Repeated,
            format!(
                "{point} was read more than {SEATINGS} times one way in round {round}; the last {SEATINGS} count"
            ),
        );
    }
    for used in fold.points.values().filter(|f| f.counts()).flat_map(|f| &f.used) {
        if let Some(asked) = &used.reading.asked {
            let point = &used.reading.point;
            doubt(
                DoubtKind::Asked,
                format!("{point}, entry {}: kept when asked about: {}", used.seq, asked.why),
            );
        }
    }
    let all: BTreeSet<&Distrust> = values.values().flat_map(|m| &m.doubts).collect();
    for distrust in all {
        let kind = match distrust {
            Distrust::NoInstrument(_) | Distrust::UnknownInstrument(_) => DoubtKind::NoInstrument,
            Distrust::PastDue(_) => DoubtKind::PastDue,
            Distrust::FailedCheck { .. } | Distrust::FailedUnder { .. } => DoubtKind::FailedCheck,
            Distrust::ZeroMoved { .. } => DoubtKind::ZeroMoved,
            Distrust::Shift { .. } => DoubtKind::Shift,
            Distrust::Disagree(_)
            | Distrust::RepeatsWorse(_)
            | Distrust::RoundsDisagree(_)
            | Distrust::WaysDisagree(_)
            | Distrust::SeveralSetUps { .. }
            | Distrust::TiltChanged { .. } => DoubtKind::Contradiction,
            Distrust::AccuracyUnknown(_) => DoubtKind::NoAccuracy,
            Distrust::ZeroUnknown(_) | Distrust::ZeroBeyond { .. } => DoubtKind::ZeroMoved,
        };
        doubt(kind, distrust.to_string());
    }
    let without: BTreeSet<&String> = values
        .values()
        .flat_map(|m| m.estimate.shared.keys())
        .filter_map(|e| if let Shared::TapeExpansion(name) = e { Some(name) } else { None })
        .collect();
    for name in without {
        let words = format!(
            "{name} states no expansion: its lengths are not corrected to 20 °C, and their ± allows for that"
        );
        doubt(DoubtKind::NoAccuracy, words);
    }
    for (name, known) in fold.instruments.iter().filter(|(_, k)| k.last_reading.is_some()) {
        if known.now().is_some_and(|i| i.due.is_none()) {
            doubt(DoubtKind::NoCheckDate, format!("{name} has no date by which it must be checked"));
        }
        if known.now().is_some_and(|i| i.accuracy.is_none() && i.tables.is_empty()) {
            let words = format!("{name} states no accuracy: no ± allows for its error");
            doubt(DoubtKind::NoAccuracy, words);
        }
        for failed in known.checks.iter().filter(|c| !c.what.passed) {
            doubt(DoubtKind::FailedCheck, format!("{name} failed its check (entry {})", failed.seq));
        }
    }
    let begun = fold.visits.iter().map(|v| &v.begun.what);
    for stage in begun.filter(|s| s.reason.is_some() || !s.passed.is_empty()) {
        let over = if stage.passed.is_empty() { &stage.unmet } else { &stage.passed };
        let why = stage.reason.as_deref().unwrap_or("no reason given");
        doubt(DoubtKind::Stage, format!("{} was begun over {} ({why})", stage.name, over.join(", ")));
    }
    if plan.tolerances.left_right.is_some() {
        doubt(DoubtKind::LeftRight, "left against right: not compared".to_owned());
    }
    if plan.rule.acceptance == Acceptance::Simple {
        doubt(
            DoubtKind::Rule,
            "the plan asks for simple acceptance, which is looser than the default".to_owned(),
        );
    }
    if let [first, more @ ..] = plan.remarks.as_slice() {
        let more = if more.is_empty() { String::new() } else { format!(" (and {} more)", more.len()) };
        doubt(DoubtKind::Rule, format!("a new plan like this would be refused, {first}{more}"));
    }
    for Said { seq, what: reason, .. } in &fold.replanned {
        doubt(DoubtKind::Replanned, format!("the plan was replaced (entry {seq}): {reason}"));
    }
    for item in fold.open.iter().map(|o| &o.last.what).filter(|o| o.action == OpenAction::Carried) {
        let why = item.reason.as_deref().unwrap_or("no reason given");
        doubt(DoubtKind::Carried, format!("carried past the gate: {} ({why})", item.item));
    }
    out.sort_by_key(|d| d.kind);
    out
}
