//! What can go wrong when a sheet is made.

use krilla::configure::ConfigurationError;
use krilla::error::KrillaError;

#[derive(Debug, thiserror::Error)]
pub enum SheetError {
    /// The fingerprint of the plan or the chain is not 64 hexadecimal digits.
    #[error("the fingerprint of the {which} must be 64 hexadecimal digits, but is `{text}`")]
    Fingerprint { which: &'static str, text: String },
    /// The time of the stamp is not like `2031-04-05T06:07:08Z`.
    #[error("the time on the sheet must be written as 2031-04-05T06:07:08Z, but is `{text}`")]
    MadeAt { text: String },
    /// The plan has no judged component with this name.
    #[error("nothing judged is called `{name}`{}; this plan has: {}{}", near(.name, .known), .known.iter().take(12).cloned().collect::<Vec<_>>().join(", "), if .known.len() > 12 { ", ..." } else { "" })]
    NoComponent { name: String, known: Vec<String> },
    #[error("the font that belongs to the sheet cannot be read: the program is damaged")]
    Font,
    #[error("the sheet cannot be written as PDF: {0:?}")]
    Archival(ConfigurationError),
    #[error("the sheet cannot be written as PDF: the paper has no size")]
    NoSize,
    #[error("the sheet cannot be written as PDF: {0} ({0:?})")]
    Pdf(#[source] KrillaError),
}

fn near(name: &str, known: &[String]) -> String {
    let near = quantity::nearest(name, known.iter().map(String::as_str));
    near.map(|near| format!("; nearest is `{near}`")).unwrap_or_default()
}
