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
        let unstorable = |why: &str| Fault::Unstorable(why.to_owned());
        let json = serde_json::to_string(what).map_err(|e| unstorable(&e.to_string()))?;
        if json.len() > MAX_BODY_BYTES {
            return Err(Fault::TooLarge(json.len()));
        }
        // A number that is not finite is written as null, which does not read back as a number.
        if json.contains("null") {
            serde_json::from_str::<What>(&json).map_err(|_| unstorable("a number in it is not finite"))?;
        }
        let kind_end =
            json.find(BEFORE_BODY).filter(|_| json.starts_with(BEFORE_KIND) && json.ends_with(AFTER_BODY));
        let kind_end = kind_end.ok_or_else(|| unstorable("it has no kind or no body"))?;
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
    serde_json::from_str(&json).map_err(|e| {
        let text = e.to_string();
        // Without the line and column, which count in a text that nobody sees.
        let words = text.rfind(" at line ").and_then(|end| text.get(..end)).unwrap_or(&text);
        format!("its body does not fit its kind `{kind}` ({words})")
    })
}
