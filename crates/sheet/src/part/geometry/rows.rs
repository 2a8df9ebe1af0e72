//! Rows of spot checks.

use crate::flow::{Cell, Column, Flow, Row, Table};
use crate::number::significance;
use assess::view::RowView;
use quantity::shown::{fixed, unit_sign};

pub(super) fn rows(flow: &mut Flow<'_>, rows: &[RowView]) {
    let columns = vec![
        Column::words("row", 1.0),
        Column::count("values"),
        Column::text("unit", 40.0),
        Column::figures("mean"),
        Column::figures("standard\ndeviation"),
        Column::figures("spread"),
        Column::figures("trend\nper place"),
        Column::figures("p"),
        Column::figures("worst step"),
        Column::count("after\nplace"),
    ];
    let rows = rows.iter().map(row).collect();
    super::tabled(flow, Table { name: "Rows of spot checks", columns, rows, size: 7.5 });
}

fn row(view: &RowView) -> Row {
    let places = 3;
    let figure = |v: f64| fixed(v, places);
    let values: Vec<String> =
        view.values.iter().map(|v| format!("{}: {}", v.place, figure(v.value))).collect();
    Row::new(vec![
        Cell::text(view.row.as_str()),
        Cell::text(view.values.len().to_string()),
        Cell::text(unit_sign(view.unit.base_symbol())),
        Cell::text(figure(view.mean)),
        Cell::text(figure(view.sd)),
        Cell::text(figure(view.spread)),
        Cell::maybe(view.trend.map(|t| fixed(t.slope, places + 1))),
        Cell::maybe(view.trend.map(|t| significance(t.p))),
        Cell::maybe(view.worst_step.map(|s| figure(s.step))),
        Cell::maybe(view.worst_step.map(|s| s.after.to_string())),
    ])
    .noted((!values.is_empty()).then(|| values.join("   ")))
}
