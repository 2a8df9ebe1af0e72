//! What was painted: texts with their places and colours, and the colour behind a place.

use super::letters::{For, Letters, unfitted};
use egui::epaint::{ClippedShape, Shape};
use egui::{Color32, RawInput, Rect, pos2};

/// Something painted, in the order of painting.
#[derive(Clone, Debug)]
pub struct Painted {
    pub bounds: Rect,
    pub colour: Color32,
    /// The text, if it is one.
    pub text: Option<String>,
    /// True for a filled area.
    pub filled: bool,
    /// Nothing outside this is visible.
    pub clip: Rect,
}

fn flat(shape: &Shape, out: &mut Vec<Painted>) {
    let bounds = shape.visual_bounding_rect();
    match shape {
        Shape::Vec(list) => list.iter().for_each(|s| flat(s, out)),
        Shape::Text(t) => {
            // The ink of the letters: from their capitals down, with descenders if a letter has one.
            let text = t.galley.text();
            let size = t.galley.job.sections.first().map_or(0.0, |s| s.format.font_id.size);
            let hangs = text.contains(|c| "gjpqy,;()/Q".contains(c));
            let flat = text == "\u{2212}" || text == ".";
            let (top, bottom) = (if flat { 0.55 } else { 0.27 }, if hangs { 1.22 } else { 1.03 });
            let whole = t.galley.mesh_bounds.translate(t.pos.to_vec2()).shrink2(egui::vec2(size * 0.04, 0.0));
            let ink = Rect::from_x_y_ranges(whole.x_range(), t.pos.y + top * size..=t.pos.y + bottom * size);
            let ink = if text == "." { ink.shrink2(egui::vec2(ink.width() * 0.3, 0.0)) } else { ink };
            let section = t.galley.job.sections.first().map_or(Color32::TRANSPARENT, |s| s.format.color);
            let colour = t.override_text_color.unwrap_or(section);
            out.push(Painted {
                bounds: ink,
                colour,
                text: Some(t.galley.text().to_owned()),
                filled: false,
                clip: Rect::EVERYTHING,
            });
        }
        Shape::Rect(r) => {
            if r.fill != Color32::TRANSPARENT {
                out.push(Painted {
                    bounds: r.rect,
                    colour: r.fill,
                    text: None,
                    filled: true,
                    clip: Rect::EVERYTHING,
                });
            }
            if r.stroke.width > 0.0 && r.stroke.color != Color32::TRANSPARENT {
                out.push(Painted {
                    bounds: r.rect,
                    colour: r.stroke.color,
                    text: None,
                    filled: false,
                    clip: Rect::EVERYTHING,
                });
            }
        }
        Shape::Circle(c) => {
            for colour in [c.fill, c.stroke.color].into_iter().filter(|c| *c != Color32::TRANSPARENT) {
                out.push(Painted { bounds, colour, text: None, filled: false, clip: Rect::EVERYTHING });
            }
        }
        Shape::Path(p) => {
            if p.fill != Color32::TRANSPARENT {
                out.push(Painted {
                    bounds,
                    colour: p.fill,
                    text: None,
                    filled: false,
                    clip: Rect::EVERYTHING,
                });
            }
            if let egui::epaint::ColorMode::Solid(c) = p.stroke.color
                && p.stroke.width > 0.0
            {
                out.push(Painted { bounds, colour: c, text: None, filled: false, clip: Rect::EVERYTHING });
            }
        }
        Shape::LineSegment { stroke, .. } => {
            out.push(Painted {
                bounds,
                colour: stroke.color,
                text: None,
                filled: false,
                clip: Rect::EVERYTHING,
            });
        }
        _ => {}
    }
}

/// Everything that a user interface paints in the last frame. `width` and `height` are in pixels, one pixel a point.
pub fn of(width: f32, height: f32, frames: usize, ui: impl FnMut(&mut egui::Ui)) -> Vec<Painted> {
    sized(width, height, frames, ui).0
}

/// The same, with the size of the window in its own points: the window can choose to be drawn larger or smaller.
pub fn sized(
    width: f32,
    height: f32,
    frames: usize,
    mut ui: impl FnMut(&mut egui::Ui),
) -> (Vec<Painted>, egui::Vec2) {
    let mut letters = Letters::lent(For::Windows);
    let ctx = letters.get().ctx.clone();
    let mut out = (Vec::new(), egui::Vec2::ZERO);
    for frame in 0..frames {
        unfitted(&ctx);
        let size = egui::vec2(width, height) / ctx.zoom_factor();
        let input = RawInput {
            screen_rect: Some(Rect::from_min_size(pos2(0.0, 0.0), size)),
            time: Some(frame as f64 * 0.1),
            ..RawInput::default()
        };
        let mut output = ctx.run_ui(input, &mut ui);
        output.textures_delta.clear();
        out = (all(&output.shapes), size);
    }
    out
}

/// All of these shapes.
pub fn all(shapes: &[ClippedShape]) -> Vec<Painted> {
    let mut out = Vec::new();
    for ClippedShape { shape, clip_rect, .. } in shapes {
        let from = out.len();
        flat(shape, &mut out);
        out.iter_mut().skip(from).for_each(|p| p.clip = *clip_rect);
    }
    out
}

/// The colour behind something, by what was filled before it.
pub fn behind(all: &[Painted], at: usize, ground: Color32) -> Color32 {
    let place = all[at].bounds.center();
    let under = all[..at].iter().rev().find(|p| p.filled && p.bounds.contains(place));
    under.map_or(ground, |p| p.colour)
}

/// The contrast of two colours, WCAG 2.1.
pub fn contrast(a: Color32, b: Color32) -> f64 {
    let linear = |c: u8| {
        let c = f64::from(c) / 255.0;
        if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
    };
    let bright = |c: Color32| 0.2126 * linear(c.r()) + 0.7152 * linear(c.g()) + 0.0722 * linear(c.b());
    let (a, b) = (bright(a), bright(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}
