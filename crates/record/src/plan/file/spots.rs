//! Reads spot checks.

use super::checks::Names;
use super::limits::lower_upper;
use super::mistake::Table;
use crate::plan::{RowPlace, Spot};
use quantity::Kind;
use quantity::table::Written;

/// One spot check, alone or in its place in a row.
pub fn spot(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Spot> {
    let name = names.take("spot check", t.name("name"));
    let quantity = t.required_word("quantity", &Kind::WORDS);
    let limits = match quantity {
        Some(kind) => lower_upper(t, kind),
        None => {
            // The quantity is wrong, not the limits: mark them as known.
            t.known("lower");
            t.known("upper");
            None
        }
    };
    let right = "a hole of a row has both: row = \"...\" and place = 1";
    let row = t.both(("row", t.text("row")), ("place", t.whole("place")), right);
    let row = row.map(|(Written { text: row, span }, place)| {
        let hole = Written { text: format!("{row}, place {place}"), span };
        names.take("hole at the same place of a row", Some(hole));
        RowPlace { row, place }
    });
    Some(Spot { name: name?, quantity: quantity?, limits, row })
}
