//! Reads the wing as a whole and its stations.

use super::checks::Names;
use super::mistake::{Mistake, Table};
use crate::plan::{Attitude, Identity, Material, PlumbSide, Side, Station, Wing};
use quantity::{Degrees, Kind, Millimetres};

/// Largest thermal expansion of anything a wing is made of, per kelvin.
const MOST_EXPANSION: f64 = 1e-3;

/// Reads the wing as a whole; root and tip datum are the first and the last station unless given.
pub fn wing(t: &Table<'_, '_>, stations: &[Station]) -> Option<Wing> {
    let name = t.required_text("name").map(|name| name.text);
    let side = t.required_word("side", &Side::OF_A_WING);
    let attitude = t.word("attitude", &Attitude::WORDS);
    let plumb = t.word("plumb_side", &PlumbSide::WORDS);
    let root = t.length("root").or(stations.first().map(|s| s.span));
    let tip = t.length("tip").or(stations.last().map(|s| s.span));
    if let (Some(root), Some(tip)) = (root, tip)
        && root >= tip
        && let Some(at) = t.value("root").or(t.value("tip"))
    {
        t.mistakes().note(at.span(), Mistake::DatumOrder { root: root.value(), tip: tip.value() }, None);
    }
    let material = t.inside("material", "[wing.material]", material).flatten();
    let (note, identity) = papers(t);
    Some(Wing {
        name: name?,
        side: side?,
        attitude: attitude.unwrap_or(Attitude::ChordLevel),
        root: root?,
        tip: tip?,
        material,
        plumb,
        note,
        identity,
    })
}

/// Reads the aeroplane in place of a wing: it has sides and parts, and need not have stations.
pub fn aeroplane(t: &Table<'_, '_>) -> Option<Wing> {
    let name = t.required_text("name").map(|name| name.text);
    let material = t.inside("material", "[aeroplane.material]", material).flatten();
    let (note, identity) = papers(t);
    Some(Wing {
        name: name?,
        side: Side::Both,
        attitude: Attitude::ChordLevel,
        plumb: None,
        root: Millimetres::new(0.0),
        tip: Millimetres::new(1.0),
        material,
        note,
        identity,
    })
}

/// Reads the remark and the identity for the papers.
fn papers(t: &Table<'_, '_>) -> (Option<String>, Identity) {
    let identity = Identity {
        serial: t.string("serial"),
        drawing: t.string("drawing"),
        issue: t.string("issue"),
        place: t.string("place"),
    };
    (t.string("note"), identity)
}

fn material(t: &Table<'_, '_>) -> Option<Material> {
    let expansion = t
        .wants("expansion", "write expansion = 23.0e-6, per kelvin, from the material's data")
        .number_within("expansion", MOST_EXPANSION);
    let expansion_u = t.number_within("expansion_u", MOST_EXPANSION).unwrap_or(0.0);
    Some(Material { expansion: expansion?, expansion_u })
}

pub fn station(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Station> {
    let name = names.take("station", t.name("name"));
    let span = t.required_length("span");
    let chord = t.required_length("chord");
    let incidence = t.required("incidence", Kind::Angle);
    if span.is_some_and(|span| span.value() < 0.0) {
        t.refuse("span", "zero or more: spans are counted outboard");
    }
    if chord.is_some_and(|chord| chord.value() <= 0.0) {
        t.refuse("chord", "above zero");
    }
    let fixture = t.quantity("fixture", Kind::Angle);
    let height_angle = t.quantity("height_angle", Kind::Angle);
    for (key, angle) in [("incidence", incidence), ("height_angle", height_angle)] {
        if angle.is_some_and(|a| a.abs() >= 90.0) {
            t.refuse(key, "between -90° and 90°");
        }
    }
    // A wing on edge is measured on a face square to the chord.
    if fixture.is_some_and(|a| a.abs() > 180.0) {
        t.refuse("fixture", "from -180° to 180°");
    }
    Some(Station {
        name: name?,
        span: span?,
        chord: chord?,
        incidence: Degrees::new(incidence?),
        fixture: Degrees::new(fixture.unwrap_or(0.0)),
        height_angle: Degrees::new(height_angle.unwrap_or(0.0)),
    })
}
