//! Shapes as SVG.

use crate::PlotStyle;
use crate::draw::{Anchor, Ink, Pen, Shape, Text};
use crate::plot::Picture;
use crate::text::{Face, Typesetter, with_minus};
use std::fmt::Write as _;

/// The screen colour of each ink.
type Palette = fn(Ink) -> &'static str;

/// The inks on white, the same as on paper.
const fn light(ink: Ink) -> &'static str {
    match ink {
        Ink::Black => "#000000",
        Ink::White => "#ffffff",
    }
}

const fn dark(ink: Ink) -> &'static str {
    match ink {
        Ink::Black => "#ffffff",
        Ink::White => "#000000",
    }
}

/// A plot as a file of its own, with a title and a description for people who cannot see it.
pub(crate) fn picture(set: &Typesetter, style: &PlotStyle, title: &str, plot: &Picture) -> String {
    let inks = if style.dark { dark } else { light };
    let (title, about) = (set.visible(title), set.visible(&plot.about));
    let PlotStyle { width_pt: width, height_pt: height, .. } = *style;
    let mut out = String::with_capacity(16_000);
    // Shapes have the size they have on paper, and are scaled up, lines included.
    let (w, h) = (number(width / style.scale()), number(height / style.scale()));
    let (wide, high) = (number(width), number(height));
    let _ = write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{wide}\" height=\"{high}\" viewBox=\"0 0 {w} {h}\" role=\"img\" \
         font-family=\"'Barlow Semi Condensed', 'Arial Narrow', sans-serif\">\n<title>{}</title>\n<desc>{}</desc>\n\
         <rect width=\"{w}\" height=\"{h}\" fill=\"{}\"/>\n",
        escaped(&title),
        escaped(&about),
        inks(Ink::White),
    );
    for shape in plot.shapes.iter().filter(|shape| shape.is_finite()) {
        write_shape(&mut out, shape, inks);
    }
    out.push_str("</svg>\n");
    out
}

fn write_shape(out: &mut String, shape: &Shape, inks: Palette) {
    match shape {
        Shape::Text(text) => write_text(out, text, inks),
        Shape::Path { points, closed, fill, pen } => {
            let mut path = String::new();
            for (i, (x, y)) in points.iter().enumerate() {
                let _ = write!(path, "{}{} {}", if i == 0 { "M" } else { "L" }, number(*x), number(*y));
            }
            if *closed {
                path.push('Z');
            }
            let _ = writeln!(out, "<path d=\"{path}\"{}/>", paint(*fill, *pen, inks));
        }
        Shape::Circle { x, y, r, fill, pen } => {
            let (x, y, r) = (number(*x), number(*y), number(*r));
            let _ = writeln!(out, "<circle cx=\"{x}\" cy=\"{y}\" r=\"{r}\"{}/>", paint(*fill, *pen, inks));
        }
        Shape::Lines { ends, pen } => {
            let mut path = String::new();
            for [(x1, y1), (x2, y2)] in ends {
                let _ = write!(path, "M{} {}L{} {}", number(*x1), number(*y1), number(*x2), number(*y2));
            }
            if !path.is_empty() {
                let _ = writeln!(out, "<path d=\"{path}\"{}/>", paint(None, Some(*pen), inks));
            }
        }
    }
}

fn write_text(out: &mut String, text: &Text, inks: Palette) {
    let anchor = match text.anchor {
        Anchor::Start => "",
        Anchor::Middle => " text-anchor=\"middle\"",
        Anchor::End => " text-anchor=\"end\"",
    };
    let weight = if text.face == Face::SemiBold { " font-weight=\"600\"" } else { "" };
    let (x, y) = (number(text.x), number(text.y));
    let _ = writeln!(
        out,
        "<text x=\"{x}\" y=\"{y}\" font-size=\"{}\" fill=\"{}\"{weight}{anchor}>{}</text>",
        number(text.size),
        inks(text.ink),
        escaped(&with_minus(&text.text).drawn),
    );
}

fn paint(fill: Option<Ink>, pen: Option<Pen>, inks: Palette) -> String {
    let mut out = format!(" fill=\"{}\"", fill.map_or("none", inks));
    if let Some(pen) = pen {
        let _ = write!(out, " stroke=\"{}\" stroke-width=\"{}\"", inks(pen.ink), number(pen.width));
        if let Some((on, off)) = pen.dash {
            let _ = write!(out, " stroke-dasharray=\"{} {}\"", number(on), number(off));
        }
    }
    out
}

/// Two decimals are finer than any screen or printer shows, and hide last-bit differences.
fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[cfg(test)]
mod tests;
