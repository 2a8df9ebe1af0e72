//! What every page shows: the fingerprints in the foot, the wing and the gate in the head.

use super::paper::DIGITS;
use super::verdict::cut;
use crate::Stamp;
use crate::draw::{Anchor, Ink, Pen, Shape};
use crate::fingerprint::Fingerprint;
use crate::flow::{Area, Grid};
use crate::plot::mark;
use crate::text::{Face, Typesetter};
use assess::view::Verdict;
use record::GateState;
use record::hex::{four_words, grouped};

/// Whose fingerprints are in the foot.
pub(crate) enum Logs<'a> {
    One(&'a Fingerprint),
    Two(&'a Fingerprint, &'a Fingerprint),
}

/// The foot of a page: the page number out of how many, and the form.
pub(crate) fn foot(
    set: &Typesetter,
    grid: &Grid,
    logs: &Logs<'_>,
    form: &str,
    stamp: &Stamp,
    page: &str,
) -> Vec<Shape> {
    let (left, right, rule) = (grid.left, grid.left + grid.width, grid.foot);
    let mut shapes = vec![Shape::line(left, rule, right, rule, Pen::HEADING)];
    let rows: [(&str, &str, String); 2] = match logs {
        Logs::One(one) => [
            ("log", one.head.as_str(), format!("entry {}", one.entries)),
            ("plan", one.plan_sha256.as_str(), "in force".to_owned()),
        ],
        Logs::Two(a, b) => [
            ("log A", a.head.as_str(), format!("entry {}", a.entries)),
            ("log B", b.head.as_str(), format!("entry {}", b.entries)),
        ],
    };
    for ((name, hex, entry), base) in rows.into_iter().zip([rule + 9.6, rule + 20.2]) {
        let small = |x: f64, text: &str| Shape::text(x, base, 8.0, Face::Medium, text);
        shapes.push(small(left, name));
        shapes.push(Shape::text(left + 24.0, base, 8.0, Face::SemiBold, grouped(hex, DIGITS)));
        shapes.push(small(left + 216.0, &four_words(hex)));
        shapes.push(small(left + 332.0, &entry));
    }
    shapes.push(Shape::text(right, rule + 10.4, 9.5, Face::SemiBold, page).anchored(Anchor::End));
    let program = cut(set, 8.0, Face::Medium, &format!("{form} · {}", stamp.program), 116.0);
    shapes.push(Shape::text(right, rule + 20.2, 8.0, Face::Medium, program).anchored(Anchor::End));
    shapes
}

/// The gate, small: black, or framed with the met mark.
pub(crate) fn gate_block(set: &Typesetter, word: &str, state: GateState, right: f64, y: f64) -> Vec<Shape> {
    let good = state == GateState::Clear;
    let wide = set.width(Face::SemiBold, 10.5, word) + if good { 30.0 } else { 18.0 };
    let (x, tall) = (right - wide, 17.0);
    let text = Shape::text(right - 8.0, y + 12.2, 10.5, Face::SemiBold, word).anchored(Anchor::End);
    if good {
        let framed = Shape::rect(x, y, wide, tall, None, Some(Pen::new(1.4)));
        let met = mark(Verdict::Within, x + 11.0, y + tall / 2.0, 7.0);
        [framed].into_iter().chain(met).chain([text]).collect()
    } else {
        vec![Shape::rect(x, y, wide, tall, Some(Ink::Black), None), text.white()]
    }
}

/// The head of a page after the first: the name, the text beside it, the block at the right.
pub(crate) fn running_head(
    set: &Typesetter,
    grid: &Grid,
    name: &str,
    mut beside: &str,
    block: Vec<Shape>,
    block_width: f64,
) -> Vec<Shape> {
    let area = Area { x: grid.left, y: grid.top, width: grid.width, height: 22.0 };
    let base = area.y + 12.0;
    let room = area.width - block_width - 14.0;
    let name = cut(set, 11.0, Face::SemiBold, name, room * 0.55);
    let start = set.width(Face::SemiBold, 11.0, &name) + 9.0;
    // The page number comes last and is never left out.
    let fits = |text: &str| set.width(Face::Medium, 8.0, &set.visible(text)) <= room - start;
    while !fits(beside)
        && let Some((_, rest)) = beside.split_once(" · ")
    {
        beside = rest;
    }
    let beside = cut(set, 8.0, Face::Medium, beside, room - start);
    let mut shapes = vec![
        Shape::text(area.x, base, 11.0, Face::SemiBold, name),
        Shape::text(area.x + start, base, 8.0, Face::Medium, beside),
        Shape::line(area.x, area.bottom(), area.right(), area.bottom(), Pen::HEADING),
    ];
    shapes.extend(block);
    shapes
}
