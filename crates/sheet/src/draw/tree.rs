//! Pages with marks on them, and the structure the marks belong to: headings, paragraphs, tables, figures.

use super::Shape;

#[derive(Debug, Default)]
pub(crate) struct Drawing {
    pub width: f64,
    pub height: f64,
    pub pages: Vec<Page>,
    /// The structure in reading order.
    pub root: Vec<Node>,
    pub bookmarks: Vec<Bookmark>,
}

#[derive(Debug, Default)]
pub(crate) struct Page {
    pub marks: Vec<Mark>,
}

/// Shapes that belong together. Without a leaf they are decoration: rules, running heads.
#[derive(Debug)]
pub(crate) struct Mark {
    pub leaf: Option<Leaf>,
    /// The text for screen readers in place of the shapes.
    pub said: Option<String>,
    pub shapes: Vec<Shape>,
}

/// Names a mark in the structure; each is drawn once.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Leaf(pub usize);

#[derive(Debug)]
pub(crate) enum Node {
    Leaf(Leaf),
    Group(Role, Vec<Node>),
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Role {
    Section,
    /// A heading of this level, from 1.
    Heading(u16, String),
    Paragraph,
    Table,
    TableHead,
    TableBody,
    Row,
    HeadCell,
    /// A cell that spans this many columns.
    Cell(u32),
    Figure(String),
}

/// A jump target: page from 0, and how far down.
#[derive(Debug)]
pub(crate) struct Bookmark {
    pub title: String,
    pub page: usize,
    pub y: f64,
}
