//! The comparison sheet on its pages.

use crate::Stamp;
use crate::draw::{Anchor, Drawing, Ink, Role, Shape};
use crate::fingerprint::Fingerprint;
use crate::flow::{Cell, Column, Flow, Row, Style, Table};
use crate::number::significance;
use crate::part::{self, Running, foot, judged, short_caution};
use crate::plot::{Frame, PAPER_TEXT, difference};
use crate::text::{Face, Typesetter};
use assess::view::{Comparison, ComparisonKind, ComparisonRow};
use quantity::shown::{exact, signed};

/// Height of the plot.
const PLOT: f64 = 250.0;

pub(super) fn draw(
    comparison: &Comparison,
    stamp: &Stamp,
    logs: &[Fingerprint],
    set: &Typesetter,
) -> Drawing {
    let mut flow = Flow::new(set, stamp.paper);
    head(&mut flow, comparison, stamp);
    if !comparison.stations.is_empty() {
        let frame = Frame { x: flow.left(), y: flow.y, width: flow.width(), height: PLOT, text: PAPER_TEXT };
        let picture = difference(set, comparison, &frame);
        let about = set.visible(&picture.about).into_owned();
        flow.group(Role::Figure(about), |flow| flow.mark(picture.shapes));
        flow.y += PLOT + 4.0;
    }
    let table = table(comparison);
    flow.section("Differences", 24.0 + flow.table_keep(&table), |flow| {
        let words = format!(
            "A less B, in degrees. A station’s difference counts as more than measurement where p is under {}, which is 5 % \
             in all shared among the stations; a part’s where p is under 0.05.",
            significance(comparison.station_alpha),
        );
        flow.paragraph(&words, Style::BODY);
        flow.table(&table);
        flow.list(comparison.remarks.iter().map(String::as_str), Style::BODY);
    });
    flow.gap(8.0);
    flow.need(40.0);
    short_caution(&mut flow);
    part::spelled(&mut flow);
    let text = format!("A: {}   ·   B: {}", comparison.first, comparison.second);
    let running = Running { text: set.visible(&text).into_owned(), before_gate: "", gate: String::new() };
    flow.finish(|set, index, pages, width, height| {
        let mut shapes = foot::foot(set, logs, &stamp.program, (index, pages), width, height);
        if index > 0 {
            shapes.extend(foot::head(set, &running, width));
        }
        shapes
    })
}

fn head(flow: &mut Flow<'_>, comparison: &Comparison, stamp: &Stamp) {
    let (left, right, y) = (flow.left(), flow.left() + flow.width(), flow.y + 9.0);
    let kind = flow.set.visible(&stamp.title).into_owned();
    let last = flow.set.visible(&stamp.last_entry()).into_owned();
    flow.group(Role::Paragraph, |flow| {
        flow.mark(vec![
            Shape::text(left, y, 9.0, Face::Bold, kind).inked(Ink::Slate),
            Shape::text(right, y, 8.0, Face::Book, last).inked(Ink::Slate).anchored(Anchor::End),
        ]);
    });
    flow.y += 15.0;
    let title = match comparison.kind {
        ComparisonKind::Stages => "Two stages of one wing",
        ComparisonKind::Sides => "Left and right wing",
    };
    flow.bookmark(title);
    flow.group(Role::Heading(1, title.to_owned()), |flow| {
        flow.lines(&[title.to_owned()], Style { face: Face::Bold, size: 18.0, ..Style::BODY });
    });
    for (letter, name) in [("A", &comparison.first), ("B", &comparison.second)] {
        flow.paragraph(&format!("{letter}: {name}"), Style { size: 9.5, ..Style::BODY });
    }
    flow.y += 6.0;
}

fn table(comparison: &Comparison) -> Table {
    let mut columns = vec![
        Column::text("", 110.0),
        Column::figures("span\nmm"),
        Column::figures("A"),
        Column::figures("B"),
    ];
    columns.extend(judged::columns());
    columns.extend([Column::figures("p"), Column::text("more than\nmeasurement?", 80.0)]);
    if let Some(value) = columns.get_mut(4) {
        value.head = "difference";
    }
    let rows = comparison.parts.iter().chain(&comparison.stations).map(row).collect();
    Table { name: "Differences", columns, rows, size: 8.0 }
}

fn row(r: &ComparisonRow) -> Row {
    let figure = |v: f64| Cell::text(signed(v, r.difference.with_u().decimals()));
    let first = [
        Cell::text(r.name.as_str()),
        Cell::maybe(r.span_mm.map(exact)),
        figure(r.first_deg),
        figure(r.second_deg),
    ];
    let mut row = judged::row(first, &r.difference);
    row.cells.push(Cell::text(significance(r.p)));
    row.cells.push(if r.real { Cell::Strong("yes".to_owned()) } else { Cell::text("no") });
    row
}
