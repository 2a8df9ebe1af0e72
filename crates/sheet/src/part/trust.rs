//! What an inspector asks for: instruments, zeros, moves, withdrawals, open things, sign-offs.

mod instruments;
mod signatures;

use crate::flow::{Cell, Column, Flow, Row, Style, Table};
use assess::Assessment;
use assess::view::{MoveView, OpenItemView, WithdrawnView};
use quantity::shown::fixed;
use record::OpenAction;

pub(crate) fn trust(flow: &mut Flow<'_>, assessment: &Assessment) {
    instruments::instruments(flow, &assessment.instruments);
    instruments::zeros(flow, &assessment.zeros);
    moves(flow, &assessment.moves);
    withdrawn(flow, &assessment.withdrawn);
    open(flow, &assessment.open_items);
    signatures::signatures(flow, &assessment.signatures);
}

/// A section with a table, or with one sentence where there is nothing to tell.
fn section(flow: &mut Flow<'_>, name: &'static str, nothing: &str, columns: Vec<Column>, rows: Vec<Row>) {
    if rows.is_empty() {
        flow.section(name, 0.0, |flow| flow.paragraph(nothing, Style::BODY));
        return;
    }
    let table = Table { name, columns, rows, size: 7.5 };
    flow.section(name, flow.table_keep(&table), |flow| flow.table(&table));
}

fn moves(flow: &mut Flow<'_>, moves: &[MoveView]) {
    let row = |m: &MoveView| {
        Row::new(vec![
            Cell::text(m.entry.to_string()),
            Cell::text(m.at.as_str()),
            Cell::text(m.by.as_str()),
            Cell::text(m.support.as_str()),
            Cell::text(fixed(m.amount_mm, 3)),
            Cell::text(m.text.as_str()),
        ])
    };
    let columns = vec![
        Column::count("entry"),
        Column::text("when", 100.0),
        Column::text("by", 90.0),
        Column::text("support or foot", 110.0),
        Column::figures("moved\nmm"),
        Column::words("as written", 1.0),
    ];
    section(flow, "Moves made", "No support was moved.", columns, moves.iter().map(row).collect());
}

fn withdrawn(flow: &mut Flow<'_>, withdrawn: &[WithdrawnView]) {
    let row = |w: &WithdrawnView| {
        Row::new(vec![
            Cell::text(w.entry.to_string()),
            Cell::text(w.what.as_str()),
            Cell::text(w.at.as_str()),
            Cell::text(w.by.as_str()),
            Cell::text(w.reason.as_str()),
        ])
    };
    let columns = vec![
        Column::count("entry"),
        Column::words("what it was", 0.8),
        Column::text("withdrawn", 100.0),
        Column::text("by", 90.0),
        Column::words("reason", 1.0),
    ];
    section(
        flow,
        "Withdrawn readings",
        "Nothing was withdrawn.",
        columns,
        withdrawn.iter().map(row).collect(),
    );
}

fn open(flow: &mut Flow<'_>, items: &[OpenItemView]) {
    let row = |item: &OpenItemView| {
        let state = match item.action {
            OpenAction::Opened => Cell::Strong("open".to_owned()),
            OpenAction::Closed => Cell::text("closed"),
            OpenAction::Carried => Cell::Strong("carried past".to_owned()),
        };
        Row::new(vec![
            Cell::text(item.item.as_str()),
            state,
            Cell::maybe(item.stage.as_deref()),
            Cell::maybe(item.reason.as_deref()),
        ])
    };
    let columns = vec![
        Column::words("left open on purpose", 1.0),
        Column::text("now", 70.0),
        Column::text("since the stage", 110.0),
        Column::words("why, or by what", 1.0),
    ];
    section(
        flow,
        "Open items",
        "Nothing was left open on purpose.",
        columns,
        items.iter().map(row).collect(),
    );
}
