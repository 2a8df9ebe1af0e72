//! The history: what each stage found and what was moved, everything that was changed with old and new, and whether
//! anything moved since the stage before.

use super::Sheet;
use crate::draw::{Pen, Role, Shape, many};
use crate::flow::{Break, Stack, cut, shrunk};
use crate::text::Face;
use assess::view::Verdict;
use quantity::shown::counted;
use record::OpenAction;

pub(super) const CHAPTER: &str = "history";

pub(super) fn page<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    stack.chapter(Break::Full(CHAPTER));
    counts(s, stack);
    super::pictures::pictures(s, stack);
    super::changed::changed(s, stack);
    if !s.aeroplane() || s.a.changes.is_some() {
        super::changed::since(s, stack);
    }
    after(s, stack);
}

/// The state of the stages after the closing one; it never changes the decision.
fn after<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let Some(gate) = &s.a.after else { return };
    let (met, total) = (gate.count(Verdict::Within), gate.obligations.len());
    let right = (super::board::worst(&gate.obligations), format!("{met} of {total} met"));
    stack.heading("After the decision to close", "stages of its own, which do not change it", Some(right));
    if gate.reasons.is_empty() {
        stack.paragraph("", "Nothing is against the later stages.");
    } else {
        stack.table(super::gate::cause_table(&gate.reasons));
    }
}

/// Six counts in a frame.
fn counts<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let a = s.a;
    let passed: usize = a.stages.iter().map(|v| v.passed.len()).sum();
    let begun = a.stages.len();
    let carried = a.open_items.iter().filter(|i| i.action == OpenAction::Carried).count();
    let open = a.open_items.iter().filter(|i| i.action == OpenAction::Opened).count();
    let looser = a.plan_changes.iter().filter(|c| c.looser).count();
    let mut moved: Vec<&str> = a.moves.iter().map(|m| m.what.support.as_str()).collect();
    moved.sort_unstable();
    moved.dedup();
    let none = |n: usize, text: String| if n == 0 { "nothing".to_owned() } else { text };
    let cells: [(&str, String, String); 6] = [
        (
            "Stages",
            begun.to_string(),
            if passed == 0 { "none skipped".to_owned() } else { format!("{passed} skipped") },
        ),
        (
            "Carried past",
            none(carried, carried.to_string()),
            if open > 0 { format!("{open} still open") } else { "open on purpose".to_owned() },
        ),
        (
            "Plan changed",
            none(a.replans.len(), counted(a.replans.len(), "time", "times")),
            if looser == 0 { "no limit looser".to_owned() } else { format!("{looser} looser") },
        ),
        (
            "Reworked",
            none(a.reworks.len(), a.reworks.len().to_string()),
            match a.reworks.as_slice() {
                [] => String::new(),
                [one] => one.what.what.clone(),
                _ => "listed below".to_owned(),
            },
        ),
        (
            "Moved",
            none(a.moves.len(), counted(a.moves.len(), "time", "times")),
            if moved.len() > 1 { counted(moved.len(), "place", "places") } else { moved.concat() },
        ),
        (
            "Withdrawn",
            none(a.withdrawn.len(), counted(a.withdrawn.len(), "entry", "entries")),
            if a.withdrawn.is_empty() { String::new() } else { "listed with reasons".to_owned() },
        ),
    ];
    stack.fixed(44.0, move |canvas, area| {
        let wide = area.width / 6.0;
        let frame = Shape::rect(area.x, area.y + 3.0, area.width, 38.0, None, Some(Pen::LIMIT));
        canvas.furnish(vec![frame]);
        for (i, (what, n, more)) in cells.iter().enumerate() {
            let x = area.x + many(i) * wide + 7.0;
            let room = wide - 12.0;
            let size = shrunk(canvas.set, 13.0, 9.0, n, room);
            let more = cut(canvas.set, 8.0, Face::Medium, more, room);
            if i > 0 {
                canvas.furnish(vec![Shape::line(x - 7.0, area.y + 8.0, x - 7.0, area.y + 36.0, Pen::ROW)]);
            }
            canvas.said(
                Role::Paragraph,
                vec![
                    Shape::text(x, area.y + 12.5, 8.0, Face::Medium, *what),
                    Shape::text(x, area.y + 25.0, size, Face::SemiBold, n.as_str()),
                    Shape::text(x, area.y + 36.5, 8.0, Face::Medium, more),
                ],
            );
        }
    });
}
