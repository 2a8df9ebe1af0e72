//! The result of checking the log's chain.

use std::error::Error;
use std::sync::Arc;

/// Whether the chain of hashes was checked and is whole.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Chain {
    /// Checked to the end; every entry fits.
    Whole,
    /// Checked, and broken.
    Broken(Broken),
    #[default]
    NotWalked,
}

/// Where and how a chain is broken.
#[derive(Clone, Debug, thiserror::Error)]
#[error("{why}")]
pub struct Broken {
    /// What the checker found.
    #[source]
    why: Arc<dyn Error + Send + Sync>,
    /// The first entry that does not fit; `None` if the file was altered elsewhere.
    pub first: Option<u64>,
}

impl Broken {
    pub fn new(why: impl Into<Box<dyn Error + Send + Sync>>, first: Option<u64>) -> Self {
        Self { why: Arc::from(why.into()), first }
    }
}

impl PartialEq for Broken {
    fn eq(&self, other: &Self) -> bool {
        self.first == other.first && self.to_string() == other.to_string()
    }
}

impl Eq for Broken {}
