//! The comparison sheet on its pages.

use super::{CompareRow, CompareView};
use crate::Stamp;
use crate::draw::{Anchor, Drawing, Ink, Role, Shape};
use crate::fingerprint::Fingerprint;
use crate::flow::{Cell, Column, Flow, Row, Style, Table};
use crate::number::{decimals, exact, limits, probability, rounded, unit_word};
use crate::part::{self, Running, foot, short_caution};
use crate::plot::{Frame, difference};
use crate::text::{Face, Typesetter};

pub(super) fn draw(view: &CompareView, stamp: &Stamp, logs: &[Fingerprint], set: &Typesetter) -> Drawing {
    let mut flow = Flow::new(set, stamp.paper);
    head(&mut flow, view, stamp);
    let height = 250.0;
    if view.rows.iter().any(|r| r.span_mm.is_some() && r.difference.is_some()) {
        let frame = Frame { x: flow.left(), y: flow.y, width: flow.width(), height, text: 7.5 };
        let picture = difference(set, view, &frame);
        flow.group(Role::Figure(picture.about), |flow| flow.mark(picture.shapes));
        flow.y += height + 4.0;
    }
    flow.section("Differences", 50.0, |flow| {
        flow.paragraph(&view.rule, Style::BODY);
        flow.table(&table(view));
        flow.list(view.remarks.iter().map(String::as_str), Style::BODY);
    });
    flow.gap(8.0);
    flow.need(40.0);
    short_caution(&mut flow);
    part::spelled(&mut flow);
    let text =
        set.visible(&format!("{}   ·   A: {}   ·   B: {}", view.what, view.a.name, view.b.name)).into_owned();
    let running = Running { text, before_gate: "", gate: String::new() };
    flow.finish(|set, index, pages, width, height| {
        let mut shapes = foot::foot(set, logs, &stamp.program, (index, pages), width, height);
        if index > 0 {
            shapes.extend(foot::head(set, &running, width));
        }
        shapes
    })
}

fn head(flow: &mut Flow<'_>, view: &CompareView, stamp: &Stamp) {
    let (left, right) = (flow.left(), flow.left() + flow.width());
    let kind = flow.set.visible(&stamp.title).into_owned();
    let last = format!("{} entries, the last {}", stamp.entries, stamp.made_at);
    let y = flow.y + 9.0;
    flow.group(Role::Paragraph, |flow| {
        flow.mark(vec![
            Shape::text(left, y, 9.0, Face::Bold, kind).inked(Ink::Slate),
            Shape::text(right, y, 8.0, Face::Book, last).inked(Ink::Slate).anchored(Anchor::End),
        ]);
    });
    flow.y += 15.0;
    let title = format!("{}: {} and {}", view.what, view.a.name, view.b.name);
    flow.bookmark(&title);
    flow.group(Role::Heading(1, title.clone()), |flow| {
        let text = flow.set.visible(&title).into_owned();
        let lines = crate::text::wrap(flow.set, Face::Bold, 15.0, &text, flow.width());
        flow.lines(&lines, Style { face: Face::Bold, size: 15.0, ..Style::BODY });
    });
    for (letter, side) in [("A", &view.a), ("B", &view.b)] {
        let stage = side.stage.as_ref().map_or_else(String::new, |s| format!(", stage {s}"));
        flow.paragraph(
            &format!("{letter}: {} ({}{stage})", side.name, side.wing),
            Style { size: 9.0, ..Style::BODY },
        );
    }
    flow.y += 6.0;
}

fn table(view: &CompareView) -> Table {
    let judged = view.rows.iter().any(|r| r.verdict.is_some() || r.lower.is_some() || r.upper.is_some());
    let mut columns = vec![
        Column::words("", 1.0),
        Column::figures("span\nmm"),
        Column::figures("A"),
        Column::figures("B"),
        Column::text("unit", 30.0),
        Column::figures("difference"),
        Column::figures("u"),
        Column::figures("p"),
        Column::text("more than\nmeasurement?", 80.0),
    ];
    if judged {
        columns.extend([Column::figures("limits"), Column::text("verdict", 80.0)]);
    }
    let rows = view.rows.iter().map(|r| row(r, judged)).collect();
    Table { name: "Differences", columns, rows, size: 8.0 }
}

fn row(r: &CompareRow, judged: bool) -> Row {
    let figure = |v: Option<f64>| Cell::maybe(v.map(|v| rounded(v, decimals(r.unit, r.u))));
    let real = match r.real {
        Some(true) => Cell::Strong("yes".to_owned()),
        Some(false) => Cell::text("no"),
        None => Cell::Empty,
    };
    let mut cells = vec![
        Cell::text(r.name.as_str()),
        Cell::maybe(r.span_mm.map(exact)),
        figure(r.a),
        figure(r.b),
        Cell::text(unit_word(r.unit)),
        figure(r.difference),
        figure(r.u),
        Cell::maybe(r.p.map(probability)),
        real,
    ];
    if judged {
        let limited = r.lower.is_some() || r.upper.is_some();
        cells.push(Cell::maybe(limited.then(|| limits(r.lower, r.upper))));
        cells.push(Cell::Verdict(r.verdict));
    }
    Row::new(cells)
}
