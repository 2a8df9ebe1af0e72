//! What every page shows: the fingerprint, the page number, which wing it is.

use super::front::Running;
use crate::draw::{Anchor, Ink, Pen, Shape};
use crate::fingerprint::Fingerprint;
use crate::flow::MARGIN;
use crate::text::{Face, Typesetter};
use record::hex::{four_words, grouped};

/// Digits of a fingerprint that are printed: half of them, which is far more than chance or patience can match.
const DIGITS: usize = 32;

/// Digits to type: the least that `verify` takes.
const TO_TYPE: usize = 16;

/// The foot of a page. With two logs (a comparison of left and right) it shows both.
pub(crate) fn foot(
    set: &Typesetter,
    logs: &[Fingerprint],
    program: &str,
    (index, pages): (usize, usize),
    width: f64,
    height: f64,
) -> Vec<Shape> {
    let (left, right) = (MARGIN, width - MARGIN);
    let size = 7.0;
    let mut y = height - 44.0;
    let mut shapes = vec![Shape::line(left, y - 10.0, right, y - 10.0, Pen::new(Ink::Slate, 0.6))];
    let small = |x: f64, y: f64, text: String| Shape::text(x, y, size, Face::Book, text);
    let mut row = |y: f64, name: &str, hex: &str, words: &str| {
        shapes.push(small(left, y, name.to_owned()).inked(Ink::Slate));
        shapes.push(Shape::text(left + 28.0, y, size, Face::Bold, grouped(hex, DIGITS)));
        shapes.push(small(left + 28.0 + 182.0, y, words.to_owned()).inked(Ink::Slate));
    };
    if let [one] = logs {
        let entries = format!("{}   {} entries", four_words(&one.head), one.entries);
        row(y, "log", &one.head, &entries);
        y += 10.0;
        row(y, "plan", &one.plan_sha256, &four_words(&one.plan_sha256));
        let (entries, head) = (one.entries, one.head.get(..TO_TYPE).unwrap_or(&one.head));
        let check = format!("to check this paper: jigtrue verify LOG --entry {entries} --hash {head}");
        shapes.push(small(left, y + 10.0, check).inked(Ink::Slate));
    } else {
        for (name, log) in ["log A", "log B"].into_iter().zip(logs) {
            row(y, name, &log.head, &format!("{}   {} entries", four_words(&log.head), log.entries));
            y += 10.0;
        }
        y -= 10.0;
    }
    let page = format!("page {} of {pages}", index + 1);
    shapes.push(Shape::text(right, height - 44.0, 8.5, Face::Bold, page).anchored(Anchor::End));
    let program = set.visible(program).into_owned();
    shapes.push(small(right, y, program).inked(Ink::Slate).anchored(Anchor::End));
    shapes
}

/// The running head of the pages after the first.
pub(crate) fn head(set: &Typesetter, running: &Running, width: f64) -> Vec<Shape> {
    let (left, right, y) = (MARGIN, width - MARGIN, 42.0);
    let gate = set.width(Face::Bold, 9.0, &running.gate);
    vec![
        Shape::text(left, y, 8.0, Face::Book, running.text.as_str()).inked(Ink::Slate),
        Shape::text(right, y, 9.0, Face::Bold, running.gate.as_str()).anchored(Anchor::End),
        Shape::text(right - gate - 5.0, y, 8.0, Face::Book, running.before_gate)
            .inked(Ink::Slate)
            .anchored(Anchor::End),
        Shape::line(left, y + 6.0, right, y + 6.0, Pen::new(Ink::Slate, 0.6)),
    ]
}
