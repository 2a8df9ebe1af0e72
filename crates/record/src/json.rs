//! Entries as JSON: `{"kind": .., "body": {..}}`, compact, keys in a fixed order, every number exact.

use crate::{SignedText, StageBegun, What};
use serde::Deserialize;
use std::fmt;
use std::sync::Arc;

impl What {
    /// The word for each kind of entry in the JSON.
    pub const KINDS: [&str; 14] = [
        "started",
        "replanned",
        "instrument",
        "instrument-check",
        "reading",
        "withdrawn",
        "stage",
        "move",
        "rework",
        "open-item",
        "drift",
        "signed",
        "wing",
        "note",
    ];

    /// The word for its kind in the JSON.
    #[must_use]
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::Started { .. } => "started",
            Self::Replanned { .. } => "replanned",
            Self::Instrument(_) => "instrument",
            Self::InstrumentCheck(_) => "instrument-check",
            Self::Reading(_) => "reading",
            Self::Withdrawn { .. } => "withdrawn",
            Self::Stage(_) => "stage",
            Self::Move(_) => "move",
            Self::Rework(_) => "rework",
            Self::OpenItem(_) => "open-item",
            Self::Drift { .. } => "drift",
            Self::Signed(_) => "signed",
            Self::Wing(_) => "wing",
            Self::Note { .. } => "note",
        }
    }

    /// The log format that a program must know to understand it: 1, or 2 for a later kind, for a sign-off whose
    /// signature covers date and name, and for a stage that skipped others.
    #[must_use]
    pub fn format(&self) -> i32 {
        let second = match self {
            Self::Rework(_) | Self::Wing(_) => true,
            Self::Signed(signed) => signed.text == SignedText::Second,
            // A program that does not know dials would compute a different value.
            Self::Reading(reading) => reading.dial.is_some(),
            Self::Instrument(instrument) => instrument.shows_divisions() || instrument.tape.is_some(),
            Self::Stage(begun) => *begun != StageBegun::new(&begun.name),
            Self::Started { .. }
            | Self::Replanned { .. }
            | Self::InstrumentCheck(_)
            | Self::Withdrawn { .. }
            | Self::Move(_)
            | Self::OpenItem(_)
            | Self::Drift { .. }
            | Self::Note { .. } => false,
        };
        if second { 2 } else { 1 }
    }

    /// Writes it as JSON. The same value always gives the same bytes.
    ///
    /// # Errors
    /// If a number in it is not finite, which JSON cannot express.
    pub fn to_json(&self) -> Result<String, EntryError> {
        if let Self::Reading(reading) = self
            && let Some(json) = crate::plainly::json(reading)
        {
            return Ok(json);
        }
        let json = serde_json::to_string(self).map_err(|why| EntryError::NotJson(why.into()))?;
        // serde writes a number that is not finite as null, which does not read back as a number.
        if json.contains("null") && serde_json::from_str::<Self>(&json).is_err() {
            return Err(EntryError::NotFinite);
        }
        Ok(json)
    }

    /// Reads what [`What::to_json`] wrote.
    ///
    /// # Errors
    /// If the kind is unknown, the body does not fit the kind, or the text is not JSON.
    pub fn from_json(json: &str) -> Result<Self, EntryError> {
        serde_json::from_str(json).map_err(|why| match serde_json::from_str::<Head>(json) {
            Ok(Head { kind }) if Self::KINDS.contains(&kind.as_str()) => {
                EntryError::Misfit { kind, why: why.into() }
            }
            Ok(Head { kind }) => EntryError::UnknownKind(kind),
            Err(_) => EntryError::NotJson(why.into()),
        })
    }
}

#[derive(Deserialize)]
struct Head {
    kind: String,
}

/// What is wrong with the JSON of an entry, or why an entry cannot be written as JSON.
#[derive(Clone, Debug)]
pub struct JsonFault(Arc<serde_json::Error>);

impl fmt::Display for JsonFault {
    /// Without line and column, which refer to a text that nobody sees.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = self.0.to_string();
        f.write_str(text.rfind(" at line ").and_then(|end| text.get(..end)).unwrap_or(&text))
    }
}

impl PartialEq for JsonFault {
    fn eq(&self, other: &Self) -> bool {
        self.to_string() == other.to_string()
    }
}

impl Eq for JsonFault {}

impl std::error::Error for JsonFault {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        Some(&*self.0)
    }
}

impl From<serde_json::Error> for JsonFault {
    fn from(error: serde_json::Error) -> Self {
        Self(Arc::new(error))
    }
}

/// An entry cannot be written or read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum EntryError {
    /// This program does not know the kind.
    #[error("its kind `{}` is unknown: a newer version wrote it", .0.escape_debug())]
    UnknownKind(String),
    #[error("its body does not fit its kind `{kind}` ({why})")]
    Misfit {
        kind: String,
        #[source]
        why: JsonFault,
    },
    #[error("a number in it is not finite")]
    NotFinite,
    #[error("it is not an entry (it has no kind or no body)")]
    NoBody,
    #[error("it is not an entry ({0})")]
    NotJson(#[source] JsonFault),
}
