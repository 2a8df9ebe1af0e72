//! Text from people and files, made safe to show.

use std::borrow::Cow;

/// The text with control characters, and marks that turn the direction of writing, shown as escapes.
///
/// A name with an escape sequence in it must not be able to repaint a terminal.
#[must_use]
pub fn shown(text: &str) -> Cow<'_, str> {
    if !text.chars().any(hidden) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 8);
    for c in text.chars() {
        if hidden(c) {
            out.extend(c.escape_default());
        } else {
            out.push(c);
        }
    }
    Cow::Owned(out)
}

/// So much of a text that somebody got wrong is said back to them, in characters.
const MOST_SAID_BACK: usize = 100;

/// The same for a text that was refused: of a long one the beginning.
#[must_use]
pub(crate) fn brief(text: &str) -> Cow<'_, str> {
    match text.char_indices().nth(MOST_SAID_BACK) {
        None => shown(text),
        Some((end, _)) => Cow::Owned(format!("{}...", shown(text.get(..end).unwrap_or_default()))),
    }
}

/// JSON text with the same characters as JSON's own escapes; line ends, which only stand between its parts, are left.
#[must_use]
pub fn json_shown(json: &str) -> Cow<'_, str> {
    let steers = |c: char| hidden(c) && c != '\n';
    if !json.chars().any(steers) {
        return Cow::Borrowed(json);
    }
    let mut out = String::with_capacity(json.len() + 8);
    for c in json.chars() {
        if steers(c) {
            out.push_str(&format!("\\u{:04x}", u32::from(c)));
        } else {
            out.push(c);
        }
    }
    Cow::Owned(out)
}

fn hidden(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{feff}')
}

#[cfg(test)]
mod tests {
    use super::{json_shown, shown};

    #[test]
    fn control_characters_are_escaped_and_the_rest_is_left() {
        assert_eq!(shown("S4 with spaces, 0°21' and Ω"), "S4 with spaces, 0°21' and Ω");
        assert_eq!(shown("a\u{1b}[31mb\n"), "a\\u{1b}[31mb\\n");
        assert_eq!(shown("x\u{202e}y"), "x\\u{202e}y");
    }

    #[test]
    fn json_stays_json_and_says_the_same() {
        let json = "{\n  \"name\": \"a\u{9b}1m\u{202e}\u{7f}b\"\n}";
        let safe = json_shown(json);
        assert_eq!(safe, "{\n  \"name\": \"a\\u009b1m\\u202e\\u007fb\"\n}");
        let read = |text: &str| serde_json::from_str::<serde_json::Value>(text).unwrap();
        assert_eq!(read(&safe), read(json));
    }
}
