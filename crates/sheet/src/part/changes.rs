//! What changed since the stage before.

use crate::flow::{Cell, Column, Flow, Row, Style, Table};
use crate::number::{decimals, exact, probability, rounded};
use assess::view::{Changes, PreviousTwist};

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
        Column::figures("u"),
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
        let figure = |v: assess::view::ValueU| {
            let places = decimals("deg", Some(v.u));
            format!("{}° (u {})", rounded(v.value, places), rounded(v.u, places))
        };
        format!(" Then the setting was {}, the washout error {}.", figure(p.setting), figure(p.washout_error))
    });
    format!(
        "Compared with the stage {}. A station’s change counts as more than measurement where p is under {}, which is 5 % in \
         all shared among the stations.{then}",
        changes.since,
        probability(changes.station_alpha),
    )
}

fn row(name: &str, span: Option<f64>, change: f64, u: f64, p: f64, real: bool) -> Row {
    let places = decimals("deg", Some(u));
    Row::new(vec![
        Cell::text(name),
        Cell::maybe(span.map(exact)),
        Cell::text(rounded(change, places)),
        Cell::text(rounded(u, places)),
        Cell::text(probability(p)),
        if real { Cell::Strong("yes, it moved".to_owned()) } else { Cell::text("no") },
    ])
}
