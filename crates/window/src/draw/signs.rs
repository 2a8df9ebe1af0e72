//! The sign beside a live value: its state told by form.

use crate::theme::Palette;
use egui::{Color32, Painter, Pos2, Shape, Stroke, vec2};
use std::f32::consts::TAU;

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sign {
    /// A ring closing: 0 to 1 of it.
    Ring(f32),
    /// The ring whole, with a centre.
    Settled,
    Tick,
    /// A clock: an old value.
    Clock,
    /// A broken line: no signal.
    Broken,
    /// A barred ring: the wrong instrument.
    Barred,
}

pub fn draw(painter: &Painter, p: &Palette, at: Pos2, r: f32, sign: Sign, ink: Color32) {
    let thick = Stroke::new((r * 0.2).max(2.0), ink);
    let thin = Stroke::new((r * 0.11).max(1.5), p.edge);
    match sign {
        Sign::Ring(share) => {
            painter.circle_stroke(at, r, Stroke::new(thick.width * 0.8, p.rule));
            let share = share.clamp(0.04, 1.0);
            let arc = |i: u8| {
                let a = TAU * share * f32::from(i) / 48.0;
                at + vec2(a.sin(), -a.cos()) * r
            };
            painter.add(Shape::line((0..=48).map(arc).collect(), thick));
        }
        Sign::Settled => {
            painter.circle_stroke(at, r, thick);
            painter.circle_filled(at, r * 0.46, ink);
        }
        Sign::Tick => {
            let points = vec![
                at + vec2(-r * 0.85, r * 0.1),
                at + vec2(-r * 0.25, r * 0.65),
                at + vec2(r * 0.85, -r * 0.65),
            ];
            painter.add(Shape::line(points, Stroke::new(r * 0.24, ink)));
        }
        Sign::Clock => {
            let line = Stroke::new(thin.width, p.pale);
            painter.circle_stroke(at, r, line);
            painter.add(Shape::line(vec![at - vec2(0.0, r * 0.6), at, at + vec2(r * 0.4, r * 0.22)], line));
        }
        Sign::Broken => {
            let line = Stroke::new(r * 0.26, ink);
            painter.line_segment([at - vec2(r * 1.1, 0.0), at - vec2(r * 0.45, 0.0)], line);
            painter.line_segment([at + vec2(r * 0.45, 0.0), at + vec2(r * 1.1, 0.0)], line);
            let slash = Stroke::new(r * 0.14, ink);
            painter.line_segment([at + vec2(-r * 0.22, r * 0.6), at + vec2(r * 0.22, -r * 0.6)], slash);
        }
        Sign::Barred => {
            painter.circle_stroke(at, r, thick);
            painter.line_segment([at + vec2(-r * 0.66, -r * 0.66), at + vec2(r * 0.66, r * 0.66)], thick);
        }
    }
}
