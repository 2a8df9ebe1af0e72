//! A post seen from its end, leaning: which side is low, which foot to turn, and which way.

use super::arrows;
use crate::theme::Palette;
use egui::{Painter, Pos2, Rect, Shape, Stroke, pos2};

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leaning {
    /// True if the end at the left of the screen is low; `None` if it is level.
    pub low_left: Option<bool>,
    /// The foot to turn: true for the left one.
    pub foot_left: Option<bool>,
    /// True where the foot is raised.
    pub raise: bool,
    pub known: Sure,
}

/// How sure a picture is: solid is measured, hollow is coarse.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sure {
    /// By a level whose zero is known.
    Measured,
    /// By a level whose zero is not known.
    Coarse,
}

pub fn draw(painter: &Painter, p: &Palette, rect: Rect, post: Leaning) {
    let ground = rect.bottom() - 2.0;
    // The arrow has its own room at the right, also where the picture is tall and narrow.
    let tall = (rect.height() * 0.42).min(rect.width() * 0.3);
    let half = (tall * arrows::HEAD).max(12.0);
    let (left, right) = (rect.left() + 6.0, rect.right() - 2.0 * half - 10.0);
    painter.hline(rect.left()..=right + 8.0, ground, Stroke::new(3.0, p.edge));
    let lean = rect.height() * post.low_left.map_or(0.0, |low| if low { 0.24 } else { -0.24 });
    let middle = rect.top() + rect.height() * 0.3;
    let thick = rect.height() * 0.2;
    let top = |x: f32| middle + lean * (0.5 - (x - left) / (right - left));
    let corner = |x: f32, dy: f32| pos2(x, top(x) + dy);
    let beam = vec![
        corner(left, -thick / 2.0),
        corner(right, -thick / 2.0),
        corner(right, thick / 2.0),
        corner(left, thick / 2.0),
    ];
    let coarse = Stroke::new(2.0, p.pale);
    match post.known {
        Sure::Measured => painter.add(Shape::convex_polygon(beam, p.edge, Stroke::NONE)),
        Sure::Coarse => painter.add(Shape::closed_line(beam, coarse)),
    };
    for is_left in [true, false] {
        let x = if is_left { left + (right - left) * 0.12 } else { right - (right - left) * 0.12 };
        let wide = (rect.width() * 0.05).max(5.0);
        let leg = Rect::from_min_max(pos2(x - wide, top(x) + thick / 2.0), pos2(x + wide, ground - 1.0));
        if post.foot_left == Some(is_left) {
            let at = Pos2::new(
                if is_left { x + wide + half + 6.0 } else { rect.right() - half },
                rect.center().y + rect.height() * 0.16,
            );
            let way = if post.raise { arrows::UP } else { arrows::DOWN };
            match post.known {
                Sure::Measured => {
                    painter.rect_filled(leg, 0.0, p.control);
                    arrows::straight(painter, at, tall, way, p.control);
                }
                Sure::Coarse => {
                    painter.rect_stroke(leg, 0.0, coarse, egui::StrokeKind::Inside);
                    arrows::hollow(painter, at, tall, way, coarse);
                }
            }
        } else {
            painter.rect_stroke(leg, 0.0, Stroke::new(1.5, p.edge), egui::StrokeKind::Inside);
        }
    }
}
