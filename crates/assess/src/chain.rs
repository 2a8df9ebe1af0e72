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
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{why}")]
pub struct Broken {
    /// What the checker found.
    #[source]
    why: Because,
    /// The first entry that does not fit; `None` if the file was altered elsewhere.
    pub first: Option<u64>,
}

impl Broken {
    pub fn new(why: impl Into<Box<dyn Error + Send + Sync>>, first: Option<u64>) -> Self {
        Self { why: Because::new(why), first }
    }
}

/// What another room found; two are equal that say the same.
#[derive(Clone, Debug, thiserror::Error)]
#[error(transparent)]
pub struct Because(Arc<dyn Error + Send + Sync>);

impl Because {
    pub fn new(why: impl Into<Box<dyn Error + Send + Sync>>) -> Self {
        Self(Arc::from(why.into()))
    }
}

impl PartialEq for Because {
    fn eq(&self, other: &Self) -> bool {
        self.to_string() == other.to_string()
    }
}

impl Eq for Because {}
