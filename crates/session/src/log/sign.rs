//! Signing, and checking signatures.

use super::write::worded;
use super::{Session, Taken};
use crate::{SessionError, keys, shown};
use record::{Entry, GateState, Signed, What};
use std::path::PathBuf;

/// What is signed, and how.
#[derive(Clone, Debug, Default)]
pub struct Sign {
    /// Who signs; the session's person if none is given.
    pub who: Option<String>,
    /// In what capacity (`builder`, `inspector`).
    pub capacity: String,
    /// What they state.
    pub statement: String,
    /// True to sign a log whose gate holds, as seen.
    pub as_seen: bool,
    /// A key file, if the signature is to be cryptographic.
    pub key: Option<PathBuf>,
}

/// What is known of a sign-off's cryptographic signature.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SignatureCheck {
    /// Entry number of the sign-off.
    pub entry: u64,
    /// Who signed.
    pub who: String,
    /// The public key, hexadecimal.
    pub key: String,
    /// True if the signature is of what the entry says, by that key.
    pub fits: bool,
}

impl Session {
    /// Signs the log as it stands. A log whose gate holds is signed as seen, never as clear.
    ///
    /// # Errors
    /// When the gate holds and `as_seen` is not set, something needed is not given, or the key cannot be read.
    pub fn sign(&mut self, sign: Sign) -> Result<Taken, SessionError> {
        let who = self.person(sign.who.as_deref())?;
        let capacity = worded(&sign.capacity, "in what capacity? As in `builder` or `inspector`")?;
        let statement = worded(&sign.statement, "what is stated? Write the sentence that is signed")?;
        self.refresh()?;
        let gate = self.assessment().gate.state;
        if gate == GateState::Hold && !sign.as_seen {
            return Err(SessionError::refused(
                "the gate holds, so this cannot be signed as clear. `jigtrue check` lists the reasons; to sign that you \
                 have seen it as it stands, add --as-seen",
            ));
        }
        let (entries, head) = self.head();
        let mut signed =
            Signed { who: who.clone(), capacity, statement, gate, entries, head, signature: None };
        if let Some(key) = &sign.key {
            signed.signature = Some(keys::sign(key, &message(&signed))?);
        }
        let as_what = match gate {
            GateState::Clear => "clear",
            GateState::Hold => "seen, on hold",
        };
        let ack = format!("{} signs {entries} entries as {as_what}", shown(&who));
        let entry = self.append(Some(&who), &What::Signed(signed))?;
        Ok(Taken { entry, ack })
    }
}

/// What is known of an entry's cryptographic signature, if it has one.
pub(super) fn signature_of(entry: &Entry) -> Option<SignatureCheck> {
    let What::Signed(signed) = &entry.what else { return None };
    let signature = signed.signature.as_ref()?;
    Some(SignatureCheck {
        entry: entry.seq,
        who: signed.who.clone(),
        key: signature.key.clone(),
        fits: keys::fits(signature, &message(signed)),
    })
}

/// The bytes that are signed: a first line that says what they are, then each field with its length before it.
fn message(signed: &Signed) -> Vec<u8> {
    let entries = signed.entries.to_string();
    let fields =
        [&signed.who, &signed.capacity, &signed.statement, signed.gate.word(), &entries, &signed.head]
            .map(str::as_bytes);
    let mut out = b"jigtrue sign-off, format 1\n".to_vec();
    for field in fields {
        out.extend((field.len() as u64).to_be_bytes());
        out.extend(field);
    }
    out
}
