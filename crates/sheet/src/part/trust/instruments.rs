//! Instruments used and the zeros found in them.

use super::section;
use crate::flow::{Cell, Column, Flow, Row};
use assess::view::{InstrumentView, ZeroView};
use quantity::shown::{WithU, exact, fixed, unit_sign};

pub(super) fn instruments(flow: &mut Flow<'_>, instruments: &[InstrumentView]) {
    let row = |i: &InstrumentView| {
        let past = if i.past_due > 0 { Cell::Strong(i.past_due.to_string()) } else { Cell::text("0") };
        let day = |day: &Option<String>| Cell::text(day.as_deref().unwrap_or("not known"));
        Row::new(vec![
            Cell::text(i.name.as_str()),
            Cell::maybe(i.number.as_deref()),
            Cell::text(i.unit.map_or("", |unit| unit_sign(unit.base_symbol()))),
            Cell::text(exact(i.resolution)),
            Cell::maybe(i.accuracy.map(exact)),
            Cell::maybe(i.repeatability.map(exact)),
            day(&i.checked),
            day(&i.due),
            Cell::text(i.readings.to_string()),
            past,
        ])
    };
    let columns = vec![
        Column::words("instrument", 1.0),
        Column::text("number", 70.0),
        Column::text("unit", 30.0),
        Column::figures("shows\nsteps of"),
        Column::figures("limit\nof error"),
        Column::figures("repeats\nwithin"),
        Column::text("last check", 70.0),
        Column::text("due", 70.0),
        Column::count("readings\nin use"),
        Column::count("of these\npast due"),
    ];
    let rows = instruments.iter().map(row).collect();
    section(flow, "Instruments", "No reading in use names an instrument.", columns, rows);
}

pub(super) fn zeros(flow: &mut Flow<'_>, zeros: &[ZeroView]) {
    let row = |z: &ZeroView| {
        let zero = WithU::of_u(z.zero_deg, z.u_deg);
        Row::new(vec![
            Cell::text(z.instrument.as_str()),
            Cell::text(z.round.to_string()),
            Cell::text(z.pairs.to_string()),
            Cell::text(zero.signed()),
            Cell::text(zero.half()),
            Cell::text(fixed(z.spread_deg, zero.decimals())),
            if z.moved { Cell::Strong("yes".to_owned()) } else { Cell::text("no") },
        ])
    };
    let columns = vec![
        Column::words("instrument", 1.0),
        Column::count("round"),
        Column::count("pairs"),
        Column::figures("zero\n°"),
        Column::figures("±95 %"),
        Column::figures("largest less\nsmallest, °"),
        Column::text("moved within the round?", 120.0),
    ];
    let rows = zeros.iter().map(row).collect();
    section(flow, "Zeros found by reversing", "No instrument was reversed.", columns, rows);
}
