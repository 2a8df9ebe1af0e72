//! What the lines and shapes of a plot mean.

use crate::draw::{Ink, Shape};
use crate::text::{Face, Typesetter};

/// One line of a legend: how to draw its sample between two places, and its words.
pub(super) struct Entry {
    /// The sample, drawn around this middle, 16 points wide at text size 8.
    pub sample: Box<dyn Fn(f64, f64, f64) -> Vec<Shape>>,
    pub words: String,
}

impl Entry {
    /// An entry; `sample` is given the middle of its place and the text size.
    pub(super) fn new(
        words: impl Into<String>,
        sample: impl Fn(f64, f64, f64) -> Vec<Shape> + 'static,
    ) -> Self {
        Self { sample: Box::new(sample), words: words.into() }
    }
}

/// Entries one after the other, in as many rows as the width asks for; the shapes and the height.
pub(super) fn legend(
    set: &Typesetter,
    entries: &[Entry],
    (left, top): (f64, f64),
    width: f64,
    size: f64,
) -> (Vec<Shape>, f64) {
    let (row, sample) = (size * 1.6, size * 2.2);
    let (mut x, mut y) = (left, top + size);
    let mut shapes = Vec::new();
    for entry in entries {
        let wide = sample + size * 0.4 + set.width(Face::Book, size, &entry.words);
        if x > left && x + wide > left + width {
            x = left;
            y += row;
        }
        shapes.extend((entry.sample)(x + sample / 2.0, y - size * 0.35, size));
        shapes.push(
            Shape::text(x + sample + size * 0.4, y, size, Face::Book, entry.words.as_str()).inked(Ink::Slate),
        );
        x += wide + size * 1.4;
    }
    (shapes, y - top + size * 0.5)
}
