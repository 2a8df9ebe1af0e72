//! Reads marks, the distances between them, and what those left and right show together.

use super::super::checks::Names;
use super::super::limits::tolerance;
use super::super::mistake::{Mistake, Table};
use crate::plan::{Distance, Mark, Symmetry, SymmetryPair, TapeHeld};
use quantity::table::Written;
use quantity::{Kind, Millimetres, nearest};

/// Marks are mirror images of each other within this, in mm.
const MIRRORED: f64 = 0.5;

pub fn mark(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Mark> {
    let name = names.take("mark", t.name("name"));
    let (aft, right) = (t.required_length("aft"), t.required_length("right"));
    let up = t.length("up").unwrap_or_default();
    Some(Mark { name: name?, aft: aft?, right: right?, up })
}

/// The position of a name in a list. If it is not there, a mistake that suggests the nearest.
fn known(t: &Table<'_, '_>, key: &'static str, of: &'static str, names: &[&str]) -> Option<usize> {
    let Written { text, span } = t.required_text(key)?;
    let place = names.iter().position(|name| *name == text);
    if place.is_none() {
        let near = nearest(&text, names.iter().copied()).map(|n| format!("did you mean \"{n}\"?"));
        t.mistakes().note(span, Mistake::NoneNamed { of, name: text }, near);
    }
    place
}

pub fn distance(t: &Table<'_, '_>, marks: &[Mark], names: &mut Names<'_>) -> Option<Distance> {
    let name = names.take("distance", t.name("name"));
    let all: Vec<&str> = marks.iter().map(|m| m.name.as_str()).collect();
    let (from, to) = (known(t, "from", "mark", &all), known(t, "to", "mark", &all));
    let tolerance = tolerance(t, "tolerance", Kind::Length);
    if from.is_some() && from == to {
        t.missing("to", "a distance is between two marks");
    }
    let (pull, within) = (t.positive("pull", Kind::Force), t.zero_or_more("pull_within", Kind::Force));
    let spans = t.whole("spans");
    if t.has("pull_within") || t.has("spans") {
        t.wants("pull", "give the pull on the tape, as \"50 N\"; spans and pull_within need it");
    }
    let held = |pull| TapeHeld { pull, within: within.unwrap_or(0.0), spans: spans.unwrap_or(0) };
    let tape = pull.map(held);
    if let (Some(held), Some(at)) = (tape, t.value("pull_within"))
        && held.within >= held.pull
    {
        t.wrong(at, "pull_within", "less than the pull");
    }
    Some(Distance { name: name?, between: [from?, to?], tolerance, tape })
}

pub fn symmetry(
    t: &Table<'_, '_>,
    marks: &[Mark],
    distances: &[Distance],
    names: &mut Names<'_>,
) -> Option<Symmetry> {
    let name = names.take("symmetry", t.name("name"));
    let all: Vec<&str> = distances.iter().map(|d| d.name.as_str()).collect();
    if t.count("pair") == 0 {
        t.missing(
            "pair",
            "write pair = [{ left = \"...\", right = \"...\" }, ...] with the names of distances",
        );
    }
    let pairs = t.list("pair", "a pair of distances", |row| {
        let (left, right) = (known(row, "left", "distance", &all), known(row, "right", "distance", &all));
        let pair = mirrored(marks, distances, left?, right?);
        if pair.is_none() {
            row.mistakes().note(row.span(), Mistake::NoPair, None);
        }
        pair
    });
    let (yaw, offset) = (tolerance(t, "yaw", Kind::Angle), tolerance(t, "offset", Kind::Length));
    Some(Symmetry { name: name?, pairs, yaw, offset })
}

/// The pair, if its marks are placed as those of a pair must be.
fn mirrored(marks: &[Mark], distances: &[Distance], left: usize, right: usize) -> Option<SymmetryPair> {
    let (l, r) = (distances.get(left)?.between, distances.get(right)?.between);
    let middle = l.into_iter().find(|m| r.contains(m))?;
    let other = |ends: [usize; 2]| ends.into_iter().find(|m| *m != middle).and_then(|i| marks.get(i));
    let (m, l, r) = (marks.get(middle)?, other(l)?, other(r)?);
    let alike = |a: Millimetres, b: Millimetres| (a - b).value().abs() <= MIRRORED;
    let fits = alike(l.aft, r.aft) && alike(l.up, r.up) && alike(-l.right, r.right);
    (fits && m.right.value().abs() <= MIRRORED && r.right.value() > 0.0).then(|| SymmetryPair {
        left,
        right,
        aft: (m.aft - l.aft).value(),
        up: (m.up - l.up).value(),
        out: r.right.value(),
    })
}
