//! The closing gate, and the stage on its own.

use crate::chain::Chain;
use crate::history::Fold;
use crate::resolve::figure;
use crate::view::{
    Assessment, Finding, Gate, Judged, JudgedBy, PointView, Reason, ReasonKind, TwistTest, TwistTestKind,
    Verdict,
};
use record::plan::Plan;
use record::point::Judgement;
use record::{GateState, OpenAction};

/// Over all tests of a log together, less probable than this is doubtful.
const DOUBTFUL: f64 = 0.001;

/// Holding, before anything is known.
pub(super) const fn unjudged() -> Gate {
    Gate { state: GateState::Hold, obligations: Vec::new(), reasons: Vec::new() }
}

/// May the skins go on? Only where every reason against it is gone.
pub(super) fn gate(plan: &Plan, fold: &Fold<'_>, a: &Assessment, chain: &Chain) -> Gate {
    let mut reasons = Vec::new();
    let mut reason = |kind, about: Option<&str>, words: String| {
        let cause = about.map_or_else(|| words.clone(), str::to_owned);
        reasons.push(Reason {
            kind,
            about: about.map(str::to_owned),
            words,
            cause,
            obligations: 1,
            settles: None,
        });
    };
    match chain {
        Chain::Whole => {}
        Chain::Broken(how) => {
            reason(ReasonKind::Chain, None, format!("the log's chain is broken: {how}"));
        }
        Chain::NotWalked => reason(ReasonKind::Chain, None, "the log's chain was not walked".to_owned()),
    }
    for words in super::trust::unsound_signatures(fold) {
        reason(ReasonKind::Chain, None, words);
    }
    match (fold.stage, plan.stages.last()) {
        (_, None) => {
            reason(ReasonKind::Stage, None, "the plan has no stages, so nothing is required".to_owned())
        }
        (Some(i), Some(_)) if i + 1 == plan.stages.len() => {}
        (_, Some(last)) => {
            let now = a.stage.as_deref().map_or_else(
                || "no stage has begun".to_owned(),
                |stage| format!("the build is at `{stage}`"),
            );
            let words = format!("{now}; the skins may go on only in `{}`", last.name);
            reason(ReasonKind::Stage, None, words);
        }
    }
    for point in a.points.iter().filter(|p| p.required) {
        if let Some((kind, words)) = of_point(point) {
            reason(kind, Some(&point.point.to_string()), words);
        }
    }
    for found in derived(a) {
        match found {
            Finding::Judged(judged) => match judged.verdict {
                Some(Verdict::Outside) => {
                    reason(ReasonKind::Outside, Some(&judged.what), in_words(judged, "outside"))
                }
                Some(Verdict::Undecided) => {
                    reason(ReasonKind::Undecided, Some(&judged.what), in_words(judged, "undecided"));
                }
                _ => {}
            },
            Finding::Not(not) => match not.verdict {
                Some(Verdict::Missing) => {
                    reason(
                        ReasonKind::Missing,
                        Some(&not.what),
                        format!("{} is missing: {}", not.what, not.why),
                    );
                }
                Some(_) => {
                    let words = format!("{} cannot be judged: {}", not.what, not.why);
                    reason(ReasonKind::CannotJudge, Some(&not.what), words);
                }
                None => {}
            },
        }
    }
    let tests: Vec<&TwistTest> = a.twist.iter().flat_map(|t| &t.tests).collect();
    #[expect(clippy::cast_precision_loss, reason = "a few tests")]
    let share = DOUBTFUL / tests.len().max(1) as f64;
    for test in tests.iter().filter(|t| t.p < share) {
        let kind =
            if test.kind == TwistTestKind::OddStation { ReasonKind::Remeasure } else { ReasonKind::Doubtful };
        reason(kind, test.about.first().map(String::as_str), test.words.clone());
    }
    for item in fold.open.iter().filter(|o| o.action == OpenAction::Opened) {
        reason(ReasonKind::Open, Some(&item.item), format!("left open: {}", item.item));
    }
    reasons.sort_by_key(|r| r.kind);
    let state = if reasons.is_empty() { GateState::Clear } else { GateState::Hold };
    Gate { state, obligations: Vec::new(), reasons }
}

/// The worst verdict among what the present stage requires; `None` before the first stage.
pub(super) fn stage_verdict(fold: &Fold<'_>, a: &Assessment) -> Option<Verdict> {
    fold.stage?;
    let points = a.points.iter().filter(|p| p.required).filter_map(|p| p.verdict);
    let parts = derived(a).into_iter().filter_map(of_stage);
    Some(points.chain(parts).max().unwrap_or(Verdict::Within))
}

/// What the curve does not reach is missing for the gate; of a stage only the points are that it requires.
fn of_stage(found: &Finding) -> Option<Verdict> {
    found.verdict().filter(|v| *v != Verdict::Missing)
}

fn of_point(point: &PointView) -> Option<(ReasonKind, String)> {
    let name = &point.point;
    let words = match point.verdict? {
        Verdict::Within => return None,
        Verdict::Missing => (ReasonKind::Missing, format!("{name} has no reading")),
        Verdict::Stale => {
            let why = point.stale_because.as_deref().unwrap_or("something disturbed it");
            (ReasonKind::Stale, format!("{name} was measured before {why}"))
        }
        Verdict::Outside => (ReasonKind::Outside, format!("{name} is outside{}", by(point))),
        Verdict::Doubtful => (ReasonKind::Doubtful, format!("{name} is doubtful")),
        Verdict::CannotJudge => (ReasonKind::CannotJudge, format!("{name} cannot be judged")),
        Verdict::Undecided => {
            let how = point.decide.as_deref().map_or_else(String::new, |d| format!("; {d}"));
            (ReasonKind::Undecided, format!("{name} is undecided{}{how}", by(point)))
        }
    };
    Some(words)
}

fn by(point: &PointView) -> String {
    match &point.judged_by {
        None | Some(JudgedBy::OwnLimits) => String::new(),
        Some(by) => format!(" (by {by})"),
    }
}

/// The judgements that are of no single point, where the stage requires points of their sort.
fn derived(a: &Assessment) -> Vec<&Finding> {
    let twisted = |p: &PointView| p.required && p.point.kind().row().judgement == Judgement::Twist;
    let mut out = Vec::new();
    if a.points.iter().any(twisted)
        && let Some(twist) = &a.twist
    {
        out.push(&twist.setting);
        out.push(&twist.washout_error);
        out.extend(twist.neighbours.iter().map(|s| &s.finding));
    }
    out
}

fn in_words(judged: &Judged, verdict: &str) -> String {
    let limits = match (judged.lower, judged.upper) {
        (Some(l), Some(u)) => format!("{} to {}", figure(l), figure(u)),
        (Some(l), None) => format!("{} or more", figure(l)),
        (None, Some(u)) => format!("{} or less", figure(u)),
        (None, None) => String::new(),
    };
    let how = judged.decide.as_deref().map_or_else(String::new, |d| format!("; {d}"));
    format!(
        "{} is {verdict}: {:.3} ± {} {} against {limits} {}{how}",
        judged.what,
        judged.value,
        figure(2.0 * judged.u),
        judged.unit.base_symbol(),
        judged.unit.base_symbol()
    )
}
