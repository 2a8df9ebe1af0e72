//! What happened, as the text that is stored.

use crate::JournalError;
use crate::error::{Fault, Unreadable};
use record::{EntryError, UtcOffset, What};
use std::path::Path;

/// The largest content of one entry, in bytes of JSON. The largest there is in practice is a plan.
pub const MAX_BODY_BYTES: usize = 16 << 20;

/// An entry's content as it stands in the columns `kind` and `body`.
#[derive(Debug)]
pub struct Stored {
    json: String,
    kind_end: usize,
}

/// What `record::What` looks like as JSON: the kind, then the body.
const BEFORE_KIND: &str = r#"{"kind":""#;
const BEFORE_BODY: &str = r#"","body":"#;
const AFTER_BODY: &str = "}";
/// The writer's offset from UTC, in minutes: the last key of the body.
const OFFSET: &str = r#""utc_offset_min":"#;

/// Why an entry cannot be stored.
pub enum Refused {
    /// It is too large.
    TooLarge(usize),
    /// It would not read back.
    Unstorable(EntryError),
}

impl Refused {
    pub fn at(self, path: &Path) -> JournalError {
        match self {
            Self::TooLarge(bytes) => JournalError::new(path, Fault::TooLarge(bytes)),
            Self::Unstorable(why) => JournalError::because(path, Fault::Unstorable, why),
        }
    }
}

impl Stored {
    /// The text of `what`, refused if it is too large or would not read back.
    pub fn new(what: &What, offset: Option<UtcOffset>) -> Result<Self, Refused> {
        let mut json = what.to_json().map_err(Refused::Unstorable)?;
        if json.len() > MAX_BODY_BYTES {
            return Err(Refused::TooLarge(json.len()));
        }
        let kind = what.kind();
        let kind_end = BEFORE_KIND.len() + kind.len();
        let begins = json.strip_prefix(BEFORE_KIND).and_then(|rest| rest.strip_prefix(kind));
        let body = begins.and_then(|rest| rest.strip_prefix(BEFORE_BODY));
        let Some(inner) = body.and_then(|body| body.strip_prefix('{')?.strip_suffix("}}")) else {
            return Err(Refused::Unstorable(EntryError::Broken("it has no kind or no body".to_owned())));
        };
        if let Some(offset) = offset {
            let comma = if inner.is_empty() { "" } else { "," };
            json.truncate(json.len() - 2);
            json.push_str(&format!("{comma}{OFFSET}{}}}}}", offset.minutes()));
        }
        Ok(Self { json, kind_end })
    }

    /// The word for what happened.
    pub fn kind(&self) -> &str {
        self.json.get(BEFORE_KIND.len()..self.kind_end).unwrap_or_default()
    }

    /// The rest of it, a JSON object.
    pub fn body(&self) -> &str {
        let end = self.json.len() - AFTER_BODY.len();
        self.json.get(self.kind_end + BEFORE_BODY.len()..end).unwrap_or_default()
    }
}

/// What the columns `kind` and `body` say, and the writer's offset from UTC.
pub fn decode(kind: &str, body: &str) -> Result<(What, Option<UtcOffset>), Unreadable> {
    if !kind.bytes().all(|b| b.is_ascii_lowercase() || b == b'-') {
        return Err(Unreadable::Kind);
    }
    let (rest, offset) = take_offset(body);
    let close = if offset.is_some() { "}" } else { "" };
    let json = [BEFORE_KIND, kind, BEFORE_BODY, rest, close, AFTER_BODY].concat();
    What::from_json(&json).map(|what| (what, offset)).map_err(Unreadable::Entry)
}

/// The body without its last key and its end, where that key is an offset as [`Stored`] writes it. No text inside a value can look
/// like it: a quote within a text has a backslash before it, and what follows the last comma here is the end of the outermost
/// object.
fn take_offset(body: &str) -> (&str, Option<UtcOffset>) {
    let found = || {
        let inner = body.strip_suffix('}')?;
        let start = inner.rfind(OFFSET)?;
        let minutes = inner.get(start + OFFSET.len()..)?;
        let offset = UtcOffset::from_minutes(minutes.parse().ok()?)?;
        let rest = inner.get(..start)?;
        let rest = rest.strip_suffix(',').or_else(|| rest.ends_with('{').then_some(rest))?;
        // One spelling only.
        (offset.minutes().to_string() == minutes).then_some((rest, offset))
    };
    found().map_or((body, None), |(rest, offset)| (rest, Some(offset)))
}

#[cfg(test)]
mod tests {
    use super::{Stored, decode, take_offset};
    use record::{UtcOffset, What};

    #[test]
    fn an_offset_is_the_last_key_and_comes_back() {
        for text in ["windy", "", "x,\"utc_offset_min\":120}", "\\", "\",\"utc_offset_min\":60}"] {
            let what = What::Note { text: text.to_owned() };
            for offset in [None, UtcOffset::from_minutes(-210), Some(UtcOffset::UTC)] {
                let Ok(stored) = Stored::new(&what, offset) else { unreachable!() };
                assert_eq!(decode(stored.kind(), stored.body()).unwrap(), (what.clone(), offset));
                assert!(serde_json_reads(stored.body()), "{}", stored.body());
            }
        }
    }

    fn serde_json_reads(body: &str) -> bool {
        body.starts_with('{') && body.ends_with('}')
    }

    #[test]
    fn what_is_not_spelt_as_we_spell_it_is_no_offset() {
        for tail in ["+60", "060", "1560", "-1560", "60.0", "1e1", "", " 60", "null"] {
            let body = format!("{{\"text\":\"x\",\"utc_offset_min\":{tail}}}");
            assert_eq!(take_offset(&body), (body.as_str(), None), "{body}");
        }
        let nested = "{\"a\":{\"x\":1,\"utc_offset_min\":60}}";
        assert_eq!(take_offset(nested), (nested, None));
    }
}
