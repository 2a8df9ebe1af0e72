//! The closing gate, large, with its reasons.

mod items;

use crate::draw::{Anchor, Ink, Pen, Role, Shape};
use crate::flow::{Flow, Style};
use crate::text::{Face, wrap};
use assess::{Assessment, Verdict};
use items::Item;
use record::GateState;

/// Width of the field with the word.
const FIELD: f64 = 128.0;
/// Height of the panel at least.
const LEAST: f64 = 74.0;
/// Height of the page that is not for reasons, so that the profile keeps its place: 150 points are left on A4, 100 on
/// letter.
const NOT_REASONS: f64 = 626.0;
const SIZE: f64 = 8.5;
const LEADING: f64 = SIZE * 1.32;
/// Width of the word before each reason.
const WORD: f64 = 74.0;

/// Draws the panel; true if every reason is in it.
pub(super) fn gate(flow: &mut Flow<'_>, assessment: &Assessment) -> bool {
    let gate = &assessment.gate;
    let (left, top) = (flow.left(), flow.y);
    let text_left = left + FIELD + 14.0;
    let room = flow.width() - FIELD - 14.0 - 10.0;
    let height = flow.floor() - NOT_REASONS;
    let each = items::each(flow.set, &gate.reasons, room - WORD);
    let all = items::height(&each) <= height;
    let items = if all { each } else { items::by_kind(flow.set, &gate.reasons, room - WORD, height) };

    // The words first: their height makes the panel's.
    flow.y = top + 9.0;
    let style = Style { indent: FIELD + 14.0, ..Style::BODY };
    flow.paragraph("May the skins go on?", Style { ink: Ink::Slate, size: 8.0, ..style });
    flow.paragraph(&answer(assessment), Style { face: Face::Bold, size: 11.0, ..style });
    let counts = counts(assessment);
    let lines = wrap(flow.set, Face::Book, SIZE, &counts, room);
    flow.group(Role::Paragraph, |flow| flow.lines(&lines, style));
    flow.y += 4.0;
    flow.group(Role::List, |flow| {
        for item in &items {
            one(flow, item, text_left);
        }
    });
    if !all {
        flow.paragraph("Every reason is listed on the next page.", Style { face: Face::Bold, ..style });
    }
    if !assessment.doubts.is_empty() {
        let words = match assessment.doubts.len() {
            1 => "1 doubt is listed under “Doubts”.".to_owned(),
            n => format!("{n} doubts are listed under “Doubts”."),
        };
        flow.paragraph(&words, Style { ink: Ink::Slate, ..style });
    }
    let height = (flow.y + 5.0 - top).max(LEAST);
    field(flow, gate.state, left, top, height);
    let frame = Shape::rect(left, top, flow.width(), height, None, Some(Pen::new(Ink::Black, 1.2)));
    flow.furnish(vec![frame]);
    flow.y = top + height;
    all
}

fn one(flow: &mut Flow<'_>, item: &Item, x: f64) {
    flow.group(Role::ListItem, |flow| {
        let mut shapes = vec![Shape::text(x, flow.y + SIZE, SIZE, Face::Bold, format!("{} ", item.word))];
        for line in &item.lines {
            shapes.push(Shape::text(x + WORD, flow.y + SIZE, SIZE, Face::Book, format!("{line} ")));
            flow.y += LEADING;
        }
        flow.mark(shapes);
        flow.y += 2.0;
    });
}

fn answer(assessment: &Assessment) -> String {
    match (assessment.gate.state, assessment.gate.reasons.len()) {
        (GateState::Clear, _) => "Nothing in this log prevents closing the skins.".to_owned(),
        (GateState::Hold, 0) => "Not yet.".to_owned(),
        (GateState::Hold, 1) => "Not yet: there is 1 reason to hold.".to_owned(),
        (GateState::Hold, n) => format!("Not yet: there are {n} reasons to hold."),
    }
}

/// The state of the required points.
fn counts(assessment: &Assessment) -> String {
    let required: Vec<_> = assessment.points.iter().filter(|p| p.required).collect();
    let mut out = format!("Required points of this stage: {}", required.len());
    for verdict in Verdict::WORST_FIRST.map(Some).into_iter().chain([None]) {
        let count = required.iter().filter(|p| p.verdict == verdict).count();
        let word = verdict.map_or("without a tolerance", Verdict::word);
        match (count, required.len()) {
            (0, _) => {}
            (n, all) if n == all => out.push_str(&format!(", all {word}")),
            (n, _) => out.push_str(&format!(", {n} {word}")),
        }
    }
    out.push('.');
    out
}

/// The field with the word. A hold is white on black, a clear black on white: they cannot be confused at a distance.
fn field(flow: &mut Flow<'_>, state: GateState, x: f64, y: f64, height: f64) {
    let (fill, ink) = match state {
        GateState::Clear => (None, Ink::Black),
        GateState::Hold => (Some(Ink::Black), Ink::White),
    };
    let middle = (x + FIELD / 2.0, y + LEAST / 2.0);
    let word = Shape::text(middle.0, y + LEAST / 2.0 + 21.0, 29.0, Face::Bold, state.word().to_uppercase());
    flow.furnish(vec![Shape::rect(x, y, FIELD, height, fill, Some(Pen::new(Ink::Black, 1.2)))]);
    flow.furnish(sign(state, middle.0, y + LEAST / 2.0 - 16.0));
    flow.group(Role::Paragraph, |flow| flow.mark(vec![word.inked(ink).anchored(Anchor::Middle)]));
}

/// A tick in a ring for clear, a bar in a ring for hold.
fn sign(state: GateState, x: f64, y: f64) -> Vec<Shape> {
    match state {
        GateState::Clear => {
            let tick = vec![(x - 6.5, y + 0.5), (x - 1.8, y + 5.5), (x + 7.0, y - 5.0)];
            let ring = Shape::Circle { x, y, r: 12.0, fill: None, pen: Some(Pen::new(Ink::Black, 2.0)) };
            vec![ring, Shape::curve(tick, Pen::new(Ink::Black, 2.6))]
        }
        GateState::Hold => {
            let ring = Shape::Circle { x, y, r: 12.0, fill: None, pen: Some(Pen::new(Ink::White, 2.0)) };
            vec![ring, Shape::rect(x - 7.0, y - 2.2, 14.0, 4.4, Some(Ink::White), None)]
        }
    }
}
