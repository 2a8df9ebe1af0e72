//! What changed since the stage before.

use crate::flow::{Cell, Column, Flow, Row, Style, Table};
use crate::number::significance;
use assess::view::{Changes, PreviousTwist};
use quantity::shown::{WithU, exact};

pub(crate) fn changes(flow: &mut Flow<'_>, changes: &Changes, previous: Option<&PreviousTwist>) {
    let parts = changes.parts.iter().map(|c| row(c.part.as_str(), None, c.change_deg, c.u_deg, c.p, c.real));
    let stations = changes
        .stations
        .iter()
        .map(|c| row(c.name.as_str(), Some(c.span_mm), c.change_deg, c.u_deg, c.p, c.real));
    let columns = vec![
        Column::text("", 130.0),
        Column::figures("span\nmm"),
        Column::figures("change\n°, now less then"),
        Column::figures("±95 %"),
        Column::figures("p"),
        Column::text("more than measurement?", 120.0),
    ];
    let rows = parts.chain(stations).collect();
    let table = Table { name: "What changed since the stage before", columns, rows, size: 8.0 };
    flow.section(table.name, 30.0 + flow.table_keep(&table), |flow| {
        flow.paragraph(&words(changes, previous), Style::BODY);
        flow.table(&table);
    });
}

fn words(changes: &Changes, previous: Option<&PreviousTwist>) -> String {
    let then = previous.filter(|p| p.stage == changes.since).map_or_else(String::new, |p| {
        let figure = |v: Option<assess::view::ValueU>| {
            v.map_or_else(|| "not known".to_owned(), |v| WithU::of_u(v.value, v.u).signed_with("deg"))
        };
        format!(" Then the setting was {}, the washout error {}.", figure(p.setting), figure(p.washout_error))
    });
    format!(
        "Compared with the stage {}. A station’s change counts as more than measurement where p is under {}, which is 5 % in \
         all shared among the stations.{then}",
        changes.since,
        significance(changes.station_alpha),
    )
}

fn row(name: &str, span: Option<f64>, change: f64, u: f64, p: f64, real: bool) -> Row {
    let change = WithU::of_u(change, u);
    Row::new(vec![
        Cell::text(name),
        Cell::maybe(span.map(exact)),
        Cell::text(change.signed()),
        Cell::text(change.half()),
        Cell::text(significance(p)),
        if real { Cell::Strong("yes, it moved".to_owned()) } else { Cell::text("no") },
    ])
}
