//! What is known of the log's chain.

/// Whether the chain of hashes was walked and fits.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Chain {
    /// Walked to the end, every entry fits.
    Whole,
    /// Walked, and broken.
    Broken(Broken),
    #[default]
    NotWalked,
}

/// Where and how a chain is broken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Broken {
    pub words: String,
    /// The first entry that does not fit; none where the file was altered elsewhere.
    pub first: Option<u64>,
}
