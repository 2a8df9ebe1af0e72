//! Shapes on a page.

use super::ink::{fill, stroke};
use crate::SheetError;
use crate::draw::{Anchor, Ink, Pen, Shape, Text};
use crate::text::{Faces, Typesetter};
use krilla::geom::{Path, PathBuilder, Point};
use krilla::surface::Surface;
use krilla::text::{Font, GlyphId, KrillaGlyph};

pub(super) type Fonts = Faces<Font>;

pub(super) fn fonts() -> Result<Fonts, SheetError> {
    Faces::of(|face| Font::new(face.bytes().into(), 0))
}

/// A coordinate to a hundredth of a point: finer cannot be seen, and the file gets smaller.
#[expect(clippy::cast_possible_truncation, reason = "places on a page")]
fn short(value: f64) -> f32 {
    ((value * 100.0).round() / 100.0) as f32
}

pub(super) fn shape(surface: &mut Surface<'_>, fonts: &Fonts, set: &Typesetter, shape: &Shape) {
    match shape {
        Shape::Text(text) => draw_text(surface, fonts, set, text),
        Shape::Path { points, closed, fill, pen } => draw(surface, polygon(points, *closed), *fill, *pen),
        Shape::Circle { x, y, r, fill, pen } => draw(surface, circle(*x, *y, *r), *fill, *pen),
        Shape::Lines { ends, pen } => {
            let mut builder = PathBuilder::new();
            for [(x1, y1), (x2, y2)] in ends {
                builder.move_to(short(*x1), short(*y1));
                builder.line_to(short(*x2), short(*y2));
            }
            draw(surface, builder.finish(), None, Some(*pen));
        }
    }
}

/// Draws a path; an empty shape has none.
fn draw(surface: &mut Surface<'_>, path: Option<Path>, inside: Option<Ink>, pen: Option<Pen>) {
    if let Some(path) = path {
        surface.set_fill(inside.map(fill));
        surface.set_stroke(pen.map(stroke));
        surface.draw_path(&path);
    }
}

fn polygon(points: &[(f64, f64)], closed: bool) -> Option<Path> {
    let mut builder = PathBuilder::new();
    for (i, (x, y)) in points.iter().enumerate() {
        if i == 0 {
            builder.move_to(short(*x), short(*y));
        } else {
            builder.line_to(short(*x), short(*y));
        }
    }
    if closed {
        builder.close();
    }
    builder.finish()
}

/// Four cubic arcs; the usual factor keeps them within 0.03 % of the radius.
fn circle(x: f64, y: f64, r: f64) -> Option<Path> {
    let k = r * 0.552_284_75;
    let mut builder = PathBuilder::new();
    builder.move_to(short(x + r), short(y));
    for [(x1, y1), (x2, y2), (x3, y3)] in [
        [(r, k), (k, r), (0.0, r)],
        [(-k, r), (-r, k), (-r, 0.0)],
        [(-r, -k), (-k, -r), (0.0, -r)],
        [(k, -r), (r, -k), (r, 0.0)],
    ] {
        builder.cubic_to(
            short(x + x1),
            short(y + y1),
            short(x + x2),
            short(y + y2),
            short(x + x3),
            short(y + y3),
        );
    }
    builder.close();
    builder.finish()
}

fn draw_text(surface: &mut Surface<'_>, fonts: &Fonts, set: &Typesetter, text: &Text) {
    let shaped = set.shape(text.face, text.figures, &text.text);
    let width = shaped.width_em * text.size;
    let back = match text.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => width / 2.0,
        Anchor::End => width,
    };
    surface.set_fill(Some(fill(text.ink)));
    surface.set_stroke(None);
    let mut at = text.x - back;
    for segment in &shaped.segments {
        let glyphs: Vec<KrillaGlyph> = segment
            .glyphs
            .iter()
            .map(|g| KrillaGlyph::new(GlyphId::new(g.id), g.advance, g.x, g.y, 0.0, g.bytes.clone(), None))
            .collect();
        let start = Point::from_xy(short(at), short(text.y));
        surface.draw_glyphs(
            start,
            &glyphs,
            fonts.get(segment.face).clone(),
            &segment.text,
            short(text.size),
            false,
        );
        at += segment.width_em * text.size;
    }
}
