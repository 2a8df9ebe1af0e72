//! What happened, as the text that is stored.

use crate::error::Fault;
use record::What;

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

impl Stored {
    /// The text of `what`, refused if it is too large or would not read back.
    pub fn new(what: &What) -> Result<Self, Fault> {
        let json = what.to_json().map_err(|why| Fault::Unstorable(why.to_string()))?;
        if json.len() > MAX_BODY_BYTES {
            return Err(Fault::TooLarge(json.len()));
        }
        // A kind is a plain word: it ends at the first quote.
        let kind = json.strip_prefix(BEFORE_KIND).and_then(|rest| rest.split('"').next());
        let kind_end = BEFORE_KIND.len() + kind.map_or(0, str::len);
        let has_body = json.get(kind_end..).is_some_and(|rest| rest.starts_with(BEFORE_BODY));
        if kind.is_none() || !has_body || !json.ends_with(AFTER_BODY) {
            return Err(Fault::Unstorable("it has no kind or no body".to_owned()));
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

/// What the columns `kind` and `body` say.
pub fn decode(kind: &str, body: &str) -> Result<What, String> {
    if !kind.bytes().all(|b| b.is_ascii_lowercase() || b == b'-') {
        return Err("its kind is not a word".to_owned());
    }
    let json = [BEFORE_KIND, kind, BEFORE_BODY, body, AFTER_BODY].concat();
    What::from_json(&json).map_err(|why| why.to_string())
}
