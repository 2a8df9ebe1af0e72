//! Whether to move, leave alone, or measure first, as far as the readings allow.

use super::influence;
use super::rows::{Goal, Target};
use super::targets::Targets;
use crate::history::Fold;
use crate::view::{Assessment, Finding, PointState, PointView, Twist, Verdict};
use record::plan::Plan;
use record::point::Judgement;
use std::collections::BTreeSet;

/// Readings of one facing after which an undecided value counts as measured again.
const AGAIN: usize = 2;

/// The ruling on the profile, with reasons.
#[derive(Clone, Debug, PartialEq)]
pub enum Ruling {
    /// Search for moves.
    Seek(Vec<String>),
    /// Everything is within, except ribs that are odd by themselves.
    Leave,
    /// Measure first.
    Measure(Vec<String>),
    /// Nothing can be moved, or no tolerance says how far.
    Cannot(Vec<String>),
}

impl Ruling {
    /// Why.
    pub fn reasons(&self) -> &[String] {
        match self {
            Self::Seek(why) | Self::Measure(why) | Self::Cannot(why) => why,
            Self::Leave => &[],
        }
    }
}

/// Decides whether to search for moves at all.
pub fn ruling(plan: &Plan, fold: &Fold<'_>, assessment: &Assessment, aimed: &Targets) -> Ruling {
    let Some(twist) = &assessment.twist else {
        let missing = lacking(assessment, None);
        return if missing.is_empty() {
            Ruling::Leave
        } else {
            Ruling::Measure(vec![format!(
                "fewer than two stations have a fresh reading: measure {}",
                list(&missing)
            )])
        };
    };
    let unreadable = unreadable(assessment, twist);
    if !unreadable.is_empty() {
        return Ruling::Measure(unreadable);
    }
    let suspect = |name: &&String| {
        twist.stations.iter().any(|s| s.name == **name && (s.remeasure || !s.stands_out))
            && !again_at(fold, assessment, |p| station_of(p).as_ref() == Some(*name))
    };
    let suspects: Vec<&String> = aimed.odd.iter().filter(suspect).collect();
    if !suspects.is_empty() {
        let words = |name: &&String| {
            format!("{name} stands out from the other stations: seat the level afresh and measure it again")
        };
        return Ruling::Measure(suspects.iter().map(words).collect());
    }
    let verdicts = verdicts(twist);
    if verdicts.is_empty() {
        let why =
            "the plan gives no tolerance for setting or twist, so it does not say how close is close enough";
        return Ruling::Cannot(vec![why.to_owned()]);
    }
    // Not within, and not because of an odd rib.
    let aim = |t: &&Target| t.goal == Goal::Aim && (!aimed.hidden || t.is_out());
    let ours: BTreeSet<&str> = aimed.targets.iter().filter(aim).map(|t| t.what.as_str()).collect();
    let elsewhere: Vec<&Ruled<'_>> =
        verdicts.iter().filter(|r| r.verdict != Verdict::Within && ours.contains(r.what)).collect();
    if elsewhere.is_empty() {
        return Ruling::Leave;
    }
    let mut reasons = Vec::new();
    if !elsewhere.iter().any(|r| r.verdict == Verdict::Outside) {
        if !again_at(fold, assessment, |p| station_of(p).is_some()) {
            let words = |r: &&Ruled<'_>| match r.decide {
                Some(how) => format!("{} is undecided; {how}", r.what),
                None => format!("{} is undecided: measure it again", r.what),
            };
            return Ruling::Measure(elsewhere.iter().map(words).collect());
        }
        let names: Vec<String> = elsewhere.iter().map(|r| r.what.to_owned()).collect();
        reasons.push(format!(
            "{} stayed undecided after measuring again; moving nearer the middle decides it",
            list(&names)
        ));
    }
    if !something_moves(plan) {
        let why = "the plan lists no support that can be moved under a second spar; the incidence is set by \
            two spars, each on supports";
        return Ruling::Cannot(vec![why.to_owned()]);
    }
    Ruling::Seek(reasons)
}

/// A judged value, its verdict, and what would decide it.
struct Ruled<'a> {
    what: &'a str,
    verdict: Verdict,
    decide: Option<&'a str>,
}

fn verdicts(twist: &Twist) -> Vec<Ruled<'_>> {
    let parts = twist.findings().filter_map(Finding::judged);
    let parts =
        parts.filter_map(|j| Some(Ruled { what: &j.what, verdict: j.verdict?, decide: j.decide.as_deref() }));
    let stations = twist
        .valued()
        .filter_map(|s| Some(Ruled { what: &s.name, verdict: s.verdict?, decide: s.decide.as_deref() }));
    parts.chain(stations).collect()
}

fn unreadable(assessment: &Assessment, twist: &Twist) -> Vec<String> {
    let mut out = Vec::new();
    let lacking = lacking(assessment, Some(twist));
    if !lacking.is_empty() {
        out.push(format!("measure {} first: no fresh reading", list(&lacking)));
    }
    // An undecided point at a decided station has a reading that proves nothing.
    let decided: BTreeSet<&str> = twist
        .stations
        .iter()
        .filter(|t| !t.remeasure && matches!(t.verdict, Some(Verdict::Within | Verdict::Outside)))
        .map(|t| t.name.as_str())
        .collect();
    let mut why: Vec<String> = assessment
        .points
        .iter()
        .filter(|p| {
            p.state == PointState::Fresh && matches!(p.verdict, Some(Verdict::Undecided | Verdict::Doubtful))
        })
        .filter(|p| station_of(p).is_some_and(|s| decided.contains(s.as_str())))
        .map(|p| p.decide.clone().unwrap_or_else(|| format!("{} is undecided: measure it again", p.point)))
        .collect();
    why.sort();
    why.dedup();
    out.extend(why);
    out
}

/// Points of the profile that are wanted and have no fresh reading: those the stage requires, and stale ones of
/// stations without any other.
fn lacking(assessment: &Assessment, twist: Option<&Twist>) -> Vec<String> {
    let stations = twist.iter().flat_map(|t| &t.stations).filter(|s| s.measured_deg.is_some());
    let measured: BTreeSet<&str> = stations.map(|s| s.name.as_str()).collect();
    let wanted = |p: &&PointView| {
        p.state != PointState::Fresh
            && station_of(p).is_some_and(|s| {
                p.required || (p.state == PointState::Stale && !measured.contains(s.as_str()))
            })
    };
    assessment.points.iter().filter(wanted).map(|p| p.point.to_string()).collect()
}

/// The station of a point that contributes to the profile.
fn station_of(point: &PointView) -> Option<String> {
    let feeds = point.point.kind().row().judgement == Judgement::Twist;
    feeds.then(|| point.point.place().to_owned())
}

/// Whether every fresh reading of these points was repeated, in another round or by seating again.
pub(super) fn again_at(fold: &Fold<'_>, assessment: &Assessment, which: impl Fn(&PointView) -> bool) -> bool {
    let again = |p: &PointView| {
        let needed = if p.reversed { 2 * AGAIN } else { AGAIN };
        let known = fold.points.get(&p.point);
        p.readings >= needed || known.is_some_and(|f| f.rounds >= AGAIN)
    };
    let ours = |p: &&PointView| p.state == PointState::Fresh && which(p);
    let mut points = assessment.points.iter().filter(ours).peekable();
    points.peek().is_some() && points.all(again)
}

fn something_moves(plan: &Plan) -> bool {
    let at = plan.wing.tip.value();
    influence::carrying(plan, at).is_some()
        && plan.supports.iter().any(|s| !matches!(s.adjust, record::plan::Adjust::Fixed))
}

/// `a, b and c`; a long list is cut and counted.
pub fn list(names: &[String]) -> String {
    const SHOWN: usize = 6;
    match names {
        [] => String::new(),
        [only] => only.clone(),
        many if many.len() > SHOWN => {
            format!("{} and {} more", many[..SHOWN].join(", "), many.len() - SHOWN)
        }
        [head @ .., last] => format!("{} and {last}", head.join(", ")),
    }
}
