//! Reads the rigged aeroplane.

mod cables;
mod controls;
mod derived;
mod distances;
mod wings;

pub use derived::check_differences;
pub use wings::{check_wings, wing};

use super::checks::Names;
use super::limits::tolerance;
use super::mistake::Table;
use crate::plan::{AngleOf, Fuselage, RigAngle, Rigging, Side};
use quantity::Kind;

/// Reads everything rigged, except the wings whose logs are taken up.
pub fn rigging(root: &Table<'_, '_>, names: &mut Names<'_>) -> Rigging {
    let fuselage = root.inside("fuselage", "[fuselage]", fuselage).flatten();
    let angles = root.list("angle", "an [[angle]]", |t| angle(t, fuselage.is_some(), names));
    let controls = root.list("control", "a [[control]]", |t| controls::control(t, fuselage.as_ref(), names));
    let cables = root.list("cable", "a [[cable]]", |t| cables::cable(t, names));
    let bolts = root.list("bolt", "a [[bolt]]", |t| cables::bolt(t, names));
    let marks = root.list("mark", "a [[mark]]", |t| distances::mark(t, names));
    let distances = root.list("distance", "a [[distance]]", |t| distances::distance(t, &marks, names));
    let symmetries =
        root.list("symmetry", "a [[symmetry]]", |t| distances::symmetry(t, &marks, &distances, names));
    let differences = root.list("difference", "a [[difference]]", |t| derived::difference(t, names));
    let weights = root.list("weight", "a [[weight]]", |t| derived::weight(t, names));
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
