//! What can go wrong when a sheet is made.

/// A sheet could not be made.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SheetError {
    /// The plan's or the chain's fingerprint is not 64 hexadecimal digits.
    #[error("the fingerprint of the {which} must be 64 hexadecimal digits, and is `{text}`")]
    Fingerprint {
        /// Which one it is.
        which: &'static str,
        /// The text as given.
        text: String,
    },
    /// The time of the stamp is not like `2031-04-05T06:07:08Z`.
    #[error("the time on the sheet must be written as 2031-04-05T06:07:08Z, and is `{text}`")]
    MadeAt {
        /// The text as given.
        text: String,
    },
    /// The plan has nothing of that name that is judged.
    #[error("nothing judged is called `{name}`; this plan has: {}{}", .known.iter().take(12).cloned().collect::<Vec<_>>().join(", "), if .known.len() > 12 { ", ..." } else { "" })]
    NoComponent {
        /// The name asked for.
        name: String,
        /// The names there are.
        known: Vec<String>,
    },
    /// The embedded font could not be used.
    #[error("the font that belongs to the sheet cannot be read: the program is damaged")]
    Font,
    /// The PDF could not be written; the reason is the writer's.
    #[error("the sheet cannot be written as PDF: {why}")]
    Pdf {
        /// The reason.
        why: String,
    },
}
