//! The comparison sheet on its pages.

use crate::Stamp;
use crate::draw::{Drawing, Role, Shape};
use crate::fingerprint::Fingerprint;
use crate::flow::{Break, Cell, Grid, PlotHeight, Stack, Table, lay_out};
use crate::page::{Frame, Head, degrees, does_not_approve, one_line};
use crate::plot::{difference, units};
use crate::text::{Face, Typesetter};
use assess::view::{Comparison, ComparisonKind, ComparisonRow};
use quantity::shown::significance;
use quantity::{Kind, Units};

pub(super) fn draw(
    comparison: &Comparison,
    stamp: &Stamp,
    logs: &[Fingerprint],
    set: &Typesetter,
) -> Drawing {
    let grid = Grid::of(stamp.paper);
    let mut stack = Stack::new(set, grid.width);
    stack.chapter(Break::Always("comparison"));
    head(&mut stack, comparison, stamp);
    let units = units(comparison);
    let degrees = degrees(units.scale(Kind::Angle));
    if !comparison.stations.is_empty() {
        let difference = difference(comparison);
        stack.heading(
            &format!("Difference along the span, {degrees}"),
            "A less B; a mark where it is more than measurement",
            None,
        );
        stack.figure(difference.dots, difference.about, PlotHeight { usual: 200.0, most: 283.0 });
    }
    stack.heading("Differences", "", None);
    let words = format!(
        "A less B, in {degrees}. A station’s difference counts as more than measurement if {}, which is 5 % in all \
            shared among the stations; a part’s if p is under 0.05.",
        significance(comparison.station_alpha).replace("p ", "p is under ").replace("under < ", "under "),
    );
    stack.paragraph("", &words);
    stack.table(table(comparison, units));
    for remark in &comparison.remarks {
        stack.paragraph("", remark);
    }
    does_not_approve(&mut stack);
    let laid = lay_out(stack.into_pieces(), grid);
    let beside = format!("A: {} · B: {}", comparison.first, comparison.second);
    let frame = Frame { set, grid, stamp, logs, form: "comparison", name: "Comparison" };
    frame.draw(&laid, |_| Head { beside: beside.clone(), block: Vec::new(), width: 0.0 })
}

fn head<'a>(stack: &mut Stack<'a>, comparison: &Comparison, stamp: &Stamp) {
    one_line(stack, &stamp.title, &format!("as the log was at entry {}", stamp.entries));
    let title = match comparison.kind {
        ComparisonKind::Stages => "Two stages of one wing",
        ComparisonKind::Sides => "Left and right wing",
        ComparisonKind::SinceJig => "On the aeroplane and last in the jig",
    };
    stack.fixed(28.0, move |canvas, area| {
        canvas.bookmark(title, area.y);
        let text = Shape::text(area.x, area.y + 20.0, 22.0, Face::SemiBold, title);
        canvas.said(Role::Heading(1, title.to_owned()), vec![text]);
    });
    for (letter, name) in [("A:", &comparison.first), ("B:", &comparison.second)] {
        stack.paragraph(letter, name);
    }
}

fn table<'a>(comparison: &Comparison, units: Units) -> Table<'a> {
    let (angle, length) = (units.scale(Kind::Angle), units.scale(Kind::Length));
    let figure = |r: &ComparisonRow, v: f64| Cell::text(angle.signed(v, r.difference.with_u().decimals()));
    let rows: Vec<&ComparisonRow> = comparison.parts.iter().chain(&comparison.stations).collect();
    Table::of("Differences", &rows)
        .marks(|r| r.difference.verdict)
        .words("", |r| Cell::strong(r.name.as_str()))
        .figures(format!("span {}", length.head()), |r| Cell::maybe(r.span_mm.map(|mm| length.exact(mm))))
        .figures("A", |r| figure(r, r.first_deg))
        .figures("B", |r| figure(r, r.second_deg))
        .figures("difference, 95 %", |r| Cell::value(&r.difference.with_u().signed_with()))
        .text("limits", |r| Cell::text(r.difference.limits()))
        .figures("conforms", |r| Cell::maybe(r.difference.probability.map(quantity::shown::percent)))
        .text("more than measurement?", |r| match r.real {
            true => Cell::strong(format!("yes, {}", significance(r.p))),
            false => Cell::text("no"),
        })
        .into()
}
