//! Makes text from people and files safe to show.

use std::borrow::Cow;

/// The text with control characters, and characters that change the direction of writing, shown as escapes.
///
/// A name with an escape sequence in it must not be able to repaint a terminal.
pub fn shown(text: &str) -> Cow<'_, str> {
    escaped(text, b' ', |c, out| out.extend(c.escape_default()))
}

/// The same for a text of several lines, which stay lines.
pub fn each_line_shown(text: &str) -> Cow<'_, str> {
    text.split('\n').map(shown).collect::<Vec<_>>().join("\n").into()
}

/// At most this many characters of a refused text are quoted.
const MOST_SAID_BACK: usize = 100;

/// The same for a refused text; a long one is cut.
pub(crate) fn brief(text: &str) -> Cow<'_, str> {
    match text.char_indices().nth(MOST_SAID_BACK) {
        None => shown(text),
        Some((end, _)) => Cow::Owned(format!("{}...", shown(text.get(..end).unwrap_or_default()))),
    }
}

/// JSON text with the same characters as JSON escapes. Characters below the space do not occur inside JSON strings;
/// between its parts they are line ends and stay.
pub fn json_shown(json: &str) -> Cow<'_, str> {
    let unicode = |c, out: &mut String| out.push_str(&format!("\\u{:04x}", u32::from(c)));
    escaped(json, 0, unicode)
}

/// The text with its hidden characters escaped. ASCII from `least` up is skipped quickly: it is nearly all text
/// shown.
fn escaped(text: &str, least: u8, escape: impl Fn(char, &mut String)) -> Cow<'_, str> {
    let (mut out, mut copied, mut at) = (String::new(), 0, 0);
    while let Some(c) = skip(text, &mut at, least) {
        let end = at + c.len_utf8();
        if hidden(c) {
            out.push_str(&text[copied..at]);
            escape(c, &mut out);
            copied = end;
        }
        at = end;
    }
    if copied == 0 {
        return Cow::Borrowed(text);
    }
    out.push_str(&text[copied..]);
    Cow::Owned(out)
}

/// Moves on to the next byte that is not ASCII from `least` up, and returns the character that begins there.
fn skip(text: &str, at: &mut usize, least: u8) -> Option<char> {
    const TOGETHER: usize = 64;
    let plain = |part: &&[u8]| {
        part.is_ascii() && !part.contains(&0x7f) && (least == 0 || part.iter().all(|b| *b >= least))
    };
    *at += TOGETHER * text.as_bytes()[*at..].chunks(TOGETHER).take_while(plain).count();
    *at += text.as_bytes().get(*at..)?.iter().position(|b| *b < least || *b >= 0x7f)?;
    text[*at..].chars().next()
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
