//! Puts everything together into one [`Advice`].

use super::decide::{Ruling, list};
use super::done::{Done, observation};
use super::finding::{Finding, Remedy};
use super::learn::Learned;
use super::live::{self, Pull, UnderWay};
use super::prior::Prior;
use super::profile::Profile;
use super::view::{Advice, AdviceState};
use super::{findings, observations, profile, words};
use crate::history::Fold;
use crate::view::Assessment;
use crate::{Chain, assess};
use record::Entry;
use record::plan::Plan;

/// Version of the advice's form.
const FORMAT: u32 = 1;

/// What to move, from the plan, everything in the log, and its assessment.
#[must_use]
pub fn advise(plan: &Plan, entries: &[Entry], assessment: &Assessment) -> Advice {
    replan(plan, entries, assessment, &[])
}

/// The same in the middle of moves: if supports were moved and the profile was not measured since, the moves still to
/// make. When none remain, it is [`advise`].
#[must_use]
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
#[must_use]
pub fn replan(plan: &Plan, entries: &[Entry], assessment: &Assessment, done: &[Done]) -> Advice {
    from_prior(plan, entries, assessment, done, &Prior::general(plan))
}

/// The same from a given prior belief.
pub(super) fn from_prior(
    plan: &Plan,
    entries: &[Entry],
    assessment: &Assessment,
    done: &[Done],
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
#[must_use]
pub fn pulls_at(plan: &Plan, entries: &[Entry], station: &str) -> Vec<Pull> {
    let under_way = UnderWay::of(plan, entries);
    let before = under_way.as_ref().map_or(entries.len(), |it| it.before);
    let entries = entries.get(..before).unwrap_or_default();
    let done = under_way.map(|it| it.done).unwrap_or_default();
    let learned = learned(plan, entries, &Fold::of(plan, entries), &done, &Prior::general(plan));
    live::pulls(plan, &learned.belief, station)
}

fn learned(plan: &Plan, entries: &[Entry], fold: &Fold<'_>, done: &[Done], prior: &Prior) -> Learned {
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
fn summary(state: AdviceState, findings: &[Finding], profile: &Profile, assessment: &Assessment) -> String {
    match state {
        AdviceState::Move if !profile.steps.is_empty() => {
            let count = profile.steps.len();
            let noun = if count == 1 { "1 move brings" } else { &format!("{count} moves bring") };
            let (Some(now), Some(at), Some(then)) =
                (profile.worst_now, &profile.worst_at, profile.worst_expected)
            else {
                return format!("{noun} the wing nearer.");
            };
            format!("{noun} the largest deviation from {now:.1} of its tolerance ({at}) to {then:.1}.")
        }
        AdviceState::Move => {
            let moved: Vec<String> =
                findings.iter().filter(|f| f.remedy.moves()).map(|f| f.about.clone()).collect();
            format!("Something must be moved: {}.", list(&moved))
        }
        AdviceState::Mend => {
            let mended: Vec<String> =
                findings.iter().filter(|f| f.remedy.acts()).map(|f| f.about.clone()).collect();
            format!("Nothing to turn: no screw mends {}.", list(&mended))
        }
        AdviceState::Measure => "Measure before moving anything.".to_owned(),
        AdviceState::Cannot => match profile.worst_expected {
            Some(then) if then <= 1.0 => "No move gains more than the measurement can tell.".to_owned(),
            _ => "No move brings everything inside its tolerance.".to_owned(),
        },
        AdviceState::Leave => match assessment.gate.obligations.len() {
            all if all > 0 && assessment.gate.state == record::GateState::Clear => {
                format!("Nothing to turn, nothing to mend: all {all} obligations are met.")
            }
            _ => "Nothing to turn, nothing to mend: leave it alone.".to_owned(),
        },
    }
}
