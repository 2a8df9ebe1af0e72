//! Reads spot checks.

use super::checks::Names;
use super::limits::lower_upper;
use super::mistake::Table;
use crate::plan::{RowPlace, Spot};
use quantity::Kind;
use quantity::table::Written;

const QUANTITIES: [(&str, Kind); 5] = [
    ("angle", Kind::Angle),
    ("length", Kind::Length),
    ("torque", Kind::Torque),
    ("force", Kind::Force),
    ("temperature", Kind::Temperature),
];

/// One spot check, alone or in its place in a row.
pub fn spot(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Spot> {
    let name = names.take("spot check", t.name("name"));
    let quantity = t.required_word("quantity", &QUANTITIES);
    let limits = match quantity {
        Some(kind) => lower_upper(t, kind),
        None => {
            // The quantity is wrong, not the limits: mark them as known.
            t.known("lower");
            t.known("upper");
            None
        }
    };
    let row = match (t.text("row"), t.whole("place")) {
        (Some(Written { text: row, span }), Some(place)) => {
            let hole = Written { text: format!("{row}, place {place}"), span };
            names.take("hole at the same place of a row", Some(hole));
            Some(RowPlace { row, place })
        }
        (None, None) => None,
        (row, _) => {
            let absent = if row.is_none() { "row" } else { "place" };
            t.missing(absent, "a hole of a row has both: row = \"...\" and place = 1");
            None
        }
    };
    Some(Spot { name: name?, quantity: quantity?, limits, row })
}
