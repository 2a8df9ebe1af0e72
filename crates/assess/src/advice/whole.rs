//! Puts everything together into one [`Advice`].

use super::decide::Ruling;
use super::finding::{Finding, Remedy};
use super::learn::Learned;
use super::live::{self, Pull, UnderWay, observation};
use super::prior::Prior;
use super::profile::Profile;
use super::summary::Summary;
use super::view::{Advice, AdviceState};
use super::{findings, observations, profile, words};
use crate::history::Fold;
use crate::view::Assessment;
use crate::{Chain, assess};
use record::plan::Plan;
use record::{Entry, Move};

/// Version of the advice's form.
const FORMAT: u32 = 1;

/// What to move, from the plan, everything in the log, and its assessment.
pub fn advise(plan: &Plan, entries: &[Entry], assessment: &Assessment) -> Advice {
    replan(plan, entries, assessment, &[])
}

/// The same in the middle of moves: if supports were moved and the profile was not measured since, the moves still to
/// make. When none remain, it is [`advise`].
pub fn go_on(plan: &Plan, entries: &[Entry], assessment: &Assessment) -> Advice {
    let now = || advise(plan, entries, assessment);
    let Some(under_way) = UnderWay::of(plan, entries) else { return now() };
    let before = entries.get(..under_way.before).unwrap_or_default();
    let then = assess(plan, before, &Chain::Whole);
    let mut left = replan(plan, before, &then, &under_way.done);
    if left.steps.is_empty() {
        return now();
    }
    left.reasons.insert(0, words::goes_on(under_way.done.len()));
    left
}

/// The same while supports are being moved: `entries` and `assessment` are those before the first move in `done`.
/// What was seen of those moves is learned, and they are held; the steps are what remains.
pub fn replan(plan: &Plan, entries: &[Entry], assessment: &Assessment, done: &[Move]) -> Advice {
    from_prior(plan, entries, assessment, done, &Prior::general(plan))
}

/// The same from a given prior belief.
pub(super) fn from_prior(
    plan: &Plan,
    entries: &[Entry],
    assessment: &Assessment,
    done: &[Move],
    prior: &Prior,
) -> Advice {
    let fold = Fold::of(plan, entries);
    let learned = learned(plan, entries, &fold, done, prior);
    let profile = profile::profile(plan, &fold, assessment, &learned, done);
    let mut reasons: Vec<String> = learned.doubted.iter().map(|d| words::doubted(d)).collect();
    reasons.extend(profile.ruling.reasons().iter().cloned());
    reasons.extend(profile.reasons.iter().cloned());
    let findings = findings::findings(plan, &fold, assessment, &profile);
    let state = state(&findings, &profile);
    let cautions = if profile.steps.is_empty() { vec![] } else { words::cautions(plan, &profile.moves) };
    Advice {
        format: FORMAT,
        state,
        words: summary(state, &findings, &profile, assessment),
        findings,
        steps: profile.steps,
        setting: profile.setting,
        washout: profile.washout,
        profile: profile.stations,
        worst_now: profile.worst_now,
        worst_at: profile.worst_at,
        worst_expected: profile.worst_expected,
        learned: words::learned(plan, &learned),
        cautions,
        reasons,
    }
}

/// The believed effect of a mm at each support on the incidence at a station, from everything in the log.
pub fn pulls_at(plan: &Plan, entries: &[Entry], station: &str) -> Vec<Pull> {
    let under_way = UnderWay::of(plan, entries);
    let before = under_way.as_ref().map_or(entries.len(), |it| it.before);
    let entries = entries.get(..before).unwrap_or_default();
    let done = under_way.map(|it| it.done).unwrap_or_default();
    let learned = learned(plan, entries, &Fold::of(plan, entries), &done, &Prior::general(plan));
    live::pulls(plan, &learned.belief, station)
}

fn learned(plan: &Plan, entries: &[Entry], fold: &Fold<'_>, done: &[Move], prior: &Prior) -> Learned {
    let mut learned = Learned::from_prior(plan, prior, &observations::events(plan, entries, fold));
    done.iter().filter_map(|d| observation(plan, d)).for_each(|o| learned.observe(plan, &o));
    learned
}

/// The overall state: moves come before other remedies, and those before measuring.
fn state(findings: &[Finding], profile: &Profile) -> AdviceState {
    let has = |which: fn(&Remedy) -> bool| findings.iter().any(|f| which(&f.remedy));
    let supports = has(|r| matches!(r, Remedy::Supports));
    if has(Remedy::moves) && !(supports && !profile.enough && only_supports(findings)) {
        AdviceState::Move
    } else if has(|r| matches!(r, Remedy::Nothing | Remedy::Supports)) {
        AdviceState::Cannot
    } else if has(Remedy::acts) {
        AdviceState::Mend
    } else if findings.is_empty() && matches!(profile.ruling, Ruling::Leave | Ruling::Seek(_)) {
        AdviceState::Leave
    } else {
        AdviceState::Measure
    }
}

fn only_supports(findings: &[Finding]) -> bool {
    findings.iter().filter(|f| f.remedy.moves()).all(|f| matches!(f.remedy, Remedy::Supports))
}

/// The sentence that sums it up.
fn summary(state: AdviceState, findings: &[Finding], profile: &Profile, assessment: &Assessment) -> Summary {
    let about = |which: fn(&Remedy) -> bool| {
        findings.iter().filter(|f| which(&f.remedy)).map(|f| f.about.clone()).collect::<Vec<_>>()
    };
    match state {
        AdviceState::Move if !profile.steps.is_empty() => {
            let moves = profile.steps.len();
            match (profile.worst_now, &profile.worst_at, profile.worst_expected) {
                (Some(now), Some(at), Some(then)) => Summary::Brings { moves, now, at: at.clone(), then },
                _ => Summary::Nearer { moves },
            }
        }
        AdviceState::Move => Summary::Move(about(Remedy::moves)),
        AdviceState::Mend => Summary::Mend(about(Remedy::acts)),
        AdviceState::Measure => Summary::Measure,
        AdviceState::Cannot if profile.worst_expected.is_some_and(|then| then <= 1.0) => Summary::NoGain,
        AdviceState::Cannot => Summary::NoMove,
        AdviceState::Leave => match assessment.gate.obligations.len() {
            all if all > 0 && assessment.gate.state == record::GateState::Clear => Summary::AllMet(all),
            _ => Summary::Leave,
        },
    }
}
