//! Straightness of the spars.

use crate::flow::{Cell, Column, Flow, Row, Table};
use crate::part::judged;
use assess::view::SparView;
use quantity::shown::{WithU, exact, fixed};

pub(super) fn spars(flow: &mut Flow<'_>, spars: &[SparView]) {
    flow.section("Straightness of the spars", 60.0, |flow| {
        let columns = [
            Column::text("spar", 90.0),
            Column::words("measured by", 1.0),
            Column::figures("least\nsquares, mm"),
            Column::figures("end\npoints, mm"),
            Column::figures("sag taken\nout, mm"),
        ]
        .into_iter()
        .chain(judged::columns())
        .collect();
        let rows = spars.iter().map(summary).collect();
        flow.table(&Table {
            name: "Straightness of the spars (minimum zone, ISO 1101)",
            columns,
            rows,
            size: 7.5,
        });
        let columns = vec![
            Column::words("spar", 1.0),
            Column::words("station", 1.0),
            Column::figures("span\nmm"),
            Column::figures("offset from the middle\nof the zone, mm"),
            Column::figures("±95 %"),
        ];
        let rows = spars.iter().flat_map(offsets).collect();
        flow.table(&Table { name: "Offsets of the spars", columns, rows, size: 7.5 });
    });
}

fn summary(spar: &SparView) -> Row {
    let places = spar.minimum_zone.with_u().decimals();
    let cells = [
        Cell::text(spar.spar.as_str()),
        Cell::text(spar.method.words()),
        Cell::text(fixed(spar.least_squares_mm, places)),
        Cell::text(fixed(spar.end_point_mm, places)),
        Cell::text(fixed(spar.sag_mm, places)),
    ];
    judged::row(cells, &spar.minimum_zone)
}

fn offsets(spar: &SparView) -> impl Iterator<Item = Row> {
    spar.offsets.iter().map(|o| {
        let offset = WithU::of_u(o.offset_mm, o.u_mm);
        Row::new(vec![
            Cell::text(spar.spar.as_str()),
            Cell::text(o.station.as_str()),
            Cell::text(exact(o.span_mm)),
            Cell::text(offset.signed()),
            Cell::text(offset.half()),
        ])
    })
}
