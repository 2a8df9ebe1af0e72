//! What every page shows: the fingerprints in the foot, the wing and the gate in the head.

use super::paper::DIGITS;
use crate::Stamp;
use crate::draw::{Anchor, Drawing, Ink, Pen, Shape};
use crate::fingerprint::Fingerprint;
use crate::flow::{Area, Grid, Laid, cut};
use crate::plot::mark;
use crate::text::{Face, Typesetter};
use assess::view::Verdict;
use record::GateState;
use record::hex::{four_words, grouped};

/// The foot of every page, and the head of those after the first.
pub(crate) struct Frame<'a> {
    pub set: &'a Typesetter,
    pub grid: Grid,
    pub stamp: &'a Stamp,
    /// The log, or the two that are compared.
    pub logs: &'a [Fingerprint],
    /// What kind of document it is.
    pub form: &'a str,
    /// The name in the head.
    pub name: &'a str,
}

/// What a head says besides the name.
pub(crate) struct Head {
    pub beside: String,
    /// At the right, this wide.
    pub block: Vec<Shape>,
    pub width: f64,
}

impl Frame<'_> {
    /// Draws the pages.
    pub(crate) fn draw(&self, laid: &Laid<'_>, head: impl Fn(usize) -> Head) -> Drawing {
        laid.draw(self.set, |index, _| {
            let mut shapes = self.foot(&format!("page {} of {}", index + 1, laid.pages()));
            if index > 0 {
                shapes.extend(self.head(head(index)));
            }
            shapes
        })
    }

    fn foot(&self, page: &str) -> Vec<Shape> {
        let (left, right, rule) = (self.grid.left, self.grid.left + self.grid.width, self.grid.foot);
        let mut shapes = vec![Shape::line(left, rule, right, rule, Pen::HEADING)];
        let of_log = |name, log: &Fingerprint| (name, log.head.clone(), format!("entry {}", log.entries));
        let rows = match self.logs {
            [a, b, ..] => vec![of_log("log A", a), of_log("log B", b)],
            [one] => vec![of_log("log", one), ("plan", one.plan_sha256.clone(), "in force".to_owned())],
            [] => Vec::new(),
        };
        for ((name, hex, entry), base) in rows.into_iter().zip([rule + 9.6, rule + 20.2]) {
            let small = |x: f64, text: &str| Shape::text(x, base, 8.0, Face::Medium, text);
            shapes.push(small(left, name));
            shapes.push(Shape::text(left + 24.0, base, 8.0, Face::SemiBold, grouped(&hex, DIGITS)));
            shapes.push(small(left + 216.0, &four_words(&hex)));
            shapes.push(small(left + 332.0, &entry));
        }
        shapes.push(Shape::text(right, rule + 10.4, 9.5, Face::SemiBold, page).anchored(Anchor::End));
        let program =
            cut(self.set, 8.0, Face::Medium, &format!("{} · {}", self.form, self.stamp.program), 116.0);
        shapes.push(Shape::text(right, rule + 20.2, 8.0, Face::Medium, program).anchored(Anchor::End));
        shapes
    }

    fn head(&self, Head { beside, block, width }: Head) -> Vec<Shape> {
        let (set, grid) = (self.set, &self.grid);
        let area = Area { x: grid.left, y: grid.top, width: grid.width, height: 22.0 };
        let base = area.y + 12.0;
        let room = area.width - width - 14.0;
        let name = cut(set, 11.0, Face::SemiBold, self.name, room * 0.55);
        let start = set.width(Face::SemiBold, 11.0, &name) + 9.0;
        // The page number comes last and is never left out.
        let fits = |text: &str| set.width(Face::Medium, 8.0, &set.visible(text)) <= room - start;
        let mut beside = beside.as_str();
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
}

/// The gate, small: black, or framed with the met mark.
pub(crate) fn gate_block(set: &Typesetter, grid: &Grid, word: &str, state: GateState) -> Vec<Shape> {
    let (right, y) = (grid.left + grid.width, grid.top - 1.0);
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
