//! The chain: each entry's hash includes the hash of the one before.

use sha2::{Digest, Sha256};
use std::fmt;

/// The start of the chain: the SHA-256 of these bytes is "the hash before" of entry 1.
pub const DOMAIN: &[u8] = b"jigtrue log, format 1";

/// A SHA-256 value (FIPS 180-4); it prints as 64 lowercase hexadecimal digits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Hash(pub [u8; 32]);

impl Hash {
    /// The value before the first entry.
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
    /// Its number, which is also the number of entries; 0 before the first.
    pub seq: u64,
    pub hash: Hash,
}

impl Head {
    /// The state before the first entry.
    pub fn genesis() -> Self {
        Self { seq: 0, hash: Hash::genesis() }
    }

    /// The hash of the entry that follows this one, over the bytes laid out in the crate's page.
    pub fn link(&self, at_millis: i64, by: &[u8], kind: &[u8], body: &[u8]) -> Hash {
        let (seq, at_millis) = (self.seq.wrapping_add(1).to_be_bytes(), at_millis.to_be_bytes());
        let [by_length, kind_length, body_length] = [by, kind, body].map(|t| (t.len() as u64).to_be_bytes());
        let parts: [&[u8]; 9] =
            [&self.hash.0, &seq, &at_millis, &by_length, by, &kind_length, kind, &body_length, body];
        // Most entries are short, and hashing them in one piece takes half the time.
        let mut piece = [0; PIECE];
        let mut end = 0;
        for part in parts {
            match piece.get_mut(end..end + part.len()) {
                Some(into) => into.copy_from_slice(part),
                None => {
                    let mut sha = Sha256::new();
                    parts.iter().for_each(|part| sha.update(part));
                    return Hash(sha.finalize().into());
                }
            }
            end += part.len();
        }
        Hash(Sha256::digest(piece.get(..end).unwrap_or_default()).into())
    }
}

/// Entries up to this many bytes are hashed in one piece.
const PIECE: usize = 768;
