//! The place where the next thing goes.

use crate::Paper;
use crate::draw::{Bookmark, Drawing, Leaf, Mark, Node, Page, Role, Shape};
use crate::text::Typesetter;

/// Space around what is printed, in points.
pub(crate) const MARGIN: f64 = 44.0;
const TOP: f64 = 36.0;
/// Height of the running head of every page but the first.
const HEAD: f64 = 26.0;
/// Height kept for the foot with the fingerprint.
const FOOT: f64 = 66.0;

/// A drawing in the making.
pub(crate) struct Flow<'a> {
    pub set: &'a Typesetter,
    drawing: Drawing,
    /// Where the next thing goes, downward from the top of the page.
    pub y: f64,
    open: Vec<(Role, Vec<Node>)>,
    leaves: usize,
}

impl<'a> Flow<'a> {
    pub(crate) fn new(set: &'a Typesetter, paper: Paper) -> Self {
        let (width, height) = paper.size_pt();
        let drawing = Drawing { width, height, pages: vec![Page::default()], ..Drawing::default() };
        Self { set, drawing, y: TOP, open: Vec::new(), leaves: 0 }
    }

    /// Left edge of what is printed.
    pub(crate) const fn left(&self) -> f64 {
        MARGIN
    }

    /// Width of what is printed.
    pub(crate) fn width(&self) -> f64 {
        self.drawing.width - 2.0 * MARGIN
    }

    /// Lowest place that may be printed on.
    pub(crate) fn floor(&self) -> f64 {
        self.drawing.height - FOOT
    }

    /// Height left on this page.
    pub(crate) fn room(&self) -> f64 {
        self.floor() - self.y
    }

    /// Height of an empty page after the first.
    pub(crate) fn page_room(&self) -> f64 {
        self.floor() - TOP - HEAD
    }

    /// True while this page is empty.
    pub(crate) fn at_top(&self) -> bool {
        self.drawing.pages.len() > 1 && self.y <= TOP + HEAD
    }

    /// Goes on at the top of a new page.
    pub(crate) fn new_page(&mut self) {
        self.drawing.pages.push(Page::default());
        self.y = TOP + HEAD;
    }

    /// Starts a new page if less than this height is left.
    pub(crate) fn need(&mut self, height: f64) {
        if self.room() < height && !self.at_top() {
            self.new_page();
        }
    }

    /// Leaves space, but not at the top of a page.
    pub(crate) fn gap(&mut self, height: f64) {
        if !self.at_top() {
            self.y += height;
        }
    }

    /// Puts shapes on this page as part of the structure.
    pub(crate) fn mark(&mut self, shapes: Vec<Shape>) {
        let leaf = Leaf(self.leaves);
        self.leaves += 1;
        self.put(Some(leaf), shapes);
        self.child(Node::Leaf(leaf));
    }

    /// Puts shapes on this page that are no part of what it says.
    pub(crate) fn furnish(&mut self, shapes: Vec<Shape>) {
        self.put(None, shapes);
    }

    fn put(&mut self, leaf: Option<Leaf>, shapes: Vec<Shape>) {
        if let Some(page) = self.drawing.pages.last_mut() {
            page.marks.push(Mark { leaf, shapes });
        }
    }

    fn child(&mut self, node: Node) {
        match self.open.last_mut() {
            Some((_, children)) => children.push(node),
            None => self.drawing.root.push(node),
        }
    }

    /// Everything that `inside` marks becomes part of a group of this role.
    pub(crate) fn group(&mut self, role: Role, inside: impl FnOnce(&mut Self)) {
        self.open.push((role, Vec::new()));
        inside(self);
        if let Some((role, children)) = self.open.pop()
            && !children.is_empty()
        {
            self.child(Node::Group(role, children));
        }
    }

    /// A place to jump to, here.
    pub(crate) fn bookmark(&mut self, title: &str) {
        let page = self.drawing.pages.len() - 1;
        self.drawing.bookmarks.push(Bookmark { title: title.to_owned(), page, y: self.y });
    }

    /// The drawing, with what `furniture` makes for each page from its index and their number.
    pub(crate) fn finish(
        mut self,
        furniture: impl Fn(&Typesetter, usize, usize, f64, f64) -> Vec<Shape>,
    ) -> Drawing {
        let pages = self.drawing.pages.len();
        let (width, height) = (self.drawing.width, self.drawing.height);
        for (index, page) in self.drawing.pages.iter_mut().enumerate() {
            let shapes = furniture(self.set, index, pages, width, height);
            page.marks.push(Mark { leaf: None, shapes });
        }
        self.drawing
    }
}
