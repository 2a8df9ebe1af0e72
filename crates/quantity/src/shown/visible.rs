//! Spells out characters that cannot be printed or seen, so that nothing on a sheet or a screen is hidden.

use alloc::borrow::Cow;
use alloc::format;
use alloc::string::String;

/// Writes as `\u{..}` every character that `has` rejects, that shows nothing, or that reorders the text around it. A
/// backslash that could begin such an escape is escaped too, so that two different texts never print alike. Each
/// escaped character is passed to `told`.
pub fn visible<'a>(text: &'a str, has: impl Fn(char) -> bool, mut told: impl FnMut(char)) -> Cow<'a, str> {
    let plain = |c: char| matches!(c, ' '..='[' | ']'..='~');
    if text.chars().all(plain) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 16);
    let mut rest = text.chars();
    while let Some(c) = rest.next() {
        let spells = c == '\\' && rest.as_str().starts_with("u{");
        if spells || hidden(c) || !has(c) {
            told(c);
            out.push_str(&format!("\\u{{{:x}}}", u32::from(c)));
        } else {
            out.push(c);
        }
    }
    Cow::Owned(out)
}

/// Characters with no shape of their own: control, format, direction marks, fillers, private use.
fn hidden(c: char) -> bool {
    c.is_control()
        || matches!(u32::from(c),
            0x00AD | 0x034F | 0x061C | 0x115F | 0x1160 | 0x17B4 | 0x17B5 | 0x180B..=0x180F
            | 0x200B..=0x200F | 0x2028..=0x202E | 0x2060..=0x206F | 0x3164 | 0xE000..=0xF8FF
            | 0xFE00..=0xFE0F | 0xFEFF | 0xFFA0 | 0xFFF0..=0xFFFF | 0x1_BCA0..=0x1_BCA3
            | 0x1_D173..=0x1_D17A | 0xE_0000..=0x10_FFFF)
}
