//! The value that is read across the shop: as large as the place allows, with a ring that closes as it settles.

use crate::live::Arrow;
use crate::paint::marks;
use crate::theme::Palette;
use egui::{Color32, FontFamily, FontId, Painter, Pos2, Rect, Shape, Stroke, pos2, vec2};

/// Largest size of a figure in physical pixels; beyond it a face 3 m away gains nothing.
const MOST_PIXELS: f32 = 420.0;

/// What is drawn.
pub struct Big<'a> {
    /// The figures.
    pub text: &'a str,
    /// Their unit, drawn smaller after them.
    pub unit: &'a str,
    /// The line below: deviation and what to do.
    pub under: &'a str,
    /// The arrow.
    pub arrow: Option<Arrow>,
    /// How far the ring has closed, 0 to 1; none for no ring.
    pub ring: Option<f32>,
    /// The colour of figures and ring.
    pub colour: Color32,
}

/// The size at which a text just fits a box, in points.
pub fn fitting(painter: &Painter, text: &str, family: &FontFamily, room: egui::Vec2) -> f32 {
    let probe = 40.0;
    let galley = painter.layout_no_wrap(text.to_owned(), FontId::new(probe, family.clone()), Color32::WHITE);
    let size = galley.size();
    let fit = probe * (room.x / size.x.max(1.0)).min(room.y / size.y.max(1.0));
    stepped(painter, fit)
}

/// A size for what would fit: not beyond what helps, and one of a few, since every size of a letter is kept as a picture.
fn stepped(painter: &Painter, fit: f32) -> f32 {
    const TO_AN_OCTAVE: f32 = 16.0;
    let size = fit.min(MOST_PIXELS / painter.pixels_per_point()).max(6.0);
    ((size.log2() * TO_AN_OCTAVE).floor() / TO_AN_OCTAVE).exp2()
}

/// Draws it into a rectangle.
pub fn draw(painter: &Painter, p: &Palette, rect: Rect, big: &Big<'_>) {
    let ring_room = if big.ring.is_some() { (rect.height() * 0.5).min(rect.width() * 0.2) } else { 0.0 };
    let pad = rect.height() * 0.04;
    let under_height = rect.height() * 0.24;
    let figures = Rect::from_min_max(
        pos2(rect.left() + ring_room + pad, rect.top()),
        pos2(rect.right() - pad, rect.bottom() - under_height),
    );
    draw_figures(painter, figures, big);
    if let Some(share) = big.ring {
        let centre = pos2(rect.left() + ring_room * 0.55, figures.center().y);
        ring(painter, p, centre, ring_room * 0.4, share, big.colour);
    }
    let foot =
        Rect::from_min_max(pos2(rect.left() + pad, rect.bottom() - under_height), rect.max - vec2(pad, 0.0));
    under(painter, p, foot, big);
}

/// Share of the figures' size that their unit has.
const UNIT_SHARE: f32 = 0.5;

fn draw_figures(painter: &Painter, room: Rect, big: &Big<'_>) {
    let lay = |text: &str, size: f32| {
        painter.layout_no_wrap(text.to_owned(), FontId::proportional(size), big.colour)
    };
    let probe = 40.0;
    let (figures, unit) = (lay(big.text, probe).size(), lay(big.unit, probe * UNIT_SHARE).size());
    let gap = if big.unit.is_empty() { 0.0 } else { probe * 0.08 };
    let width = (figures.x + gap + unit.x).max(1.0);
    let fit = probe * (room.width() / width).min(room.height() / figures.y.max(1.0));
    let size = stepped(painter, fit);
    let scale = size / probe;
    let left = room.center().x - width * scale / 2.0;
    let galley = lay(big.text, size);
    let top = room.center().y - galley.size().y / 2.0;
    heavy(painter, pos2(left, top), &galley, size, big.colour);
    let small = lay(big.unit, size * UNIT_SHARE);
    let degree = big.unit.starts_with('\u{b0}');
    let at_y = if degree { top + size * 0.08 } else { top + galley.size().y * 0.86 - small.size().y };
    heavy(painter, pos2(left + (figures.x + gap) * scale, at_y), &small, size * UNIT_SHARE, big.colour);
}

/// Copies that make a stroke heavier, four of them along its edges: with so many no gap between them can be seen.
const COPIES: u8 = 8;

/// Draws text with heavier strokes, so that it carries across the shop.
fn heavy(painter: &Painter, at: Pos2, galley: &std::sync::Arc<egui::Galley>, size: f32, colour: Color32) {
    let by = size * 0.011;
    for step in 0..COPIES {
        let angle = f32::from(step) / f32::from(COPIES) * std::f32::consts::TAU;
        painter.galley(at + vec2(angle.cos(), angle.sin()) * by, std::sync::Arc::clone(galley), colour);
    }
}

fn under(painter: &Painter, p: &Palette, foot: Rect, big: &Big<'_>) {
    let arrow_room = if big.arrow.is_some() { foot.height() * 1.1 } else { 0.0 };
    let room = vec2(foot.width() - arrow_room, foot.height());
    let size = fitting(painter, big.under, &FontFamily::Proportional, room);
    let galley = painter.layout_no_wrap(big.under.to_owned(), FontId::proportional(size), p.ink);
    let left = foot.center().x - (galley.size().x + arrow_room) / 2.0;
    if let Some(arrow) = big.arrow {
        let centre = pos2(left + arrow_room * 0.45, foot.center().y);
        pointing(painter, centre, foot.height() * 0.42, arrow, p.ink);
    }
    let at = pos2(left + arrow_room, foot.center().y - galley.size().y / 2.0);
    painter.galley(at, galley, p.ink);
}

/// An arrow of a direction, centred.
pub fn pointing(painter: &Painter, centre: Pos2, half: f32, arrow: Arrow, colour: Color32) {
    let along = match arrow {
        Arrow::Up => vec2(0.0, -1.0),
        Arrow::Down | Arrow::Aft => vec2(0.0, 1.0),
        Arrow::Fore => vec2(0.0, -1.0),
        Arrow::Out => vec2(1.0, 0.0),
        Arrow::In => vec2(-1.0, 0.0),
    };
    marks::arrow(painter, centre - along * half, centre + along * half, (half * 0.34).max(1.5), colour);
}

/// A ring open at the top that closes clockwise; whole, it gets a full centre.
pub fn ring(painter: &Painter, p: &Palette, centre: Pos2, radius: f32, share: f32, colour: Color32) {
    let width = (radius * 0.22).max(2.0);
    painter.circle_stroke(centre, radius, Stroke::new(width * 0.5, p.rule));
    let share = share.clamp(0.0, 1.0);
    let steps = (share * 72.0).round() as u32;
    if steps > 0 {
        let point = |i: u32| {
            let angle = i as f32 / 72.0 * std::f32::consts::TAU;
            centre + vec2(angle.sin(), -angle.cos()) * radius
        };
        painter.add(Shape::line((0..=steps).map(point).collect(), Stroke::new(width, colour)));
    }
    if share >= 1.0 {
        painter.circle_filled(centre, radius * 0.5, colour);
    }
}
