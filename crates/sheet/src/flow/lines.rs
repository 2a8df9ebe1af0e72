//! Headings and paragraphs.

use super::Flow;
use crate::draw::{Ink, Pen, Role, Shape};
use crate::text::{Face, wrap};

/// How a paragraph looks.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Style {
    pub face: Face,
    pub size: f64,
    pub ink: Ink,
    /// From the left edge of what is printed.
    pub indent: f64,
}

impl Style {
    pub(crate) const BODY: Self = Self { face: Face::Book, size: 8.5, ink: Ink::Black, indent: 0.0 };
    pub(crate) const SMALL: Self = Self { face: Face::Book, size: 7.5, ink: Ink::Slate, indent: 0.0 };

    /// Distance from one baseline to the next.
    pub(crate) fn leading(self) -> f64 {
        self.size * 1.36
    }
}

impl Flow<'_> {
    /// A section with its heading, kept together with at least `with` points of what follows.
    pub(crate) fn section(&mut self, title: &str, with: f64, inside: impl FnOnce(&mut Self)) {
        self.need(34.0 + with);
        self.gap(16.0);
        self.bookmark(title);
        self.group(Role::Section, |flow| {
            flow.group(Role::Heading(2, title.to_owned()), |flow| {
                let (x, y) = (flow.left(), flow.y + 11.0);
                flow.mark(vec![Shape::text(x, y, 11.5, Face::Bold, title)]);
            });
            flow.y += 17.0;
            inside(flow);
        });
    }

    /// A paragraph over the whole width; breaks across pages between lines.
    pub(crate) fn paragraph(&mut self, text: &str, style: Style) {
        let text = self.set.visible(text).into_owned();
        let lines = wrap(self.set, style.face, style.size, &text, self.width() - style.indent);
        self.group(Role::Paragraph, |flow| flow.lines(&lines, style));
        self.y += style.size * 0.35;
    }

    /// Lines one below the other.
    pub(crate) fn lines(&mut self, lines: &[String], style: Style) {
        let mut shapes = Vec::new();
        for (i, line) in lines.iter().enumerate() {
            if self.room() < style.leading() && !self.at_top() {
                if !shapes.is_empty() {
                    self.mark(std::mem::take(&mut shapes));
                }
                self.new_page();
            }
            let baseline = self.y + style.size;
            // A space at the end of a broken line keeps the words apart for whoever reads the text alone.
            let text = if i + 1 < lines.len() { format!("{line} ") } else { line.clone() };
            let x = self.left() + style.indent;
            shapes.push(Shape::text(x, baseline, style.size, style.face, text).inked(style.ink));
            self.y += style.leading();
        }
        if !shapes.is_empty() {
            self.mark(shapes);
        }
    }

    /// A list of paragraphs, each with a short dash before it.
    pub(crate) fn list<'t>(&mut self, items: impl IntoIterator<Item = &'t str>, style: Style) {
        let mut style = style;
        style.indent += 11.0;
        let items: Vec<&str> = items.into_iter().collect();
        self.group(Role::List, |flow| {
            for item in items {
                flow.need(style.leading());
                let (x, y) = (flow.left() + style.indent - 9.0, flow.y + style.size * 0.68);
                flow.furnish(vec![Shape::line(x, y, x + 5.0, y, Pen::new(Ink::Slate, 0.9))]);
                let text = flow.set.visible(item).into_owned();
                let lines = wrap(flow.set, style.face, style.size, &text, flow.width() - style.indent);
                flow.group(Role::ListItem, |flow| flow.lines(&lines, style));
                flow.y += style.size * 0.3;
            }
        });
    }
}
