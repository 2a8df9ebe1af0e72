//! Lines that fit a width.

use super::{Face, Typesetter};
use quantity::unit_named;

/// Breaks printable text at spaces into lines no wider than `width`; a single wider word is broken anywhere. Never
/// empty: an empty text gives one empty line.
pub(crate) fn wrap(set: &Typesetter, face: Face, size: f64, text: &str, width: f64) -> Vec<String> {
    if set.width(face, size, text) <= width {
        return vec![text.to_owned()];
    }
    // A line with a character that the face lacks is set in the wider fallback, so it is measured in that.
    let face = set.face_for(face, text);
    let space = set.width(face, size, " ");
    let mut lines = Vec::new();
    let (mut line, mut filled) = (String::new(), 0.0);
    for word in &together(set, face, size, text, width) {
        let wide = set.width(face, size, word);
        if line.is_empty() || filled + space + wide > width {
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            let (whole, last) = pieces(set, face, size, word, width);
            lines.extend(whole);
            filled = set.width(face, size, &last);
            line = last;
        } else {
            line.push(' ');
            line.push_str(word);
            filled += space + wide;
        }
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

/// The words of a text; a number stays with its half width and its unit if that fits.
fn together(set: &Typesetter, face: Face, size: f64, text: &str, width: f64) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    let mut before = "";
    for word in text.split(' ').filter(|w| !w.is_empty()) {
        let unit = word.trim_end_matches(['.', ',', ';', ':', ')']);
        let number = before.ends_with(|c: char| c.is_ascii_digit());
        let belongs = before == "±" || (number && (matches!(unit, "±" | "%") || unit_named(unit).is_some()));
        match words.last_mut() {
            Some(last) if belongs && set.width(face, size, &format!("{last} {word}")) <= width => {
                last.push(' ');
                last.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
        before = word;
    }
    words
}

/// A word cut into pieces that fit, the last apart from the others.
fn pieces(set: &Typesetter, face: Face, size: f64, word: &str, width: f64) -> (Vec<String>, String) {
    let mut whole = Vec::new();
    if set.width(face, size, word) <= width {
        return (whole, word.to_owned());
    }
    let (mut piece, mut filled) = (String::new(), 0.0);
    let mut buffer = [0; 4];
    for c in word.chars() {
        let wide = set.width(face, size, c.encode_utf8(&mut buffer));
        if !piece.is_empty() && filled + wide > width && wide > 0.0 {
            whole.push(std::mem::take(&mut piece));
            filled = 0.0;
        }
        piece.push(c);
        filled += wide;
    }
    (whole, piece)
}

#[cfg(test)]
mod tests;
