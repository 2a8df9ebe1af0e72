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
pub(super) fn fitted(set: &Typesetter, size: f64, face: Face, text: &str, width: f64) -> String {
    let text = set.visible(text).into_owned();
    if set.width(face, size, &text) <= width {
        return text;
    }
    let first = wrap(set, face, size, &text, (width - size).max(0.0)).into_iter().next();
    first.map_or_else(String::new, |line| format!("{line} …"))
}

/// The same, but empty where there is too little room for anything.
pub(crate) fn cut(set: &Typesetter, size: f64, face: Face, text: &str, room: f64) -> String {
    if room < 4.0 * size && set.width(face, size, &set.visible(text)) > room {
        return String::new();
    }
    fitted(set, size, face, text, room)
}

/// The largest size at which a bold text fits.
pub(crate) fn shrunk(set: &Typesetter, size: f64, least: f64, text: &str, room: f64) -> f64 {
    let wide = set.width(Face::SemiBold, size, &set.visible(text));
    if wide <= room { size } else { (size * room / wide).max(least) }
}
