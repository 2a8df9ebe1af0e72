//! Sign-offs.

use serde::{Deserialize, Serialize};

quantity::words_in_json! {
    /// The state of the closing gate.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
    pub enum GateState {
        /// Nothing prevents closing the skins.
        Clear = "clear",
        /// Something does.
        Hold = "hold",
    }
}

/// Which text a sign-off's signature covers.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "u8", into = "u8")]
pub enum SignedText {
    /// The text of version 0.1, without date and name.
    #[default]
    First,
    /// Today's text: the whole sign-off, with its date and its writer.
    Second,
}

impl SignedText {
    fn is_first(&self) -> bool {
        *self == Self::First
    }
}

impl TryFrom<u8> for SignedText {
    type Error = &'static str;
    fn try_from(number: u8) -> Result<Self, Self::Error> {
        match number {
            1 => Ok(Self::First),
            2 => Ok(Self::Second),
            _ => Err("the text that is signed is 1 or 2"),
        }
    }
}

impl From<SignedText> for u8 {
    fn from(text: SignedText) -> Self {
        match text {
            SignedText::First => 1,
            SignedText::Second => 2,
        }
    }
}

/// True for the capacity of an inspector: one of its words begins with that.
#[must_use]
pub fn inspects(capacity: &str) -> bool {
    let mut words = capacity.split(|c: char| !c.is_alphabetic());
    words.any(|word| word.to_lowercase().starts_with("inspect"))
}

/// A sign-off.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Signed {
    /// Who signed.
    pub who: String,
    pub capacity: String,
    /// Their statement.
    pub statement: String,
    /// The gate's state when they signed.
    pub gate: GateState,
    /// How many entries the log had.
    pub entries: u64,
    /// The hash of the last of them, in hexadecimal.
    pub head: String,
    #[serde(default, skip_serializing_if = "SignedText::is_first")]
    pub text: SignedText,
    /// The public key used, in hexadecimal, if any; a sign-off of version 0.1 has it only in the signature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub key: Option<String>,
    /// The signature, if a key was used.
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

#[cfg(test)]
mod tests;
