//! Values computed from one datum must be read from one set-up of it: a line stretched again, or a fuselage on other
//! trestles, is a different datum.

use super::Taken;
use crate::estimate::measured;
use crate::history::{Distrust, Used};
use crate::parts::{Rigged, Values};
use record::plan::{Plan, RigCheck, Tilted};
use record::point::Judgement;
use record::{Point, PointKind};
use std::collections::{BTreeMap, BTreeSet};

/// A test of whether readings of one thing agree, and the doubt about its points if it fails.
pub struct Agreement {
    pub points: Vec<Point>,
    /// The probability that they differ this much by chance.
    pub p: f64,
    pub says: Distrust,
}

/// What one judgement takes from one datum: the offsets of a spar, a section's two heights, the bushes in one direction.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Group<'p> {
    kind: PointKind,
    of: Option<&'p str>,
}

fn group(point: &Point) -> Option<Group<'_>> {
    let kind = point.kind();
    let of = match kind.row().judgement {
        _ if !kind.row().from_a_datum() => return None,
        Judgement::Straightness => point.spar(),
        Judgement::Twist => Some(point.place()),
        _ => None,
    };
    Some(Group { kind, of })
}

/// The points that were read in several set-ups, of one instrument or of several, and need a single one.
pub fn several_set_ups(taken: &Taken<'_>, values: &Values) -> Vec<Agreement> {
    let mut groups: BTreeMap<Group<'_>, Vec<(&Point, &Used)>> = BTreeMap::new();
    for point in values.keys() {
        let used = taken.get(point).and_then(|f| f.used.last());
        if let (Some(group), Some(used)) = (group(point), used) {
            groups.entry(group).or_default().push((point, used));
        }
    }
    let mut out = Vec::new();
    for (group, read) in groups {
        // Nobody can say whether another instrument's round had the same datum.
        let rounds: BTreeSet<u32> = read.iter().map(|(_, used)| used.reading.round).collect();
        if rounds.len() < 2 {
            continue;
        }
        let words = group.kind.row().words;
        let what = group.of.map_or_else(|| words.to_owned(), |of| format!("{words} of {of}"));
        let says = Distrust::SeveralSetUps { what, rounds: rounds.into_iter().collect() };
        let points = read.into_iter().map(|(point, _)| point.clone()).collect();
        out.push(Agreement { points, p: 0.0, says });
    }
    out
}

/// For readings taken before the fuselage's tilt was read again: whether the fuselage was then as it is now.
pub fn tilts(plan: &Plan, rigged: &Rigged<'_>, taken: &Taken<'_>, values: &Values) -> Vec<Agreement> {
    // A neutral without limits, from which only travels count, needs no tilt: it drops out of the travels.
    let needed = |Tilted { tilt, read, from }: &Tilted| {
        let all = |c: &RigCheck<'_>| c.points.contains(read) && (from.is_some() || c.points.contains(tilt));
        rigged.checks.iter().any(|c| c.has_limits() && all(c))
    };
    let tested = rigged.tilted.iter().filter_map(|tilted| {
        let Tilted { tilt, read, from } = tilted;
        let last = |point: &Point| taken.get(point).and_then(|f| f.used.last()).map(|u| u.seq);
        let now = taken.get(tilt)?;
        let anew = now.used.first()?.seq;
        let before = last(read).filter(|seq| *seq < anew)?;
        if from.as_ref().is_some_and(|from| last(from).is_some_and(|seq| seq < anew)) {
            return None;
        }
        // The tilt at that time: from the last round of the tilt that had begun, or from the first of all.
        let begun = |round: &&Vec<Used>| round.first().is_some_and(|u| u.seq < before);
        let then = now.former.iter().rev().find(begun).or_else(|| now.former.first())?;
        // If the tilt readings of that time give no value, nothing says that the fuselage was as it is now.
        let now = values.get(tilt)?;
        let p = measured(plan, tilt, then).map_or(0.0, |then| now.estimate.alike(&then.estimate));
        let says = Distrust::TiltChanged { read: read.clone(), tilt: tilt.clone() };
        needed(tilted).then(|| Agreement { points: vec![read.clone()], p, says })
    });
    tested.collect()
}
