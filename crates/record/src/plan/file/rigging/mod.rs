//! Reads the rigged aeroplane.

mod cables;
mod wings;

pub use wings::{check_wings, wing};

use super::checks::Names;
use super::limits::{tolerance, tolerance_any};
use super::mistake::{Mistake, Table};
use crate::plan::rigging::read_at;
use crate::plan::{
    AngleOf, Control, Difference, Distance, Fuselage, Laid, LengthBy, Mark, Plan, RigAngle, Rigging, Side,
    Symmetry, SymmetryPair, TapeHeld, TravelBy, Weight, WeightBy,
};
use crate::{Limits, Point};
use quantity::table::Written;
use quantity::{Kind, Millimetres, nearest};

/// Steepest hinge.
const STEEPEST: f64 = 80.0;
/// Marks are mirror images of each other within this, in mm.
const MIRRORED: f64 = 0.5;

/// Reads everything rigged, except the wings whose logs are taken up.
pub fn rigging(root: &Table<'_, '_>, names: &mut Names<'_>) -> Rigging {
    let fuselage = root.inside("fuselage", "[fuselage]", fuselage).flatten();
    let angles = root.list("angle", "an [[angle]]", |t| angle(t, fuselage.is_some(), names));
    let controls = root.list("control", "a [[control]]", |t| control(t, fuselage.is_some(), names));
    let cables = root.list("cable", "a [[cable]]", |t| cables::cable(t, names));
    let bolts = root.list("bolt", "a [[bolt]]", |t| cables::bolt(t, names));
    let marks = root.list("mark", "a [[mark]]", |t| mark(t, names));
    let distances = root.list("distance", "a [[distance]]", |t| distance(t, &marks, names));
    let symmetries = root.list("symmetry", "a [[symmetry]]", |t| symmetry(t, &marks, &distances, names));
    let differences = root.list("difference", "a [[difference]]", |t| difference(t, names));
    let weights = root.list("weight", "a [[weight]]", |t| weight(t, names));
    Rigging {
        fuselage,
        angles,
        controls,
        cables,
        bolts,
        marks,
        distances,
        symmetries,
        differences,
        weights,
        wings: Vec::new(),
    }
}

/// Checks the differences of two things: both must be in the plan, and of one quantity.
pub fn check_differences(root: &Table<'_, '_>, plan: &Plan) {
    let checks = plan.rig_checks();
    let read = read_at(&checks);
    let r = &plan.rigging;
    let differences =
        r.differences.iter().enumerate().map(|(i, d)| ("difference", i, ("of", &d.of), ("less", &d.less)));
    let weights = r.weights.iter().enumerate().map(|(i, w)| match &w.by {
        WeightBy::TurnedOver { upright, inverted } => {
            ("weight", i, ("upright", upright), ("inverted", inverted))
        }
        WeightBy::Couple { without, with, .. } => ("weight", i, ("without", without), ("with", with)),
    });
    for (list, i, first, second) in differences.chain(weights) {
        let unit = |point: &Point| read.get(point).map(|c| c.unit);
        let note = |key: &str, what| root.mistakes().note(root.span_of(list, i, key), what, None);
        for (key, point) in [first, second] {
            if unit(point).is_none() {
                note(key, Mistake::NotRigged(point.clone()));
            }
        }
        let (a, b) = (first.1, second.1);
        if let (Some(of), Some(less)) = (unit(a), unit(b))
            && (of != less || a == b || (list == "weight" && of != Kind::Angle))
        {
            note(second.0, Mistake::NotTogether { first: a.clone(), second: b.clone() });
        }
    }
}

fn fuselage(t: &Table<'_, '_>) -> Option<Fuselage> {
    let name = match t.value("name") {
        Some(_) => t.name("name").map(|name| name.text),
        None => Some("fuselage".to_owned()),
    };
    let (pitch, roll) = (tolerance(t, "pitch", Kind::Angle), tolerance(t, "roll", Kind::Angle));
    Some(Fuselage { name: name?, pitch, roll })
}

fn angle(t: &Table<'_, '_>, levelled: bool, names: &mut Names<'_>) -> Option<RigAngle> {
    let of = t.required_word("of", &AngleOf::WORDS);
    // Read every key first: a wrong `of` must not make the others unknown.
    let name = t.name("name");
    let side = t.word("side", &Side::OF_A_WING);
    let design = match of {
        Some(AngleOf::Upright) => t.quantity("design", Kind::Angle).or(Some(0.0)),
        Some(_) => t.required("design", Kind::Angle),
        None => t.quantity("design", Kind::Angle),
    };
    let tolerance = tolerance(t, "tolerance", Kind::Angle);
    let mut base = t.positive_length("base");
    let of = of?;
    // Both judge the dihedral, so both use its names.
    let named = if of == AngleOf::Rise { AngleOf::Dihedral } else { of };
    let name = names.take(named.word(), name);
    if design.is_some_and(|design| design.abs() >= 90.0) {
        t.refuse("design", "between -90° and 90°");
    }
    match of {
        AngleOf::Sweep => {
            t.wants("base", "give the distance along the span between the two plumb lines");
        }
        AngleOf::Rise => {
            t.wants("base", "give the distance along the part between the two marks");
        }
        AngleOf::Dihedral | AngleOf::Incidence | AngleOf::Upright => {
            base = None;
            t.unused(
                "base",
                "left out, except for a sweep or a rise; a dihedral by heights is of = \"rise\"",
            );
        }
    }
    if named == AngleOf::Dihedral && levelled {
        t.wants("side", "write side = \"left\" or \"right\": the sign of the fuselage's roll depends on it");
    }
    Some(RigAngle { name: name?, of, side, design: design?, tolerance, base })
}

/// Whether one of these keys is there and could not be read, which has been reported.
fn unread(t: &Table<'_, '_>, keys: &[(&'static str, bool)]) -> bool {
    keys.iter().any(|(key, read)| !read && t.has(key))
}

fn control(t: &Table<'_, '_>, levelled: bool, names: &mut Names<'_>) -> Option<Control> {
    let name = names.take("control", t.name("name"));
    let laid = t.word("laid", &Laid::WORDS);
    let hinge = |key: &'static str| {
        let angle = t.quantity(key, Kind::Angle).unwrap_or(0.0);
        if angle.abs() > STEEPEST {
            t.refuse(key, "between -80° and 80°");
        }
        angle
    };
    let (hinge_sweep, hinge_dihedral) = (hinge("hinge_sweep"), hinge("hinge_dihedral"));
    let chord = t.positive_length("chord");
    let by = t.word("by", &LengthBy::WORDS);
    let by = match (laid, by, chord) {
        (Some(laid), None, None) => Some(TravelBy::Level { laid, hinge_sweep, hinge_dihedral }),
        (None, Some(by), Some(chord)) => Some(TravelBy::Length { by, chord }),
        // A key that is there and wrong has been reported.
        _ if unread(t, &[("laid", laid.is_some()), ("by", by.is_some()), ("chord", chord.is_some())]) => None,
        _ => {
            t.missing(
                "laid",
                "say how travel is read: laid = \"square\" or \"fore-aft\" for a level, or by = \"chord\" (sine, arc, tangent) and \
                 chord = 250.0 for a length",
            );
            None
        }
    };
    if let Some(TravelBy::Length { .. }) = by {
        for key in ["hinge_sweep", "hinge_dihedral"] {
            t.unused(
                key,
                "left out unless a level is used: a length at the trailing edge is square to the hinge",
            );
        }
    }
    // A symmetric tolerance is not a limit of a travel: no travel would be too small for it.
    let travel = |key: &'static str| {
        let limits = tolerance(t, key, Kind::Angle)?;
        let most = limits.upper.or(limits.lower);
        if limits.lower.or(limits.upper).is_some_and(|least| least <= 0.0)
            || most.is_some_and(|most| most > 180.0)
        {
            t.refuse(key, "limits above zero and up to 180°, as { lower = 19, upper = 21 }");
        }
        Some(limits)
    };
    let (up, down) = (travel("up"), travel("down"));
    let neutral = tolerance(t, "neutral", Kind::Angle);
    match by {
        Some(TravelBy::Length { .. }) => {
            t.refuse("neutral", "left out beside by = and chord =: a length counts from neutral");
        }
        Some(TravelBy::Level { laid: Laid::Square, hinge_sweep, .. }) if levelled && hinge_sweep != 0.0 => t
            .refuse(
                "neutral",
                "left out, or laid = \"fore-aft\": square to a swept hinge, the level also shows part of the fuselage's roll",
            ),
        _ => {}
    }
    let play = t.positive("play", Kind::Length).map(Limits::at_most);
    Some(Control { name: name?, by: by?, neutral, up, down, play })
}

fn mark(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Mark> {
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

fn distance(t: &Table<'_, '_>, marks: &[Mark], names: &mut Names<'_>) -> Option<Distance> {
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

fn symmetry(
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

fn weight(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Weight> {
    let name = names.take("weight", t.name("name"));
    let given = |key: &'static str| t.has(key).then(|| point(t, key));
    let (upright, inverted) = (given("upright"), given("inverted"));
    let (without, with) = (given("without"), given("with"));
    let couple = t.positive("couple", Kind::Torque);
    let own = t.quantity("own_moment", Kind::Torque);
    let design = t.quantity("design", Kind::Angle).unwrap_or(0.0);
    let (built_in, sag) = (tolerance(t, "built_in", Kind::Angle), tolerance(t, "sag", Kind::Angle));
    let response = tolerance(t, "response", Kind::Angle);
    let by = match (upright, inverted, without, with, couple, own) {
        (Some(upright), Some(inverted), None, None, None, None) => {
            WeightBy::TurnedOver { upright: upright?, inverted: inverted? }
        }
        (None, None, Some(without), Some(with), Some(couple), Some(own)) => {
            WeightBy::Couple { without: without?, with: with?, weight_share: own / couple }
        }
        _ => {
            t.missing(
                "upright",
                "give two points, upright and inverted; or without and with a couple, the couple, and \
                    own_moment, the moment of the part's weight about the same line",
            );
            return None;
        }
    };
    if response.is_some() && !matches!(by, WeightBy::Couple { .. }) {
        t.missing("couple", "without a couple there is no response to limit");
    }
    Some(Weight { name: name?, by, design, built_in, sag, response })
}

/// The point that a key names.
fn point(t: &Table<'_, '_>, key: &'static str) -> Option<Point> {
    let Written { text, span } = t.required_text(key)?;
    text.parse::<Point>().map_err(|why| t.mistakes().note(span, Mistake::NotAPoint(why), None)).ok()
}

fn difference(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Difference> {
    let name = names.take("difference", t.name("name"));
    let (of, less) = (point(t, "of"), point(t, "less"));
    // In the quantity of the two points.
    let design = t.any_quantity("design").unwrap_or(0.0);
    let tolerance = tolerance_any(t, "tolerance");
    Some(Difference { name: name?, of: of?, less: less?, design, tolerance })
}
