//! The shaft in its bushes.

use super::judged::{Behind, decides, from, limits, reach, summed};
use super::words::{percent, spaced};
use crate::draw::{Anchor, Pen, Role, Shape, hatch};
use crate::flow::{Area, Canvas, Cell, Stack, Table};
use crate::plot::{mark, strip};
use crate::text::Face;
use assess::Verdict;
use assess::view::{BoreLine, BushView, JudgedBy, ObligationKind};
use quantity::shown::{K95, capital};
use std::rc::Rc;

pub(super) fn shaft<'a>(stack: &mut Stack<'a>, line: &'a BoreLine, behind: &Behind<'a>) {
    let passes = if line.passes { "goes through" } else { "does not go through" };
    let behind = from(behind, [JudgedBy::new(ObligationKind::Clearance, &line.shaft)].into_iter());
    let notes: Vec<String> =
        behind.notes().iter().map(|note| format!("{note}; a straight one {passes}")).collect();
    let title = capital(&line.shaft);
    stack.heading_of(&format!("{title} in its bushes"), &notes, summed([line.clearance.verdict].into_iter()));
    bushes(stack, line);
    let j = &line.clearance;
    let p = j.probability.map_or_else(String::new, |p| format!("; conforms {}", percent(p)));
    stack.note(&format!(
        "least clearance {}; {} (hatched: less){p}. Its ± comes from redrawing bores and centres, seeded.",
        spaced(&j.shown()),
        limits(j)
    ));
    for advice in &line.advice {
        stack.note(advice);
    }
    decides(stack, [j].into_iter());
}

pub(super) fn bushes<'a>(stack: &mut Stack<'a>, line: &'a BoreLine) {
    let j = &line.clearance;
    let wide = line.bushes.iter().map(|b| b.clearance_mm.abs()).fold(0.0, f64::max) + K95 * j.u;
    let most = reach([j].into_iter()).max(wide * 1.2);
    let length = j.scale();
    let fixed = move |mm: f64| length.fixed(mm, length.decimals(3));
    // A bush alone is shown with the least clearance's own width; it has no verdict of its own.
    let picture = |b: &BushView| {
        let (value, half, limits) = (b.clearance_mm, K95 * j.u, [j.lower, None]);
        let state =
            if j.lower.is_some_and(|lower| value < lower) { Verdict::Outside } else { Verdict::Within };
        let draw = move |area| strip(area, value, half, limits, most, state);
        Cell::Picture(Rc::new(draw), length.with(&fixed(value)))
    };
    let unit = length.head();
    let mut table = Table::of(line.shaft.as_str(), &line.bushes)
        .text("bush", |b| Cell::strong(b.bush.as_str()))
        .figures(format!("span {unit}"), |b| Cell::text(length.exact(b.span_mm)))
        .figures(format!("bore {unit}"), |b| Cell::text(fixed(b.bore_mm)))
        .figures("centre aft", |b| Cell::text(fixed(b.aft_mm)))
        .figures("centre up", |b| Cell::text(fixed(b.up_mm)))
        .figures("off the line", |b| Cell::text(fixed(off(b).2)))
        .picture("clearance", 112.0, picture)
        .figures(format!("clearance {unit}"), |b| Cell::strong(fixed(b.clearance_mm)));
    if line.bushes.iter().any(|b| b.shift_mm.is_some()) && j.verdict != Some(Verdict::Within) {
        table = table.words(format!("shift that helps, {unit}"), |b| {
            Cell::maybe(b.shift_mm.map(|m| format!("{} aft, {} up", fixed(m.aft), fixed(m.up))))
        });
    }
    stack.table(table);
}

/// How far a bush's centre is from the line: aft, up and in all.
fn off(b: &BushView) -> (f64, f64, f64) {
    let (aft, up) = (b.aft_mm - b.line_aft_mm, b.up_mm - b.line_up_mm);
    (aft, up, (aft * aft + up * up).sqrt())
}

/// A bush: how far its centre is from the line, against what the bore allows.
pub(super) fn bush(canvas: &mut Canvas<'_>, line: &BoreLine, b: &BushView, area: Area) {
    let (aft, up, off) = off(b);
    let wanted = line.clearance.lower.unwrap_or(0.0);
    // How far off the centre may be: its clearance plus its distance from the line, less the clearance required.
    let may = (b.clearance_mm + off - wanted).max(0.0);
    let side = (area.width - 8.0).min(area.height - 26.0);
    let (x, y) = (area.x + area.width / 2.0, area.y + 4.0 + side / 2.0);
    let (left, top) = (x - side / 2.0, y - side / 2.0);
    let scale = side * 0.42 / may.max(off).max(1e-6);
    let around = [(left, top), (left + side, top), (left + side, top + side), (left, top + side)];
    let r = may * scale;
    let mut shapes = vec![
        Shape::Lines { ends: hatch(&around, 4.6), pen: Pen::HATCH },
        Shape::ring(x, y, r, Pen::LIMIT),
        Shape::line(left, y, left + side, y, Pen::GRID),
        Shape::line(x, top, x, top + side, Pen::GRID),
        Shape::rect(left, top, side, side, None, Some(Pen::ROW)),
    ];
    let state = if off <= may { Verdict::Within } else { Verdict::Outside };
    shapes.extend(mark(state, x + aft * scale, y - up * scale, 7.0));
    let middle = Anchor::Middle;
    shapes.push(Shape::text(x, top + side + 10.0, 8.5, Face::SemiBold, b.bush.as_str()).anchored(middle));
    let length = line.clearance.scale();
    let shown = |mm: f64| length.fixed(mm, length.decimals(3));
    let words = length.with(&format!("off {} of {}", shown(off), shown(may)));
    shapes.push(Shape::text(x, top + side + 20.0, 8.0, Face::Medium, words).anchored(middle));
    canvas.said(Role::Figure(format!("{} off the line", b.bush)), shapes);
}
