//! What can go wrong when a sheet is made.

use std::fmt;

/// A sheet could not be made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SheetError {
    /// The plan's or the chain's fingerprint is not 64 hexadecimal digits.
    Fingerprint {
        /// Which one it is.
        which: &'static str,
        /// The text as given.
        text: String,
    },
    /// The time of the stamp is not like `2031-04-05T06:07:08Z`.
    MadeAt {
        /// The text as given.
        text: String,
    },
    /// The plan has nothing of that name that is judged.
    NoComponent {
        /// The name asked for.
        name: String,
        /// The names there are.
        known: Vec<String>,
    },
    /// The embedded font could not be used.
    Font,
    /// The PDF could not be written; the reason is the writer's.
    Pdf {
        /// The reason.
        why: String,
    },
}

impl fmt::Display for SheetError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Fingerprint { which, text } => {
                write!(f, "the fingerprint of the {which} must be 64 hexadecimal digits, and is `{text}`")
            }
            Self::MadeAt { text } => {
                write!(f, "the time on the sheet must be written as 2031-04-05T06:07:08Z, and is `{text}`")
            }
            Self::NoComponent { name, known } => {
                let some = known.iter().take(12).cloned().collect::<Vec<_>>().join(", ");
                let more = if known.len() > 12 { ", ..." } else { "" };
                write!(f, "nothing judged is called `{name}`; this plan has: {some}{more}")
            }
            Self::Font => {
                f.write_str("the font that belongs to the sheet cannot be read: the program is damaged")
            }
            Self::Pdf { why } => write!(f, "the sheet cannot be written as PDF: {why}"),
        }
    }
}

impl std::error::Error for SheetError {}
