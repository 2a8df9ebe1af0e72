//! Building pieces: headings, lines, tables, pictures, two stacks side by side.

use super::Canvas;
use super::area::{Area, Group};
use super::measure::{LEAD, MM, PITCH, TEXT, fitted};
use super::piece::{Break, Draw, Height, Piece, Stretch};
use crate::draw::{Anchor, Pen, Role, Shape, many};
use crate::plot::{Dots, mark};
use crate::text::{Face, Typesetter, wrap};
use assess::view::Verdict;
use std::cell::Cell as Counter;
use std::rc::Rc;

/// Two stacks side by side are no higher than this.
const PAIRED: f64 = 330.0;

type Run = (Face, String);

/// How high a plot usually is, and how high it may become.
#[derive(Clone, Copy, Debug)]
pub(crate) struct PlotHeight {
    pub usual: f64,
    pub most: f64,
}

/// Pieces one below the other, all of one width.
pub(crate) struct Stack<'a> {
    pub set: &'a Typesetter,
    pub width: f64,
    pub(super) pieces: Vec<Piece<'a>>,
    section: Vec<Group>,
    ids: Rc<Counter<u32>>,
    breaks: Option<Break>,
}

impl<'a> Stack<'a> {
    pub(crate) fn new(set: &'a Typesetter, width: f64) -> Self {
        let ids = Rc::new(Counter::new(1));
        Self { set, width, pieces: Vec::new(), section: Vec::new(), ids, breaks: None }
    }

    pub(crate) fn into_pieces(self) -> Vec<Piece<'a>> {
        self.pieces
    }

    /// Height of everything so far at the usual row height.
    pub(crate) fn height(&self) -> f64 {
        self.pieces.iter().map(|p| p.height(PITCH)).sum()
    }

    /// The next piece begins a chapter.
    pub(crate) const fn chapter(&mut self, breaks: Break) {
        self.breaks = Some(breaks);
    }

    pub(super) fn group(&self, role: Role) -> Group {
        let id = self.ids.get();
        self.ids.set(id + 1);
        Group { id, role }
    }

    /// The groups of the section, with these inside.
    pub(super) fn inside(&self, groups: &[Group]) -> Rc<[Group]> {
        self.section.iter().chain(groups).cloned().collect()
    }

    pub(super) fn push(&mut self, height: Height, stretch: Stretch, draw: Draw<'a>) -> &mut Piece<'a> {
        let (within, breaks) = (self.inside(&[]), self.breaks.take());
        self.pieces.push(Piece { height, stretch, keep: false, within, again: None, breaks, draw });
        let last = self.pieces.len() - 1;
        &mut self.pieces[last]
    }

    pub(crate) fn fixed(&mut self, height: f64, draw: impl Fn(&mut Canvas<'_>, Area) + 'a) {
        self.push(Height::Fixed(height), Stretch::No, Rc::new(draw));
    }

    /// Something that may be higher than necessary.
    pub(crate) fn stretched(
        &mut self,
        height: f64,
        stretch: Stretch,
        draw: impl Fn(&mut Canvas<'_>, Area) + 'a,
    ) {
        self.push(Height::Fixed(height), stretch, Rc::new(draw));
    }

    /// A picture of values by place, with its text for people who cannot see it.
    pub(crate) fn figure(&mut self, dots: Dots, about: String, height: PlotHeight) {
        self.stretched(height.usual, Stretch::Plot(height.most), move |canvas, area| {
            let shapes = dots.draw(canvas.set, area);
            canvas.said(Role::Figure(about.clone()), shapes);
        });
    }

    pub(crate) fn keep(&mut self) {
        if let Some(piece) = self.pieces.last_mut() {
            piece.keep = true;
        }
    }

    /// A heading with a note after it and, at the right, a mark with words.
    pub(crate) fn heading(&mut self, title: &str, note: &str, right: Option<(Verdict, String)>) {
        self.heading_of(title, &[note.to_owned()], right);
    }

    /// A heading with the first of these notes that there is room for; the last is cut if there is none.
    pub(crate) fn heading_of(&mut self, title: &str, notes: &[String], right: Option<(Verdict, String)>) {
        let section = self.group(Role::Section);
        self.section = vec![section];
        let title = self.set.visible(title).into_owned();
        let ends =
            right.as_ref().map_or(0.0, |(_, words)| 16.0 + self.set.width(Face::SemiBold, TEXT, words));
        let start = self.set.width(Face::SemiBold, 11.0, &title) + 8.0;
        let room = self.width - start - ends - 6.0;
        let fits = |note: &&String| self.set.width(Face::Medium, 8.0, &self.set.visible(note)) <= room;
        let note = notes.iter().find(fits).or(notes.last()).map_or("", String::as_str);
        let note = fitted(self.set, 8.0, Face::Medium, note, room);
        let gap = if self.pieces.is_empty() { 14.0 } else { 6.3 * MM };
        let draw = move |canvas: &mut Canvas<'_>, area: Area| {
            let base = area.bottom() - 1.4 * MM - 1.6;
            canvas.bookmark(&title, base - 11.0);
            let mut shapes = vec![Shape::text(area.x, base, 11.0, Face::SemiBold, title.as_str())];
            if !note.is_empty() {
                shapes.push(Shape::text(area.x + start, base, 8.0, Face::Medium, note.as_str()));
            }
            canvas.said(Role::Heading(2, title.clone()), shapes);
            if let Some((state, words)) = &right {
                canvas.group(Role::Paragraph, |canvas| {
                    canvas.state(*state, area.right() - ends + 6.0, base - 3.0, 7.0);
                    let words = Shape::text(area.right(), base, TEXT, Face::SemiBold, words.as_str());
                    canvas.mark(vec![words.anchored(Anchor::End)]);
                });
            }
            let rule = area.bottom() - 1.6;
            canvas.furnish(vec![Shape::line(area.x, rule, area.right(), rule, Pen::HEADING)]);
        };
        self.push(Height::Fixed(gap + 1.4 * MM + 1.6), Stretch::Gap, Rc::new(draw)).keep = true;
    }

    /// A paragraph with its first words in bold; only its first two lines are kept together.
    pub(crate) fn paragraph(&mut self, strong: &str, text: &str) {
        self.lines(TEXT, LEAD, strong, text);
    }

    pub(crate) fn note(&mut self, text: &str) {
        self.lines(8.0, 10.4, "", text);
    }

    fn lines(&mut self, size: f64, lead: f64, strong: &str, text: &str) {
        let (strong, text) = (self.set.visible(strong).into_owned(), self.set.visible(text).into_owned());
        let lines = runs(self.set, size, &strong, &text, self.width);
        let paragraph = self.group(Role::Paragraph);
        let (within, count) = (self.inside(&[paragraph]), lines.len());
        for (i, line) in lines.into_iter().enumerate() {
            let draw = move |canvas: &mut Canvas<'_>, area: Area| {
                let mut x = area.x;
                let mut shapes = Vec::new();
                for (face, text) in &line {
                    let shown = Shape::text(x, area.y + size * 0.98 + 1.2, size, *face, text.as_str());
                    shapes.push(shown);
                    x += canvas.set.width(*face, size, text);
                }
                canvas.mark(shapes);
            };
            let height = if i + 1 == count { lead + 2.2 } else { lead };
            let piece = self.push(Height::Fixed(height), Stretch::No, Rc::new(draw));
            piece.within = Rc::clone(&within);
            piece.keep = i == 0 && count > 1;
        }
    }

    /// All of them, two to a row.
    pub(crate) fn abreast<'t, T>(&mut self, all: &'t [T], draw: impl Fn(&mut Stack<'a>, &'t T)) {
        for two in all.chunks(2) {
            match two {
                [one, other] => self.pair(0.5, |k| draw(k, one), |k| draw(k, other)),
                one => one.iter().for_each(|one| draw(self, one)),
            }
        }
    }

    /// Two stacks side by side if they are short, otherwise one below the other. `share` is the width of the left
    /// one.
    pub(crate) fn pair(&mut self, share: f64, left: impl Fn(&mut Stack<'a>), right: impl Fn(&mut Stack<'a>)) {
        let gap = 6.3 * MM;
        let wide = (self.width - gap) * share;
        let side = |width: f64, fill: &dyn Fn(&mut Stack<'a>)| {
            let mut stack = Stack::new(self.set, width);
            stack.ids = Rc::clone(&self.ids);
            fill(&mut stack);
            stack
        };
        let (a, b) = (side(wide, &left), side(self.width - gap - wide, &right));
        if a.height().max(b.height()) > PAIRED {
            for fill in [&left as &dyn Fn(&mut Stack<'a>), &right] {
                let mut one = side(self.width, fill);
                one.pieces.iter_mut().take(1).for_each(|p| p.breaks = self.breaks.take());
                self.pieces.append(&mut one.pieces);
            }
            return;
        }
        let plots = |s: &Stack<'a>| s.pieces.iter().any(|p| matches!(p.stretch, Stretch::Plot(_)));
        let tallest =
            |s: &Stack<'a>| s.height() + s.pieces.iter().map(|p| p.spare(p.height(PITCH))).sum::<f64>();
        let most = tallest(&a).max(tallest(&b));
        let stretch = if plots(&a) || plots(&b) { Stretch::Plot(most) } else { Stretch::No };
        let (a, b) = (Rc::new(a), Rc::new(b));
        // Its rows are drawn at the usual height, whatever that of the page is.
        let height = Height::Fixed(a.height().max(b.height()));
        let draw = move |canvas: &mut Canvas<'_>, area: Area| {
            for (stack, x) in [(&a, area.x), (&b, area.x + wide + gap)] {
                stack.draw_in(canvas, Area { x, width: stack.width, ..area });
            }
        };
        let piece = self.push(height, stretch, Rc::new(draw));
        piece.within = Rc::new([]);
    }

    /// Draws the stack in an area; its plots share the spare height.
    fn draw_in(&self, canvas: &mut Canvas<'_>, area: Area) {
        let heights: Vec<f64> = self.pieces.iter().map(|p| p.height(PITCH)).collect();
        let spare = (area.height - heights.iter().sum::<f64>()).max(0.0);
        let is_plot = |p: &Piece<'_>| matches!(p.stretch, Stretch::Plot(_));
        let plots = self.pieces.iter().filter(|p| is_plot(p)).count();
        let share = spare / many(plots.max(1));
        let mut y = area.y;
        let taken: f64 = self
            .pieces
            .iter()
            .zip(&heights)
            .filter(|(p, _)| is_plot(p))
            .map(|(p, h)| p.spare(*h).min(share))
            .sum();
        let mut over = (spare - taken).max(0.0);
        for (piece, height) in self.pieces.iter().zip(heights) {
            let height = if is_plot(piece) {
                let first = piece.spare(height).min(share);
                let more = (piece.spare(height) - first).min(over);
                over -= more;
                height + first + more
            } else {
                height
            };
            canvas.within(&piece.within);
            (piece.draw)(canvas, Area { x: area.x, y, width: self.width, height });
            y += height;
        }
        canvas.within(&[]);
    }

    /// A mark with words after it, drawn at a baseline.
    pub(crate) fn marked(state: Verdict, x: f64, base: f64, words: &str) -> Vec<Shape> {
        let mut shapes = mark(state, x + 3.5, base - 3.0, 7.0);
        shapes.push(Shape::text(x + 12.0, base, TEXT, Face::SemiBold, words));
        shapes
    }
}

pub(crate) fn runs_width(set: &Typesetter, size: f64, runs: &[Run]) -> f64 {
    runs.iter().map(|(face, text)| set.width(*face, size, text)).sum()
}

/// A bold beginning and the text after it, broken into lines.
fn runs(set: &Typesetter, size: f64, strong: &str, text: &str, width: f64) -> Vec<Vec<Run>> {
    if strong.is_empty() {
        let lines = wrap(set, Face::Medium, size, text, width);
        let last = lines.len();
        // A space at the end of a broken line keeps the words apart in extracted text.
        let line = |(i, line): (usize, String)| {
            vec![(Face::Medium, if i + 1 < last { format!("{line} ") } else { line })]
        };
        return lines.into_iter().enumerate().map(line).collect();
    }
    let words =
        strong.split(' ').map(|w| (Face::SemiBold, w)).chain(text.split(' ').map(|w| (Face::Medium, w)));
    let mut lines: Vec<Vec<Run>> = vec![Vec::new()];
    let mut filled = 0.0;
    for (face, word) in words.filter(|(_, w)| !w.is_empty()) {
        for piece in wrap(set, face, size, word, width) {
            let wide = set.width(face, size, &format!("{piece} "));
            if filled + wide > width + size * 0.2 && filled > 0.0 {
                lines.push(Vec::new());
                filled = 0.0;
            }
            if let Some(line) = lines.last_mut() {
                match line.last_mut() {
                    Some((last, text)) if *last == face => text.push_str(&format!("{piece} ")),
                    _ => line.push((face, format!("{piece} "))),
                }
            }
            filled += wide;
        }
    }
    lines
}
