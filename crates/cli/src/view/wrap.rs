//! Wraps long sentences at 80 columns.

use std::sync::OnceLock;

/// Width of everything printed.
pub const WIDTH: usize = 80;

/// The width that sentences are wrapped to: that of the terminal, from 60 to 100; [`WIDTH`] without one. Tables and
/// plots keep theirs.
pub fn terminal() -> usize {
    static COLUMNS: OnceLock<usize> = OnceLock::new();
    *COLUMNS.get_or_init(|| {
        let here = terminal_size::terminal_size().map(|(width, _)| usize::from(width.0));
        here.filter(|columns| *columns > 0).map_or(WIDTH, |columns| columns.clamp(60, 100))
    })
}

/// Rows of the terminal; `None` without one.
pub fn rows() -> Option<usize> {
    terminal_size::terminal_size().map(|(_, height)| usize::from(height.0)).filter(|rows| *rows > 0)
}

/// The text with `first` before its first line and as many blanks before the others.
pub fn wrap(first: &str, text: &str) -> String {
    wrap_hang(first, &" ".repeat(width(first)), text)
}

/// The text with `first` before its first line and `rest` before the others.
pub fn wrap_hang(first: &str, rest: &str, text: &str) -> String {
    let options =
        textwrap::Options::new(terminal()).initial_indent(first).subsequent_indent(rest).break_words(false);
    textwrap::fill(text, options)
}

pub fn width(text: &str) -> usize {
    textwrap::core::display_width(text)
}

/// The text in exactly this many columns, cut with `~` if it is longer.
pub fn fit(text: &str, columns: usize) -> String {
    let have = width(text);
    if have <= columns {
        return format!("{text}{}", " ".repeat(columns - have));
    }
    let mut out = String::new();
    for c in text.chars() {
        out.push(c);
        if width(&out) >= columns {
            out.pop();
            break;
        }
    }
    out.push('~');
    let pad = columns.saturating_sub(width(&out));
    format!("{out}{}", " ".repeat(pad))
}

#[cfg(test)]
mod tests {
    use super::{WIDTH, fit, width, wrap};

    #[test]
    fn text_fits_its_columns() {
        assert_eq!(fit("abc", 5), "abc  ");
        assert_eq!(fit("abcdef", 5), "abcd~");
        assert_eq!(width(&fit("日本語日本語", 5)), 5);
        let long = wrap("  - ", &"word ".repeat(40));
        assert!(long.lines().all(|l| width(l) <= WIDTH));
        assert!(long.lines().skip(1).all(|l| l.starts_with("    word")));
    }
}
