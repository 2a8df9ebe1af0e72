//! Text that stays in its row: it shrinks to a least size, then letters are left out of its middle.

use crate::theme::heavy;
use egui::{Align, Color32, FontFamily, FontId, Galley, Painter, Pos2, Rect, Role, Sense, Ui, pos2, vec2};
use egui::{Id, WidgetInfo};
use std::borrow::Cow;
use std::sync::Arc;

/// Cap height relative to the size, in the bundled letters.
pub const CAP: f32 = 0.70;
/// Baseline below the top of a row of letters, relative to their size.
const BASELINE: f32 = 1.0;
/// The least text anywhere.
pub const LEAST: f32 = 15.0;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    Medium,
    /// For what is read first.
    Heavy,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hand {
    /// Its size, in points.
    pub size: f32,
    /// The least size it may shrink to.
    pub least: f32,
    pub weight: Weight,
    pub colour: Color32,
}

impl Hand {
    /// The heavier weight; it may shrink to a little over half its size.
    pub const fn heavy(size: f32, colour: Color32) -> Self {
        Self { size, least: size * 0.55, weight: Weight::Heavy, colour }
    }

    pub const fn medium(size: f32, colour: Color32) -> Self {
        Self { size, least: size * 0.8, weight: Weight::Medium, colour }
    }

    pub const fn least(self, least: f32) -> Self {
        Self { least, ..self }
    }

    fn font(&self, size: f32) -> FontId {
        let family = match self.weight {
            Weight::Medium => FontFamily::Proportional,
            Weight::Heavy => heavy(),
        };
        FontId::new(size, family)
    }
}

/// A text laid out for a row.
pub struct Laid {
    galley: Arc<Galley>,
    size: f32,
    pub width: f32,
    /// True if letters had to be left out.
    pub cut: bool,
}

fn layout(painter: &Painter, hand: &Hand, text: &str, size: f32) -> Arc<Galley> {
    painter.layout_no_wrap(text.to_owned(), hand.font(size), hand.colour)
}

/// The text, with each letter that no font has spelled as its code: an empty box could stand for any letter.
fn drawn<'t>(painter: &Painter, hand: &Hand, text: &'t str) -> Cow<'t, str> {
    let font = hand.font(hand.size);
    quantity::shown::visible(text, |c| painter.fonts_mut(|fonts| fonts.has_glyph(&font, c)), |_| ())
}

/// Width of a text as it is drawn, in this hand.
pub fn width(painter: &Painter, hand: &Hand, text: &str) -> f32 {
    layout(painter, hand, &drawn(painter, hand, text), hand.size).size().x
}

pub fn lay(painter: &Painter, hand: &Hand, text: &str, width: f32) -> Laid {
    let text = text.replace(['\n', '\r', '\t'], " ");
    let text = drawn(painter, hand, &text);
    let whole = layout(painter, hand, &text, hand.size);
    let wide = whole.size().x;
    if wide <= width {
        return Laid { galley: whole, size: hand.size, width: wide, cut: false };
    }
    let least = hand.least.max(LEAST).min(hand.size);
    let size = (hand.size * width / wide).floor().max(least);
    let smaller = layout(painter, hand, &text, size);
    if smaller.size().x <= width {
        return Laid { width: smaller.size().x, galley: smaller, size, cut: false };
    }
    let galley = cut(painter, hand, &text, least, width);
    Laid { width: galley.size().x, galley, size: least, cut: true }
}

/// Takes letters out of the middle until it fits.
fn cut(painter: &Painter, hand: &Hand, text: &str, size: f32, width: f32) -> Arc<Galley> {
    let letters: Vec<char> = text.chars().take(400).collect();
    let with = |keep: usize| {
        let (head, tail) = (keep.div_ceil(2), keep / 2);
        let front: String = letters.iter().take(head).collect();
        let back: String = letters.iter().skip(letters.len().saturating_sub(tail)).collect();
        format!("{}…{}", front.trim_end(), back.trim_start())
    };
    let (mut fits, mut over) = (0, letters.len());
    while over - fits > 1 {
        let keep = usize::midpoint(fits, over);
        if layout(painter, hand, &with(keep), size).size().x <= width {
            fits = keep;
        } else {
            over = keep;
        }
    }
    layout(painter, hand, &with(fits), size)
}

impl Laid {
    /// Paints it with the left end and the middle of its capitals at a place; returns the rectangle of its letters.
    pub fn paint(self, painter: &Painter, left: f32, middle: f32) -> Rect {
        let baseline = middle + CAP * self.size / 2.0;
        let at = pos2(left.round(), (baseline - BASELINE * self.size).round());
        let rect = Rect::from_min_size(at, self.galley.size());
        let colour = self.galley.job.sections.first().map_or(Color32::PLACEHOLDER, |s| s.format.color);
        painter.galley(at, self.galley, colour);
        rect
    }
}

/// Writes a text into a rectangle, its capitals in the middle of the height; returns the rectangle it takes.
pub fn put(painter: &Painter, rect: Rect, align: Align, hand: Hand, text: &str) -> Rect {
    if text.is_empty() || rect.width() < 4.0 {
        return Rect::from_min_size(rect.min, vec2(0.0, 0.0));
    }
    let laid = lay(painter, &hand, text, rect.width());
    let left = match align {
        Align::Min => rect.left(),
        Align::Center => rect.center().x - laid.width / 2.0,
        Align::Max => rect.right() - laid.width,
    };
    laid.paint(painter, left, rect.center().y)
}

/// A row of that height centred on `middle`, from `left` to `right`.
pub fn row(left: f32, right: f32, middle: f32, height: f32) -> Rect {
    Rect::from_min_max(Pos2::new(left, middle - height / 2.0), pos2(right, middle + height / 2.0))
}

/// Names what is drawn in a place, for screen readers.
pub fn name(ui: &Ui, rect: Rect, key: &str, words: &str) {
    let response = ui.interact(rect, Id::unique(("text", key)), Sense::hover());
    let words = words.to_owned();
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &words));
}

/// Writes a text and names it.
pub fn say(ui: &Ui, rect: Rect, align: Align, hand: Hand, key: &str, text: &str) -> Rect {
    if text.is_empty() {
        return Rect::from_min_size(rect.min, vec2(0.0, 0.0));
    }
    if lay(ui.painter(), &hand, text, rect.width()).cut {
        whole(ui, rect, key, text);
    } else {
        name(ui, rect, key, text);
    }
    put(ui.painter(), rect, align, hand, text)
}

fn asked_whole() -> Id {
    Id::unique("a text that was cut is to be shown whole")
}

/// Names a text that was cut; a tap shows it in full.
pub fn whole(ui: &Ui, rect: Rect, key: &str, text: &str) {
    let response = ui.interact(rect, Id::unique(("text", key)), Sense::click());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, text));
    if response.clicked() {
        ui.ctx().data_mut(|d| d.insert_temp(asked_whole(), text.to_owned()));
    }
}

/// The text to be shown in full, once.
pub fn take_whole(ui: &Ui) -> Option<String> {
    ui.ctx().data_mut(|d| d.remove_temp(asked_whole()))
}
