//! The shape of a verdict.
//!
//! within: a full disc. outside: a full triangle. undecided: a diamond, half full. stale: a ring struck through.
//! missing: an open square. doubtful: a triangle pointing down, half full. cannot be judged: a bar. No tolerance: a small full square. Not asked for: a dot.

use crate::theme::Palette;
use assess::Verdict;
use egui::{Color32, Painter, Pos2, Response, Role, Sense, Shape, Stroke, Ui, WidgetInfo, vec2};

/// What a mark says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// A verdict.
    Of(Verdict),
    /// Measured, and nothing to judge it by.
    Plain,
    /// Not measured, and not asked for at this stage.
    Unasked,
}

impl Mark {
    /// From a verdict or the lack of one.
    pub fn from(verdict: Option<Verdict>) -> Self {
        verdict.map_or(Self::Plain, Self::Of)
    }

    fn colour(self, p: &Palette) -> Color32 {
        match self {
            Self::Of(v) => p.verdict(Some(v)),
            Self::Plain => p.pale,
            Self::Unasked => p.ghost,
        }
    }
}

/// Draws a mark of that radius.
pub fn draw(painter: &Painter, p: &Palette, at: Pos2, r: f32, mark: Mark) {
    let colour = mark.colour(p);
    let line = Stroke::new((r * 0.28).max(1.5), colour);
    match mark {
        Mark::Of(Verdict::Within) => {
            painter.circle_filled(at, r, colour);
        }
        Mark::Of(Verdict::Outside) => {
            let tip = |x: f32, y: f32| at + vec2(x * r * 1.15, y * r * 1.15);
            painter.add(Shape::convex_polygon(
                vec![tip(0.0, -1.0), tip(0.95, 0.75), tip(-0.95, 0.75)],
                colour,
                Stroke::NONE,
            ));
        }
        Mark::Of(Verdict::Undecided) => {
            let (n, e) = (at - vec2(0.0, r * 1.15), at + vec2(r * 1.15, 0.0));
            let (s, w) = (at + vec2(0.0, r * 1.15), at - vec2(r * 1.15, 0.0));
            painter.add(Shape::convex_polygon(vec![n, s, w], colour, Stroke::NONE));
            painter.add(Shape::closed_line(vec![n, e, s, w], line));
        }
        Mark::Of(Verdict::Doubtful) => {
            let corner = |x: f32, y: f32| at + vec2(x * r * 1.1, y * r);
            let (left, right, low) = (corner(-1.0, -0.85), corner(1.0, -0.85), corner(0.0, 1.0));
            let full = vec![left, corner(0.0, -0.85), low];
            painter.add(Shape::convex_polygon(full, colour, Stroke::NONE));
            painter.add(Shape::closed_line(vec![left, right, low], line));
        }
        Mark::Of(Verdict::CannotJudge) => {
            let bar = egui::Rect::from_center_size(at, vec2(r * 2.2, r * 0.7));
            painter.rect_filled(bar, 0.0, colour);
        }
        Mark::Of(Verdict::Stale) => {
            painter.circle_stroke(at, r * 0.9, line);
            painter.line_segment([at + vec2(-r, r), at + vec2(r, -r)], line);
        }
        Mark::Of(Verdict::Missing) => {
            let a = r * 0.85;
            let corners = vec![at + vec2(-a, -a), at + vec2(a, -a), at + vec2(a, a), at + vec2(-a, a)];
            painter.add(Shape::closed_line(corners, line));
        }
        Mark::Unasked => {
            painter.circle_filled(at, r * 0.35, colour);
        }
        Mark::Plain => {
            painter.rect_filled(egui::Rect::from_center_size(at, vec2(r, r) * 1.1), 0.0, colour);
        }
    }
}

/// A mark with a word beside it, in a row of text; the word is read out.
pub fn label(ui: &mut Ui, p: &Palette, mark: Mark, word: &str) -> Response {
    if ui.layout().is_horizontal() && ui.layout().main_wrap {
        let font = egui::TextStyle::Body.resolve(ui.style());
        let wide = ui.painter().layout_no_wrap(word.to_owned(), font, p.ink).size().x;
        if ui.available_size_before_wrap().x < wide + ui.text_style_height(&egui::TextStyle::Body) + 12.0 {
            ui.end_row();
        }
    }
    ui.scope(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        ui.horizontal(|ui| {
            icon(ui, p, mark);
            ui.colored_label(mark.colour(p), word)
        })
        .inner
    })
    .inner
}

/// A mark alone, in a row of text.
pub fn icon(ui: &mut Ui, p: &Palette, mark: Mark) {
    let h = ui.text_style_height(&egui::TextStyle::Body);
    let (rect, _) = ui.allocate_exact_size(vec2(h, h), Sense::hover());
    draw(ui.painter(), p, rect.center(), h * 0.34, mark);
}

/// An arrow from a place along a direction, with a full head.
pub fn arrow(painter: &Painter, from: Pos2, to: Pos2, width: f32, colour: Color32) {
    let along = (to - from).normalized();
    let across = along.rot90();
    let head = width * 2.6;
    let neck = to - along * head;
    painter.line_segment([from, neck], Stroke::new(width, colour));
    painter.add(Shape::convex_polygon(
        vec![to, neck + across * head * 0.62, neck - across * head * 0.62],
        colour,
        Stroke::NONE,
    ));
}

/// Names something drawn for people who do not see it.
pub fn name(response: &Response, role: Role, chosen: Option<bool>, words: &str) {
    response.widget_info(|| match chosen {
        Some(chosen) => WidgetInfo::selected(role, true, chosen, words),
        None => WidgetInfo::labeled(role, true, words),
    });
}
