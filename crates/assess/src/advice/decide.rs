//! Move, leave alone, or measure first: what the readings allow.

use super::influence;
use crate::history::Fold;
use crate::view::{Assessment, PointState, PointView, Twist, Verdict};
use record::plan::Plan;
use record::point::Judgement;

/// Readings of one facing after which an undecided value counts as measured again.
const AGAIN: usize = 2;

/// What the readings allow, with reasons.
#[derive(Clone, Debug, PartialEq)]
pub enum Ruling {
    /// Look for moves.
    Seek(Vec<String>),
    /// Everything is within.
    Leave,
    /// Measure first.
    Measure(Vec<String>),
    /// Nothing could be moved, or nothing says how far.
    Cannot(Vec<String>),
}

/// Decides whether moves may be sought at all.
#[must_use]
pub fn ruling(plan: &Plan, fold: &Fold<'_>, assessment: &Assessment) -> Ruling {
    let Some(twist) = &assessment.twist else {
        let missing = lacking(assessment, None);
        let mut reasons = vec!["fewer than two stations have a fresh reading of incidence".to_owned()];
        reasons.extend((!missing.is_empty()).then(|| format!("measure {}", list(&missing))));
        return Ruling::Measure(reasons);
    };
    let unreadable = unreadable(assessment, twist);
    if !unreadable.is_empty() {
        return Ruling::Measure(unreadable);
    }
    let odd: Vec<&str> = twist.stations.iter().filter(|s| s.remeasure).map(|s| s.name.as_str()).collect();
    if !odd.is_empty() {
        let words = |name: &&str| {
            format!("{name} stands out from the other stations: measure it again, seated afresh")
        };
        return Ruling::Measure(odd.iter().map(words).collect());
    }
    let verdicts = verdicts(twist);
    if verdicts.is_empty() {
        let why = "the plan gives no tolerance for setting or twist, so nothing says how far is far enough";
        return Ruling::Cannot(vec![why.to_owned()]);
    }
    let outside = verdicts.iter().any(|(_, v, _)| *v == Verdict::Outside);
    let undecided: Vec<&Ruled<'_>> = verdicts.iter().filter(|(_, v, _)| *v == Verdict::Undecided).collect();
    if !outside && undecided.is_empty() {
        return Ruling::Leave;
    }
    let local: Vec<&str> = twist
        .stations
        .iter()
        .filter(|s| s.stands_out && s.verdict != Some(Verdict::Within))
        .map(|s| s.name.as_str())
        .collect();
    let in_words = |name: &&str| {
        format!(
            "{name} still stands out after measuring again: it is the wing there, not the reading, and no support takes it \
             out; look at the rib and at what the instrument sits on"
        )
    };
    let mut reasons: Vec<String> = local.iter().map(in_words).collect();
    let elsewhere = |(what, v, _): &Ruled<'_>| *v != Verdict::Within && !local.contains(what);
    if !verdicts.iter().any(elsewhere) {
        return Ruling::Cannot(reasons);
    }
    if !outside {
        if !measured_again(fold, assessment) {
            let words = |(what, _, decide): &&Ruled<'_>| match decide {
                Some(how) => format!("{what} is undecided; {how}"),
                None => format!("{what} is undecided: measure it again"),
            };
            return Ruling::Measure(undecided.iter().map(words).collect());
        }
        let names: Vec<String> = undecided.iter().map(|(what, _, _)| (*what).to_owned()).collect();
        reasons.push(format!(
            "{} stayed undecided after measuring again; moving nearer the middle decides it",
            list(&names)
        ));
    }
    if !something_moves(plan) {
        let why = "the plan lists no support that can be moved under a second spar; two spars, each on supports, set the \
                   incidence";
        return Ruling::Cannot(vec![why.to_owned()]);
    }
    Ruling::Seek(reasons)
}

/// What is judged, its verdict, what would decide it.
type Ruled<'a> = (&'a str, Verdict, Option<&'a str>);

fn verdicts(twist: &Twist) -> Vec<Ruled<'_>> {
    let parts = [&twist.setting, &twist.washout_error].into_iter().chain(&twist.neighbours);
    let parts = parts.filter_map(|j| Some((j.what.as_str(), j.verdict?, j.decide.as_deref())));
    let stations = twist.stations.iter();
    parts.chain(stations.filter_map(|s| Some((s.name.as_str(), s.verdict?, s.decide.as_deref())))).collect()
}

fn unreadable(assessment: &Assessment, twist: &Twist) -> Vec<String> {
    let mut out = Vec::new();
    let lacking = lacking(assessment, Some(twist));
    if !lacking.is_empty() {
        out.push(format!("measure {} first: no fresh reading", list(&lacking)));
    }
    // A point that is undecided where its station is not has a reading that proves nothing.
    let doubtful = assessment
        .points
        .iter()
        .filter(|p| p.state == PointState::Fresh && p.verdict == Some(Verdict::Undecided));
    let mut why: Vec<String> = doubtful
        .filter(|p| {
            station_of(p).and_then(|s| twist.stations.iter().find(|t| t.name == s)).is_some_and(|t| {
                !t.remeasure && matches!(t.verdict, Some(Verdict::Within | Verdict::Outside))
            })
        })
        .map(|p| p.decide.clone().unwrap_or_else(|| format!("{} is undecided: measure it again", p.point)))
        .collect();
    why.sort();
    why.dedup();
    out.extend(why);
    out
}

/// Points of the profile that are wanted and have no fresh reading: those the stage requires, and stale ones of stations
/// that have nothing else.
fn lacking(assessment: &Assessment, twist: Option<&Twist>) -> Vec<String> {
    let measured = |name: &str| {
        twist.is_some_and(|t| t.stations.iter().any(|s| s.name == name && s.measured_deg.is_some()))
    };
    let wanted = |p: &&PointView| {
        p.state != PointState::Fresh
            && station_of(p).is_some_and(|s| p.required || (p.state == PointState::Stale && !measured(&s)))
    };
    assessment.points.iter().filter(wanted).map(|p| p.point.to_string()).collect()
}

/// The station of a point that feeds the profile.
fn station_of(point: &PointView) -> Option<String> {
    let feeds = point.point.kind().row().judgement == Judgement::Twist;
    feeds.then(|| point.point.place().to_owned())
}

/// True if every fresh reading of the profile was taken again, in a further round or by further seatings.
fn measured_again(fold: &Fold<'_>, assessment: &Assessment) -> bool {
    let again = |p: &PointView| {
        let needed = if p.reversed { 2 * AGAIN } else { AGAIN };
        let known = fold.points.get(&p.point);
        p.readings >= needed || known.is_some_and(|f| f.rounds >= AGAIN)
    };
    let ours = |p: &&PointView| p.state == PointState::Fresh && station_of(p).is_some();
    let mut points = assessment.points.iter().filter(ours).peekable();
    points.peek().is_some() && points.all(again)
}

fn something_moves(plan: &Plan) -> bool {
    let at = plan.wing.tip.value();
    influence::carrying(plan, at).is_some()
        && plan.supports.iter().any(|s| !matches!(s.adjust, record::plan::Adjust::Fixed))
}

/// `a, b and c`; a long list is cut with a count.
#[must_use]
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
