//! Straightness, level, squareness, spacing, bores, rows: only those the wing has.

mod bores;
mod rows;
mod spars;

use super::judged;
use crate::flow::{Cell, Column, Flow, Table};
use assess::Assessment;
use assess::view::{BayView, PostView, SpacingView, Tilt};
use quantity::shown::{exact, fixed};

pub(crate) fn geometry(flow: &mut Flow<'_>, assessment: &Assessment) {
    if !assessment.posts.is_empty() {
        posts(flow, &assessment.posts);
    }
    if !assessment.spars.is_empty() {
        spars::spars(flow, &assessment.spars);
    }
    if !assessment.bays.is_empty() {
        bays(flow, &assessment.bays);
    }
    if !assessment.spacing.is_empty() {
        spacing(flow, &assessment.spacing);
    }
    if let Some(line) = &assessment.bore_line {
        bores::bores(flow, line);
    }
    if !assessment.rows.is_empty() {
        rows::rows(flow, &assessment.rows);
    }
}

/// A section that is one table.
fn tabled(flow: &mut Flow<'_>, table: Table) {
    flow.section(table.name, flow.table_keep(&table), |flow| flow.table(&table));
}

fn posts(flow: &mut Flow<'_>, posts: &[PostView]) {
    let tilt = |post: &PostView, direction: &str, tilt: &Tilt| {
        let cells = [Cell::text(post.post.as_str()), Cell::text(exact(post.span_mm)), Cell::text(direction)];
        let moves = (!tilt.moves.is_empty()).then(|| format!("To level it: {}.", tilt.moves.join("; then ")));
        judged::row(cells, &tilt.tilt).noted(moves)
    };
    let rows = posts
        .iter()
        .flat_map(|post| {
            let along = post.level.as_ref().map(|t| tilt(post, "along the span, outboard up", t));
            let across = post.cross.as_ref().map(|t| tilt(post, "fore and aft, leading edge up", t));
            along.into_iter().chain(across)
        })
        .collect();
    let columns = [Column::text("post", 110.0), Column::figures("span\nmm"), Column::words("tilt", 1.0)]
        .into_iter()
        .chain(judged::columns())
        .collect();
    tabled(flow, Table { name: "Level of the jig", columns, rows, size: 8.0 });
}

fn bays(flow: &mut Flow<'_>, bays: &[BayView]) {
    let row = |bay: &BayView| {
        let cells = [Cell::text(bay.bay.as_str()), Cell::text(fixed(bay.difference_mm, 3))];
        judged::row(cells, &bay.out_of_square)
    };
    let columns = [Column::words("bay", 1.0), Column::figures("diagonals differ\nmm")]
        .into_iter()
        .chain(judged::columns())
        .collect();
    let rows = bays.iter().map(row).collect();
    tabled(flow, Table { name: "Squareness", columns, rows, size: 8.0 });
}

fn spacing(flow: &mut Flow<'_>, spacing: &[SpacingView]) {
    let row = |s: &SpacingView| {
        let places = s.deviation.with_u().decimals();
        let cells = [
            Cell::text(s.station.as_str()),
            Cell::text(exact(s.design_mm)),
            Cell::text(fixed(s.measured_mm, places)),
            Cell::text(fixed(s.correction_mm, places)),
            Cell::maybe(s.gap_deviation_mm.map(|v| fixed(v, places))),
        ];
        judged::row(cells, &s.deviation)
    };
    let columns = [
        Column::words("station", 1.0),
        Column::figures("design\nmm"),
        Column::figures("measured at\n20 °C, mm"),
        Column::figures("correction\nmm"),
        Column::figures("gap to the\none before"),
    ]
    .into_iter()
    .chain(judged::columns())
    .collect();
    let rows = spacing.iter().map(row).collect();
    tabled(flow, Table { name: "Distance from the root datum", columns, rows, size: 7.5 });
}
