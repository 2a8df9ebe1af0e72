//! Sizes shared by all pieces, in points.

use crate::text::{Face, Typesetter, wrap};

/// Points in a millimetre.
pub(crate) const MM: f64 = 72.0 / 25.4;
pub(crate) const PITCH: f64 = 4.7 * MM;
/// The distance from one line of text to the next.
pub(crate) const LEAD: f64 = 11.2;
/// Text size of tables and paragraphs.
pub(crate) const TEXT: f64 = 8.5;
/// Before a mark's word.
pub(crate) const INDENT: f64 = 11.0;

/// A line cut to a width, with a sign that it continues.
pub(crate) fn fitted(set: &Typesetter, size: f64, text: &str, width: f64) -> String {
    let text = set.visible(text).into_owned();
    if set.width(Face::Medium, size, &text) <= width {
        return text;
    }
    let first = wrap(set, Face::Medium, size, &text, (width - size).max(0.0)).into_iter().next();
    first.map_or_else(String::new, |line| format!("{line} …"))
}
