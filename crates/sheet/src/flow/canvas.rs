//! Where pieces draw: pages, and the structure of their contents.

use super::area::{Area, Group};
use crate::Size;
use crate::draw::{Bookmark, Drawing, Leaf, Mark, Node, Page, Role, Shape};
use crate::plot::mark;
use crate::text::Typesetter;
use assess::view::Verdict;
use std::collections::BTreeMap;

pub(crate) struct Canvas<'a> {
    pub set: &'a Typesetter,
    /// The first page of each chapter, from 1.
    pub chapters: BTreeMap<&'static str, usize>,
    drawing: Drawing,
    /// Open groups: those of the piece, then those opened inside it.
    open: Vec<(Option<u32>, Role, Vec<Node>)>,
    leaves: usize,
}

impl<'a> Canvas<'a> {
    pub(super) fn new(set: &'a Typesetter, page: Size, chapters: BTreeMap<&'static str, usize>) -> Self {
        let drawing = Drawing { width: page.width, height: page.height, ..Drawing::default() };
        Self { set, chapters, drawing, open: Vec::new(), leaves: 0 }
    }

    pub(super) fn new_page(&mut self) {
        self.drawing.pages.push(Page::default());
    }

    /// Puts shapes on the page as part of the structure.
    pub(crate) fn mark(&mut self, shapes: Vec<Shape>) {
        self.put_leaf(None, shapes);
    }

    /// The same, with a text for screen readers in place of the shapes.
    pub(crate) fn mark_said(&mut self, said: &str, shapes: Vec<Shape>) {
        let said = self.set.visible(said).into_owned();
        self.put_leaf(Some(said), shapes);
    }

    /// One of the seven marks, with its word for screen readers.
    pub(crate) fn state(&mut self, state: Verdict, x: f64, y: f64, size: f64) {
        self.mark_said(state.obligation_word(), mark(state, x, y, size));
    }

    fn put_leaf(&mut self, said: Option<String>, shapes: Vec<Shape>) {
        if shapes.is_empty() {
            return;
        }
        let leaf = Leaf(self.leaves);
        self.leaves += 1;
        self.put(Mark { leaf: Some(leaf), said, shapes });
        self.child(Node::Leaf(leaf));
    }

    /// Puts decorative shapes on the page.
    pub(crate) fn furnish(&mut self, shapes: Vec<Shape>) {
        self.put(Mark { leaf: None, said: None, shapes });
    }

    fn put(&mut self, mark: Mark) {
        if let Some(page) = self.drawing.pages.last_mut() {
            page.marks.push(mark);
        }
    }

    fn child(&mut self, node: Node) {
        match self.open.last_mut() {
            Some((_, _, children)) => children.push(node),
            None => self.drawing.root.push(node),
        }
    }

    fn close(&mut self) {
        if let Some((_, role, mut children)) = self.open.pop()
            && !children.is_empty()
        {
            // Most groups have one child, and a long wing has tens of thousands of them.
            children.shrink_to_fit();
            self.child(Node::Group(role, children));
        }
    }

    /// Everything that `inside` marks becomes part of a group with this role.
    pub(crate) fn group(&mut self, role: Role, inside: impl FnOnce(&mut Self)) {
        self.open.push((None, role, Vec::new()));
        inside(self);
        self.close();
    }

    /// Opens the groups of a piece; those it shares with the piece before stay open.
    pub(super) fn within(&mut self, groups: &[Group]) {
        let same = self.open.iter().zip(groups).take_while(|((id, ..), group)| *id == Some(group.id)).count();
        while self.open.len() > same {
            self.close();
        }
        for group in groups.iter().skip(same) {
            self.open.push((Some(group.id), group.role.clone(), Vec::new()));
        }
    }

    pub(crate) fn bookmark(&mut self, title: &str, y: f64) {
        let page = self.drawing.pages.len().saturating_sub(1);
        self.drawing.bookmarks.push(Bookmark { title: title.to_owned(), page, y });
    }

    /// A line of text with the role of a heading or a paragraph.
    pub(crate) fn said(&mut self, role: Role, shapes: Vec<Shape>) {
        self.group(role, |canvas| canvas.mark(shapes));
    }

    /// The drawing, with what `furniture` adds to each page by its index.
    pub(super) fn finish(mut self, furniture: impl Fn(usize, Area) -> Vec<Shape>) -> Drawing {
        self.within(&[]);
        let whole = Area { x: 0.0, y: 0.0, width: self.drawing.width, height: self.drawing.height };
        for (index, page) in self.drawing.pages.iter_mut().enumerate() {
            page.marks.push(Mark { leaf: None, said: None, shapes: furniture(index, whole) });
        }
        self.drawing
    }
}
