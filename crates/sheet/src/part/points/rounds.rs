//! The rounds the readings in use come from: with what, by whom, when.

use crate::flow::{Cell, Column, Flow, Row, Table};
use assess::view::PointView;
use std::collections::BTreeMap;

/// Round, instrument, person.
type Key<'a> = (Option<u32>, Option<&'a str>, Option<&'a str>);

/// Points of one round with one instrument and one person.
#[derive(Default)]
struct Walk<'a> {
    points: usize,
    readings: usize,
    first: Option<&'a str>,
    last: Option<&'a str>,
}

pub(super) fn rounds(flow: &mut Flow<'_>, points: &[PointView]) {
    let mut walks: BTreeMap<Key<'_>, Walk<'_>> = BTreeMap::new();
    for p in points.iter().filter(|p| p.value.is_some()) {
        let walk = walks.entry((p.round, p.instrument.as_deref(), p.by.as_deref())).or_default();
        walk.points += 1;
        walk.readings += p.readings;
        // ISO 8601 in UTC: the order of the text is the order of time.
        let at = p.at.as_deref();
        walk.first = [walk.first, at].into_iter().flatten().min();
        walk.last = walk.last.max(at);
    }
    if walks.is_empty() {
        return;
    }
    let row = |((round, instrument, by), walk): (&Key<'_>, &Walk<'_>)| {
        Row::new(vec![
            Cell::text(round.map_or_else(|| "none".to_owned(), |r| r.to_string())),
            Cell::text(instrument.unwrap_or("not named")),
            Cell::text(by.unwrap_or("not named")),
            Cell::text(walk.points.to_string()),
            Cell::text(walk.readings.to_string()),
            Cell::maybe(walk.first),
            Cell::maybe(walk.last),
        ])
    };
    let columns = vec![
        Column::count("round"),
        Column::words("instrument", 1.0),
        Column::words("by", 1.0),
        Column::count("points"),
        Column::count("readings"),
        Column::text("first point completed", 110.0),
        Column::text("last point completed", 110.0),
    ];
    let table = Table { name: "Rounds in use", columns, rows: walks.iter().map(row).collect(), size: 7.5 };
    flow.section(table.name, flow.table_keep(&table), |flow| flow.table(&table));
}
