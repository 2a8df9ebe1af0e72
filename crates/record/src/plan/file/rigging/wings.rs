//! Reads wings built in a jig.

use super::super::checks::Names;
use super::super::limits::tolerance;
use super::super::mistake::{Mistake, Table};
use super::derived::point;
use crate::PointKind;
use crate::plan::{Plan, RigStation, RigWing, Side};
use quantity::Kind;

/// Checks that each station of a wing is read again at an incidence of the aeroplane.
pub fn check_wings(root: &Table<'_, '_>, plan: &Plan) {
    for (i, wing) in plan.rigging.wings.iter().enumerate() {
        let note = |what| root.mistakes().note(root.span_of("wing", i, "station"), what, None);
        for (k, station) in wing.stations.iter().enumerate() {
            let point = &station.read;
            if point.kind() != PointKind::RigIncidence || plan.quantity_of(point).is_none() {
                note(Mistake::NoIncidence(point.clone()));
            }
            if wing.stations.iter().take(k).any(|s| s.name == station.name || s.read == *point) {
                note(Mistake::StationTwice { station: station.name.clone(), point: point.clone() });
            }
        }
    }
}

/// Reads a wing whose log is taken up.
pub fn wing(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<RigWing> {
    let name = names.take("wing", t.name("name"));
    let side = t.required_word("side", &Side::OF_A_WING);
    let (serial, drawing, issue) = (t.string("serial"), t.string("drawing"), t.string("issue"));
    let given = t.count("station");
    let stations = t.list("station", "a station of the wing", |row| {
        let (name, read) = (row.required_text("name"), point(row, "read"));
        Some(RigStation { name: name?.text, read: read? })
    });
    if given == 1 {
        t.missing("station", "give two stations or more, the inner one first: twist counts from there");
    }
    let change = tolerance(t, "change", Kind::Angle);
    if change.is_some() && given == 0 {
        t.missing(
            "station",
            "say where it is read again: [{ name = \"S1\", read = \"rig-incidence@left root\" }, ...]",
        );
    }
    Some(RigWing { name: name?, side: side?, serial, drawing, issue, stations, change })
}
