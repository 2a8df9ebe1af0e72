//! What happened, as the stored text.

use crate::error::{Fault, Unreadable};
use crate::trouble::Trouble;
use record::{EntryError, UtcOffset, What};
use std::fmt::Write;

/// The largest content of one entry, in bytes of JSON. In practice the largest is a plan.
pub const MAX_BODY_BYTES: usize = 16 << 20;

/// An entry's content as in the columns `kind` and `body`.
#[derive(Debug)]
pub struct Stored {
    json: String,
    kind_end: usize,
}

/// What `record::What` looks like in JSON: the kind, then the body.
const BEFORE_KIND: &str = r#"{"kind":""#;
const BEFORE_BODY: &str = r#"","body":"#;
const AFTER_BODY: &str = "}";
/// The highest round of any reading up to and including this entry: a key of the body after its content.
const HIGHEST: &str = r#""highest_round":"#;
/// The writer's offset from UTC, in minutes: the last key of the body.
const OFFSET: &str = r#""utc_offset_min":"#;

/// What the journal itself writes at the end of a body.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tail {
    /// The highest round of any reading up to and including the entry. Entries of older programs have none, nor do
    /// those before the first round.
    pub highest_round: Option<u32>,
    /// The writer's offset from UTC.
    pub offset: Option<UtcOffset>,
}

impl Stored {
    /// The text of `what` without a tail; refused if it is too large or would not read back.
    pub fn new(what: &What) -> Result<Self, Trouble> {
        let json = what.to_json().map_err(Trouble::Unstorable)?;
        if json.len() > MAX_BODY_BYTES {
            return Err(Trouble::Fault(Fault::TooLarge(json.len())));
        }
        let kind = what.kind();
        let kind_end = BEFORE_KIND.len() + kind.len();
        let begins = json.strip_prefix(BEFORE_KIND).and_then(|rest| rest.strip_prefix(kind));
        let body = begins.and_then(|rest| rest.strip_prefix(BEFORE_BODY));
        if body.and_then(|body| body.strip_prefix('{')?.strip_suffix("}}")).is_none() {
            return Err(Trouble::Unstorable(EntryError::NoBody));
        }
        Ok(Self { json, kind_end })
    }

    /// Adds the tail, once.
    pub fn end(&mut self, tail: Tail) {
        let json = &mut self.json;
        json.truncate(json.len() - AFTER_BODY.len() - 1);
        let mut comma = if json.ends_with('{') { "" } else { "," };
        let offset = tail.offset.map(|offset| i64::from(offset.minutes()));
        for (key, number) in [(HIGHEST, tail.highest_round.map(i64::from)), (OFFSET, offset)] {
            if let Some(number) = number {
                json.push_str(comma);
                json.push_str(key);
                // Writing into a string cannot fail.
                let _ = write!(json, "{number}");
                comma = ",";
            }
        }
        json.push_str("}}");
    }

    /// The word for what happened.
    pub fn kind(&self) -> &str {
        self.json.get(BEFORE_KIND.len()..self.kind_end).unwrap_or_default()
    }

    /// Everything but the kind, a JSON object.
    pub fn body(&self) -> &str {
        let end = self.json.len() - AFTER_BODY.len();
        self.json.get(self.kind_end + BEFORE_BODY.len()..end).unwrap_or_default()
    }
}

/// The content of the columns `kind` and `body`.
#[derive(Debug, PartialEq)]
pub struct Decoded {
    pub what: What,
    /// The writer's offset from UTC.
    pub offset: Option<UtcOffset>,
}

/// Reads the columns `kind` and `body`.
pub fn decode(kind: &str, body: &str) -> Result<Decoded, Unreadable> {
    if !kind.bytes().all(|b| b.is_ascii_lowercase() || b == b'-') {
        return Err(Unreadable::Kind);
    }
    let (json, offset) = match take_tail(body) {
        Some(Parted { content, tail }) => {
            ([BEFORE_KIND, kind, BEFORE_BODY, content, "}", AFTER_BODY].concat(), tail.offset)
        }
        None => ([BEFORE_KIND, kind, BEFORE_BODY, body, AFTER_BODY].concat(), None),
    };
    What::from_json(&json).map(|what| Decoded { what, offset }).map_err(Unreadable::Entry)
}

/// A body split in two.
#[derive(Debug, PartialEq, Eq)]
pub struct Parted<'b> {
    /// Without its tail and without the brace at its end.
    pub content: &'b str,
    pub tail: Tail,
}

/// Takes the tail off a body; `None` if it is not an object.
///
/// No text inside a value can look like a key of the tail: a quote inside a text has a backslash before it, and what
/// follows the last comma here is the end of the outermost object.
pub fn take_tail(body: &str) -> Option<Parted<'_>> {
    let inner = body.strip_suffix('}')?;
    let offset = |number| i16::try_from(number).ok().and_then(UtcOffset::from_minutes);
    let found = last_number::<{ OFFSET.len() }>(inner, OFFSET);
    let (inner, offset) = match found.map(|(rest, number)| (rest, offset(number))) {
        Some((rest, Some(offset))) => (rest, Some(offset)),
        _ => (inner, None),
    };
    let found = last_number::<{ HIGHEST.len() }>(inner, HIGHEST);
    let (content, highest_round) = match found.map(|(rest, number)| (rest, u32::try_from(number))) {
        Some((rest, Ok(number))) => (rest, Some(number)),
        _ => (inner, None),
    };
    Some(Parted { content, tail: Tail { highest_round, offset } })
}

/// The text before its last key, and the number there, if that is the key and the number is spelled as this program
/// spells it.
///
/// `N` is the length of the key: a known length is compared without a call.
fn last_number<'t, const N: usize>(inner: &'t str, key: &str) -> Option<(&'t str, i64)> {
    let digits = inner.bytes().rev().take(11).take_while(|b| b.is_ascii_digit() || *b == b'-').count();
    let (before, written) = inner.split_at_checked(inner.len().checked_sub(digits)?)?;
    if *before.as_bytes().last_chunk::<N>()? != *key.as_bytes() {
        return None;
    }
    let plain = written.strip_prefix('-').unwrap_or(written);
    let spelt = !plain.starts_with('0') || written == "0";
    let rest = before.get(..before.len().checked_sub(N)?)?;
    let rest = match rest.as_bytes().last()? {
        b',' => rest.get(..rest.len() - 1)?,
        b'{' => rest,
        _ => return None,
    };
    Some((rest, written.parse().ok().filter(|_| spelt)?))
}

#[cfg(test)]
mod tests;
