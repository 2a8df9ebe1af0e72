//! Columns and the cells in them.

use crate::draw::Shape;
use crate::flow::Area;
use assess::view::Verdict;
use std::rc::Rc;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Align {
    Left,
    Right,
    /// At the decimal mark.
    Point,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Width {
    /// As wide as its content, wrapped only if nothing else fits.
    Fit,
    /// The width left by the others.
    Share,
    Points(f64),
}

#[derive(Clone, Debug)]
pub(crate) struct Column {
    pub(in crate::flow) head: String,
    pub(in crate::flow) align: Align,
    pub(in crate::flow) width: Width,
}

impl Column {
    pub(crate) fn text(head: impl Into<String>) -> Self {
        Self { head: head.into(), align: Align::Left, width: Width::Fit }
    }

    pub(crate) fn words(head: impl Into<String>) -> Self {
        Self { head: head.into(), align: Align::Left, width: Width::Share }
    }

    pub(crate) fn figures(head: impl Into<String>) -> Self {
        Self { head: head.into(), align: Align::Point, width: Width::Fit }
    }

    pub(crate) fn count(head: impl Into<String>) -> Self {
        Self { head: head.into(), align: Align::Right, width: Width::Fit }
    }

    pub(crate) fn marks() -> Self {
        Self { head: String::new(), align: Align::Left, width: Width::Points(8.0) }
    }

    pub(crate) fn picture(head: impl Into<String>, width: f64) -> Self {
        Self { head: head.into(), align: Align::Left, width: Width::Points(width) }
    }
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

pub(crate) type Row<'a> = Vec<Cell<'a>>;
