//! The chain: each entry's hash takes in the hash of the one before.

use sha2::{Digest, Sha256};
use std::fmt;

/// What the chain starts from: the SHA-256 of these bytes stands as "the hash before" of entry 1.
pub const DOMAIN: &[u8] = b"jigtrue log, format 1";

/// A SHA-256 value (FIPS 180-4); it prints as 64 lowercase hexadecimal digits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Hash(pub [u8; 32]);

impl Hash {
    /// The value before the first entry.
    #[must_use]
    pub fn genesis() -> Self {
        Self(Sha256::digest(DOMAIN).into())
    }
}

impl fmt::Display for Hash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

/// The last entry of a log, or of a part of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Head {
    /// Its number, and so how many entries there are; 0 before the first.
    pub seq: u64,
    /// Its hash.
    pub hash: Hash,
}

impl Head {
    /// The state before the first entry.
    #[must_use]
    pub fn genesis() -> Self {
        Self { seq: 0, hash: Hash::genesis() }
    }

    /// The hash of the entry that follows this one, over the bytes laid out in the crate's page.
    #[must_use]
    pub fn link(&self, at_millis: i64, by: &[u8], kind: &[u8], body: &[u8]) -> Hash {
        let mut sha = Sha256::new();
        sha.update(self.hash.0);
        sha.update(self.seq.wrapping_add(1).to_be_bytes());
        sha.update(at_millis.to_be_bytes());
        for text in [by, kind, body] {
            sha.update((text.len() as u64).to_be_bytes());
            sha.update(text);
        }
        Hash(sha.finalize().into())
    }
}
