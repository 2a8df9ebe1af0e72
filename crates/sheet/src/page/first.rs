//! The head of a first page: what it is, of which wing, and at what time.

use super::Sheet;
use crate::draw::{Anchor, Role, Shape};
use crate::flow::{Stack, cut, runs_width, shrunk};
use crate::text::{Face, wrap};
use record::calendar;

/// A small line at the top: one text in bold, and another at the right.
pub(crate) fn one_line(stack: &mut Stack<'_>, left: &str, right: &str) {
    let (left, right) = (stack.set.visible(left).into_owned(), stack.set.visible(right).into_owned());
    stack.fixed(12.0, move |canvas, area| {
        let y = area.y + 8.0;
        let left = Shape::text(area.x, y, 8.0, Face::SemiBold, left.as_str());
        canvas.said(Role::Paragraph, vec![left]);
        let right = Shape::text(area.right(), y, 8.0, Face::Medium, right.as_str()).anchored(Anchor::End);
        canvas.said(Role::Paragraph, vec![right]);
    });
}

/// Form, time, name, identity.
pub(super) fn title<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, form: &str, name: &str, beside: &str) {
    let (name, beside) = (s.set.visible(name).into_owned(), beside.to_owned());
    let width = s.grid.width;
    one_line(stack, form, &s.as_of());
    let size = shrunk(s.set, 22.0, 12.0, &name, width);
    let lines = wrap(s.set, Face::SemiBold, size, &name, width);
    // A very long name is cut: three lines say which wing it is.
    for (i, line) in lines.iter().take(3).cloned().enumerate() {
        let (name, beside) = (name.clone(), beside.clone());
        let first = i == 0;
        stack.fixed(size * 1.06 + 2.0, move |canvas, area| {
            let y = area.bottom() - size * 0.2 - 1.0;
            let mut shapes = vec![Shape::text(area.x, y, size, Face::SemiBold, line.as_str())];
            if first {
                canvas.bookmark(&name, area.y);
                let x = area.x + canvas.set.width(Face::SemiBold, size, &line) + 10.0;
                let beside = cut(canvas.set, 12.0, Face::Medium, &beside, area.right() - x);
                if !beside.is_empty() {
                    shapes.push(Shape::text(x, y, 12.0, Face::Medium, beside));
                }
            }
            canvas.said(Role::Heading(1, line.clone()), shapes);
        });
    }
    identity(s, stack);
}

/// `serial 07   drawing OT-200 issue C   place shed 2   begun 2 Jun 2031, Tam   stage 6 of 6, ready to skin`.
fn identity<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let mut facts = s.identity();
    if let Some(started) = &s.a.started {
        facts.push(("begun", format!("{}, {}", calendar::day(&started.when, ""), started.by)));
    }
    facts.push(("stage", s.stage()));
    let mut lines: Vec<Vec<(Face, String)>> = vec![Vec::new()];
    for (word, fact) in facts {
        let fact = cut(s.set, 8.5, Face::SemiBold, &fact, s.grid.width - 60.0);
        let runs = [(Face::Medium, format!("{word} ")), (Face::SemiBold, format!("{fact}     "))];
        let filled = lines.last().map_or(0.0, |line| runs_width(s.set, 8.5, line));
        if filled > 0.0 && filled + runs_width(s.set, 8.5, &runs) > s.grid.width + 9.0 {
            lines.push(Vec::new());
        }
        lines.iter_mut().last().into_iter().for_each(|line| line.extend(runs.clone()));
    }
    let count = lines.len();
    for (i, line) in lines.into_iter().enumerate() {
        let height = if i + 1 == count { 16.5 } else { 11.2 };
        stack.fixed(height, move |canvas, area| {
            let mut x = area.x;
            let mut shapes = Vec::new();
            for (face, text) in &line {
                shapes.push(Shape::text(x, area.y + 9.0, 8.5, *face, text.trim_end()));
                x += canvas.set.width(*face, 8.5, text);
            }
            canvas.said(Role::Paragraph, shapes);
        });
    }
}
