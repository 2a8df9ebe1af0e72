//! Columns and the cells in them.

use crate::draw::Shape;
use crate::flow::Area;
use assess::view::Verdict;
use std::rc::Rc;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::flow) enum Align {
    Left,
    Right,
    /// At the decimal mark.
    Point,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::flow) enum Width {
    /// As wide as its content, wrapped only if nothing else fits.
    Fit,
    /// The width left by the others.
    Share,
    Points(f64),
}

#[derive(Clone, Debug)]
pub(in crate::flow) struct Column {
    pub head: String,
    pub align: Align,
    pub width: Width,
}

pub(crate) type CellPicture<'a> = Rc<dyn Fn(Area) -> Vec<Shape> + 'a>;

#[derive(Clone)]
pub(crate) enum Cell<'a> {
    Empty,
    Text(String),
    Strong(String),
    /// A value and the text after it: `+0.35` and ` ± 0.04°`.
    Value(String, String),
    /// A mark; its size.
    Mark(Verdict, f64),
    Word(Verdict, String),
    /// The page on which a chapter begins.
    Page(&'static str),
    Picture(CellPicture<'a>, String),
    /// An empty box to write in, in a row of this height.
    Blank(f64),
}

impl Cell<'_> {
    pub(crate) fn text(text: impl Into<String>) -> Self {
        Self::Text(text.into())
    }

    pub(crate) fn strong(text: impl Into<String>) -> Self {
        Self::Strong(text.into())
    }

    pub(crate) fn maybe(text: Option<impl Into<String>>) -> Self {
        text.map_or(Self::Empty, |text| Self::Text(text.into()))
    }

    /// `+0.35 ±0.04°`, the value in bold.
    pub(crate) fn value(shown: &str) -> Self {
        match shown.split_once(" ±") {
            Some((value, rest)) => Self::Value(value.to_owned(), format!(" ± {rest}")),
            None => Self::Strong(shown.to_owned()),
        }
    }
}
