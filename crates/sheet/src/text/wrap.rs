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
mod tests {
    use super::*;

    #[test]
    fn every_line_fits_and_no_word_is_lost() {
        let set = Typesetter::new().unwrap();
        let text = "the reading at S4 stands out from its neighbours and should be taken again before the gate is asked";
        for width in [60.0, 90.0, 200.0, 5000.0] {
            let lines = wrap(&set, Face::Medium, 8.0, text, width);
            assert!(lines.iter().all(|l| set.width(Face::Medium, 8.0, l) <= width + 0.5), "{lines:?}");
            assert_eq!(lines.join(" "), text);
        }
    }

    #[test]
    fn a_number_keeps_its_half_width_and_its_unit() {
        let set = Typesetter::new().unwrap();
        let text =
            "tip rear was −11.88 mm; BR3 12.70 ± 0.27 N·m, 97.2 % (12.1 in-lb) and 5 more of the same kind";
        for width in 60..300 {
            let lines = wrap(&set, Face::Medium, 8.5, text, f64::from(width));
            assert_eq!(lines.join(" "), text);
            for whole in ["−11.88 mm", "12.70 ± 0.27 N·m", "97.2 %", "12.1 in-lb"] {
                let fits = set.width(Face::Medium, 8.5, &format!("{whole},")) <= f64::from(width) - 4.0;
                assert!(!fits || lines.iter().any(|l| l.contains(whole)), "at {width}: {lines:?}");
            }
        }
    }

    #[test]
    fn a_word_wider_than_the_line_is_cut() {
        let set = Typesetter::new().unwrap();
        let word = "W".repeat(300);
        let lines = wrap(&set, Face::Medium, 8.0, &format!("a {word} b"), 100.0);
        assert!(lines.iter().all(|l| set.width(Face::Medium, 8.0, l) <= 100.5));
        assert_eq!(lines.concat().matches('W').count(), 300);
        assert_eq!(wrap(&set, Face::Medium, 8.0, "", 100.0), [""]);
    }
}
