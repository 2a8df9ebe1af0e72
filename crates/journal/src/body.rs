//! What happened, as the text that is stored.

use crate::error::Fault;
use record::What;

/// The largest content of one entry, in bytes of JSON. The largest there is in practice is a plan.
pub const MAX_BODY_BYTES: usize = 16 << 20;

/// The kind and the JSON of an entry.
pub fn encode(what: &What) -> Result<(&'static str, String), Fault> {
    let body = serde_json::to_string(what).map_err(|e| Fault::Unstorable(e.to_string()))?;
    if body.len() > MAX_BODY_BYTES {
        return Err(Fault::TooLarge(body.len()));
    }
    // A number that is not finite is written as null, which does not read back as a number.
    if body.contains("null") {
        decode(body.as_bytes()).map_err(Fault::Unstorable)?;
    }
    Ok((kind(what), body))
}

/// What the JSON of an entry says.
pub fn decode(body: &[u8]) -> Result<What, String> {
    serde_json::from_slice(body).map_err(|e| e.to_string())
}

/// The word for the kind of entry, as it stands in the column `kind`.
pub const fn kind(what: &What) -> &'static str {
    match what {
        What::Started { .. } => "started",
        What::Replanned { .. } => "replanned",
        What::Instrument(_) => "instrument",
        What::InstrumentCheck(_) => "instrument-check",
        What::Reading(_) => "reading",
        What::Withdrawn { .. } => "withdrawn",
        What::Stage { .. } => "stage",
        What::Move(_) => "move",
        What::OpenItem(_) => "open-item",
        What::Drift { .. } => "drift",
        What::Signed(_) => "signed",
        What::Note { .. } => "note",
    }
}
