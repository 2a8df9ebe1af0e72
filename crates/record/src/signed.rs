//! Sign-offs.

use serde::{Deserialize, Serialize};

/// The state of the closing gate.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum GateState {
    /// Nothing stands against closing the skins.
    Clear,
    /// Something does.
    Hold,
}

impl GateState {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Clear => "clear",
            Self::Hold => "hold",
        }
    }
}

/// A sign-off.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Signed {
    /// Who signed.
    pub who: String,
    /// In what capacity.
    pub capacity: String,
    /// What they state.
    pub statement: String,
    /// The gate's state when they signed.
    pub gate: GateState,
    /// How many entries the log had.
    pub entries: u64,
    /// The hash of the last of them, in hexadecimal.
    pub head: String,
    /// A signature over who, capacity, statement, gate and head, if a key was used.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub signature: Option<Signature>,
}

/// An Ed25519 signature (RFC 8032), both parts in hexadecimal.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Signature {
    /// The public key, 32 bytes.
    pub key: String,
    /// The signature, 64 bytes.
    pub bytes: String,
}
