//! The shaft in its bushes.

use crate::flow::{Cell, Column, Flow, Row, Style, Table};
use crate::part::judged;
use assess::Verdict;
use assess::view::{BoreLine, BushView};
use quantity::shown::{exact, fixed};

pub(super) fn bores(flow: &mut Flow<'_>, line: &BoreLine) {
    flow.section("The shaft in its bushes", 60.0, |flow| {
        let passes = if line.passes { "goes through" } else { "does not go through" };
        flow.paragraph(&format!("A straight {} {passes}.", line.shaft), Style::BODY);
        let columns = [Column::words("", 1.0)].into_iter().chain(judged::columns()).collect();
        let rows = vec![judged::row([Cell::text(line.clearance.what.as_str())], &line.clearance)];
        flow.table(&Table { name: "Clearance of the shaft", columns, rows, size: 8.0 });
        flow.list(line.advice.iter().map(String::as_str), Style::BODY);
        let settled = line.clearance.verdict == Some(Verdict::Within);
        flow.table(&bushes(&line.bushes, settled).without_empty_columns());
    });
}

/// The bushes; what shift would help is told only where one is needed.
fn bushes(bushes: &[BushView], settled: bool) -> Table {
    let row = |b: &BushView| {
        let figure = |v: f64| Cell::text(fixed(v, 3));
        let shift = b.shift_mm.map(|s| format!("{} aft, {} up", fixed(s.aft, 3), fixed(s.up, 3)));
        Row::new(vec![
            Cell::text(b.bush.as_str()),
            Cell::text(exact(b.span_mm)),
            figure(b.bore_mm),
            figure(b.aft_mm),
            figure(b.up_mm),
            figure(b.line_aft_mm),
            figure(b.line_up_mm),
            figure(b.clearance_mm),
            if settled { Cell::Empty } else { Cell::text(shift.unwrap_or_else(|| "none alone".to_owned())) },
        ])
    };
    let heads =
        ["span\nmm", "bore\nmm", "centre\naft", "centre\nup", "line\naft", "line\nup", "clearance\nmm"];
    let columns = [Column::text("bush", 90.0)]
        .into_iter()
        .chain(heads.map(Column::figures))
        .chain([Column::words("smallest shift that helps, mm", 1.0)])
        .collect();
    Table { name: "Bushes", columns, rows: bushes.iter().map(row).collect(), size: 7.5 }
}
