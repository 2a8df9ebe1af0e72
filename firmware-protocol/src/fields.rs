//! A cursor over the comma-separated fields of a line.

use crate::digits;

/// What is left of a line to read.
pub(crate) struct Fields<'a> {
    rest: Option<&'a [u8]>,
}

impl<'a> Fields<'a> {
    pub(crate) const fn new(line: &'a [u8]) -> Self {
        Self { rest: Some(line) }
    }

    /// The next field, whatever is in it; nothing after the last one.
    #[inline]
    pub(crate) fn field(&mut self) -> Option<&'a [u8]> {
        let rest = self.rest?;
        if let Some(comma) = rest.iter().position(|&byte| byte == b',') {
            let (field, after) = rest.split_at(comma);
            self.rest = after.get(1..);
            Some(field)
        } else {
            self.rest = None;
            Some(rest)
        }
    }

    /// The next field as a number without a sign, in its only valid spelling (no leading zero).
    #[inline]
    pub(crate) fn number(&mut self) -> Option<u32> {
        let rest = self.rest?;
        let (number, length) = leading_number(rest)?;
        match rest.get(length) {
            Some(b',') => self.rest = rest.get(length + 1..),
            Some(_) => return None,
            None => self.rest = None,
        }
        Some(number)
    }

    /// The next field as a number of at most sixteen bits.
    pub(crate) fn short_number(&mut self) -> Option<u16> {
        self.number().and_then(|number| u16::try_from(number).ok())
    }

    /// The next field as text of one to `longest` characters.
    pub(crate) fn text(&mut self, longest: usize) -> Option<&'a str> {
        let field = self.field()?;
        let fits = is_text(field) && field.len() <= longest;
        core::str::from_utf8(field).ok().filter(|_| fits)
    }
}

/// Whether these bytes can stand as a text in a line: printable ASCII without the signs a line is made of.
pub(crate) fn is_text(field: &[u8]) -> bool {
    !field.is_empty() && field.iter().all(|byte| matches!(byte, b' '..=b'}') && !matches!(byte, b',' | b'*'))
}

/// The number at the front and how many digits it has. `None` for no digit, a leading zero before more digits, or
/// more than 32 bits.
#[inline]
pub(crate) fn leading_number(bytes: &[u8]) -> Option<(u32, usize)> {
    let (number, length) = match bytes.first_chunk::<8>() {
        Some(eight) => match eight_at_once(*eight) {
            (number, 8) => one_by_one(bytes, u64::from(number), 8)?,
            (number, length) => (number, length),
        },
        None => one_by_one(bytes, 0, 0)?,
    };
    let one_spelling = length == 1 || (length > 1 && bytes.first() != Some(&b'0'));
    one_spelling.then_some((number, length))
}

fn one_by_one(bytes: &[u8], start: u64, from: usize) -> Option<(u32, usize)> {
    let mut number = start;
    let mut length = from;
    while let Some(digit) = bytes.get(length).map(|byte| byte.wrapping_sub(b'0')).filter(|d| *d <= 9) {
        if length == 10 {
            return None;
        }
        number = number * 10 + u64::from(digit);
        length += 1;
    }
    u32::try_from(number).ok().map(|number| (number, length))
}

/// Up to eight digits at once.
#[inline]
fn eight_at_once(bytes: [u8; 8]) -> (u32, usize) {
    let text = u64::from_le_bytes(bytes);
    let length = (digits::not_digits(text).trailing_zeros() / 8) as usize;
    if length == 0 { (0, 0) } else { (digits::value(text, length), length) }
}

#[cfg(test)]
mod tests;
