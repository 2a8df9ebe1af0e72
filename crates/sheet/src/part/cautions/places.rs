//! Places to sign on the first page.

use crate::draw::{Ink, Pen, Role, Shape};
use crate::flow::{Flow, Style};
use crate::text::{Face, wrap};
use assess::Assessment;
use assess::view::SignView;
use record::GateState;

/// Height of the places with the line above them.
pub(crate) const HEIGHT: f64 = 92.0;
const BOX: f64 = 72.0;
const BETWEEN: f64 = 14.0;

/// Two places side by side. Where the gate holds they say that a signature is not a clearance.
pub(crate) fn places(flow: &mut Flow<'_>, assessment: &Assessment) {
    let words = recorded(assessment.signatures.last(), assessment.signatures.len());
    let words = flow.set.visible(&words).into_owned();
    let lines: Vec<String> =
        wrap(flow.set, Face::Book, 7.5, &words, flow.width()).into_iter().take(1).collect();
    flow.group(Role::Paragraph, |flow| flow.lines(&lines, Style::SMALL));
    flow.y += 3.0;
    let sense = match assessment.gate.state {
        GateState::Clear => "gate clear",
        GateState::Hold => "seen; the gate holds, this is no clearance",
    };
    let width = (flow.width() - BETWEEN) / 2.0;
    let top = flow.y;
    for (x, who) in [(flow.left(), "Builder"), (flow.left() + width + BETWEEN, "Inspector")] {
        place(flow, x, top, width, who, sense);
    }
    flow.y = top + BOX;
}

fn recorded(last: Option<&SignView>, count: usize) -> String {
    match last {
        None => "No sign-off is recorded in the log.".to_owned(),
        Some(sign) => {
            let (who, capacity, gate, at) = (&sign.who, &sign.capacity, sign.gate.word(), &sign.when);
            let (since, seal) = (sign.since_words(), sign.seal_words());
            let more = if count > 1 { format!("{count} sign-offs, the last") } else { "signed".to_owned() };
            format!("In the log: {more} by {who} ({capacity}) on {at}, gate {gate} then; {since}; {seal}.")
        }
    }
}

fn place(flow: &mut Flow<'_>, x: f64, y: f64, width: f64, who: &str, sense: &str) {
    let pen = Pen::new(Ink::Grey, 0.6);
    let label = |x: f64, y: f64, text: &str| Shape::text(x, y, 7.0, Face::Book, text).inked(Ink::Slate);
    let (name, sign, date) = (y + 33.0, y + 56.0, x + width * 0.66);
    let said = vec![
        Shape::text(x + 8.0, y + 13.0, 8.5, Face::Bold, format!("{who} ")),
        label(x + 60.0, y + 13.0, sense),
        label(x + 8.0, name + 8.0, "name and capacity "),
        label(x + 8.0, sign + 11.0, "signature "),
        label(date, sign + 11.0, "date"),
    ];
    flow.furnish(vec![
        Shape::rect(x, y, width, BOX, None, Some(Pen::new(Ink::Slate, 0.7))),
        Shape::line(x + 8.0, name, x + width - 8.0, name, pen),
        Shape::line(x + 8.0, sign + 3.0, date - 8.0, sign + 3.0, pen),
        Shape::line(date, sign + 3.0, x + width - 8.0, sign + 3.0, pen),
    ]);
    flow.group(Role::Paragraph, |flow| flow.mark(said));
}
