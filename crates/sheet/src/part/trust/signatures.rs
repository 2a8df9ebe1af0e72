//! Sign-offs recorded in the log.

use super::section;
use crate::flow::{Cell, Column, Flow, Row};
use assess::view::SignView;
use record::GateState;
use record::hex::{four_words, grouped};

pub(super) fn signatures(flow: &mut Flow<'_>, signatures: &[SignView]) {
    let row = |s: &SignView| {
        let gate = match s.gate {
            GateState::Clear => Cell::text("clear"),
            GateState::Hold => Cell::Strong("hold: seen, not cleared".to_owned()),
        };
        let key = match &s.key {
            Some(key) => format!("{}; the whole key: {key}", s.seal_words()),
            None => s.seal_words(),
        };
        Row::new(vec![
            Cell::text(s.entry.to_string()),
            Cell::text(s.when.as_str()),
            Cell::text(s.who.as_str()),
            Cell::text(s.capacity.as_str()),
            Cell::text(s.statement.as_str()),
            gate,
            Cell::text(s.entries_since.to_string()),
        ])
        .noted(Some(format!("log then {} {}", grouped(&s.head, 32), four_words(&s.head))))
        .noted(Some(key))
    };
    let columns = vec![
        Column::count("entry"),
        Column::text("when", 100.0),
        Column::text("who", 90.0),
        Column::text("capacity", 80.0),
        Column::words("statement", 1.0),
        Column::text("gate then", 70.0),
        Column::count("entries\nsince"),
    ];
    let rows = signatures.iter().map(row).collect();
    section(flow, "Sign-offs in the log", "No sign-off is recorded.", columns, rows);
}
