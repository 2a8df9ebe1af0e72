//! What is known of the log's chain.

/// Whether the chain of hashes was walked and fits.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Chain {
    /// Walked to the end, every entry fits.
    Whole,
    /// Walked, and broken; in words, where and how.
    Broken(String),
    /// Not walked.
    #[default]
    NotWalked,
}
