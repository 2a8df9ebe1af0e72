//! A piece: a strip of the sheet that is never cut.

use super::Canvas;
use super::area::{Area, Group};
use std::rc::Rc;

#[derive(Clone, Copy)]
pub(super) enum Height {
    Fixed(f64),
    /// A table's row: its first line takes the row height of the page, plus this.
    Row(f64),
}

/// Whether a piece takes spare height, and how high it may become.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Stretch {
    No,
    /// A plot: spare height goes to these first.
    Plot(f64),
    /// Boxes to sign.
    Boxes(f64),
    /// The space above a heading, if nothing else can take it.
    Gap,
}

/// Whether a piece begins a page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Break {
    Always(&'static str),
    /// If the page before is full without it.
    Full(&'static str),
}

impl Break {
    pub(crate) const fn of(self, chapter: &'static str) -> Self {
        match self {
            Self::Always(_) => Self::Always(chapter),
            Self::Full(_) => Self::Full(chapter),
        }
    }

    pub(super) const fn chapter(self) -> &'static str {
        match self {
            Self::Always(chapter) | Self::Full(chapter) => chapter,
        }
    }
}

pub(super) type Draw<'a> = Rc<dyn Fn(&mut Canvas<'_>, Area) + 'a>;

/// A strip of the sheet that is never cut.
#[derive(Clone)]
pub(crate) struct Piece<'a> {
    pub(super) height: Height,
    pub(super) stretch: Stretch,
    /// Never separated from the next piece.
    pub(super) keep: bool,
    pub(super) within: Rc<[Group]>,
    /// What is repeated above it if it begins a page.
    pub(super) again: Option<Rc<Piece<'a>>>,
    pub(super) breaks: Option<Break>,
    pub(super) draw: Draw<'a>,
}

impl Piece<'_> {
    pub(super) fn height(&self, pitch: f64) -> f64 {
        match &self.height {
            Height::Fixed(height) => *height,
            Height::Row(more) => pitch + more,
        }
    }

    /// How much higher it may become.
    pub(super) fn spare(&self, height: f64) -> f64 {
        match self.stretch {
            Stretch::Plot(most) | Stretch::Boxes(most) => (most - height).max(0.0),
            Stretch::No | Stretch::Gap => 0.0,
        }
    }
}
