//! What a log's sign-offs are worth: which signatures fit, and what each covers. Every face shows the result of this
//! one check.

use crate::hex::{hex, unhex};
use crate::{Entry, Signature, Signed, SignedText, UtcOffset, What, When};
use ed25519_dalek::{Signer, SigningKey, VerifyingKey};
use serde::Serialize;

quantity::words! {
    /// What is known about the signature of a sign-off.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
    #[serde(rename_all = "kebab-case")]
    pub enum Seal {
        /// It was signed without a key.
        NoKey = "no key",
        /// It was made with this key and covers the whole sign-off.
        Fits = "signature fits",
        /// It was made with this key over the text of version 0.1: date and role are not covered.
        FitsFirstText = "signature fits; date and role not covered",
        /// It does not fit: the sign-off or the signature was changed.
        Altered = "SIGNATURE DOES NOT FIT",
        /// It is a copy of an earlier sign-off of this log.
        Copy = "COPY OF AN EARLIER SIGN-OFF",
        /// A key was used, but the signature is missing.
        Gone = "SIGNATURE IS MISSING",
    }
}

impl Seal {
    /// Whether nothing contradicts it; a sign-off without a key has nothing to check.
    #[must_use]
    pub const fn is_sound(self) -> bool {
        matches!(self, Self::NoKey | Self::Fits | Self::FitsFirstText)
    }

    /// Whether a key vouches for it.
    #[must_use]
    pub const fn is_keyed(self) -> bool {
        matches!(self, Self::Fits | Self::FitsFirstText)
    }
}

/// A sign-off of a log, and what it is worth.
#[derive(Clone, Debug, PartialEq)]
pub struct SignOff {
    /// Its entry number.
    pub entry: u64,
    /// When it was written.
    pub when: When,
    /// Who wrote the entry.
    pub by: String,
    /// What was signed.
    pub signed: Signed,
    /// The result of checking its signature.
    pub seal: Seal,
    /// The entry it is a copy of, if any.
    pub copy_of: Option<u64>,
    /// Earlier entries that it does not cover: zero, unless an older program wrote it while another program was
    /// writing.
    pub uncovered: u64,
}

impl SignOff {
    /// The public key, in hexadecimal, if one was used.
    #[must_use]
    pub fn key(&self) -> Option<&str> {
        self.signed.key.as_deref().or(self.signed.signature.as_ref().map(|s| s.key.as_str()))
    }
}

/// Every sign-off of a log, oldest first.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SignOffs {
    all: Vec<SignOff>,
    last: u64,
}

impl SignOffs {
    /// The sign-offs among these entries, oldest first. The entries must include all sign-offs.
    #[must_use]
    pub fn of<'a>(entries: impl IntoIterator<Item = &'a Entry>) -> Self {
        let mut all = Self::default();
        for entry in entries {
            all.saw(entry);
        }
        all
    }

    /// Notes that the log continues at least to this entry, which is not a sign-off.
    pub fn passed(&mut self, seq: u64) {
        self.last = self.last.max(seq);
    }

    /// Takes the next entry into account.
    pub fn saw(&mut self, entry: &Entry) {
        self.passed(entry.seq);
        if let What::Signed(signed) = &entry.what {
            let copied = self.all.iter().find(|before| same(&before.signed, signed)).map(|b| b.entry);
            self.all.push(SignOff {
                entry: entry.seq,
                when: entry.when(),
                by: entry.by.clone(),
                seal: if copied.is_some() { Seal::Copy } else { seal(signed, entry) },
                copy_of: copied,
                uncovered: entry.seq.saturating_sub(signed.entries.saturating_add(1)),
                signed: signed.clone(),
            });
        }
    }

    /// All sign-offs, oldest first.
    #[must_use]
    pub fn all(&self) -> &[SignOff] {
        &self.all
    }

    /// How many entries came after what a sign-off covers, not counting itself.
    #[must_use]
    pub fn since(&self, of: &SignOff) -> u64 {
        self.last.saturating_sub(of.signed.entries.saturating_add(1))
    }
}

/// Whether the sign-offs are the same: the same signature, or the same text about the same state.
fn same(before: &Signed, after: &Signed) -> bool {
    match (&before.signature, &after.signature) {
        (Some(a), Some(b)) if a.bytes == b.bytes => true,
        _ => before.head == after.head && before == after,
    }
}

fn seal(signed: &Signed, entry: &Entry) -> Seal {
    let Some(signature) = &signed.signature else {
        return if signed.key.is_some() { Seal::Gone } else { Seal::NoKey };
    };
    let same_key = signed.key.as_ref().is_none_or(|key| *key == signature.key);
    let in_place = match signed.text {
        SignedText::First => true,
        // This text is only signed under the lock that its entry is written under.
        SignedText::Second => signed.key.is_some() && signed.entries.checked_add(1) == Some(entry.seq),
    };
    if !(same_key && in_place && fits(signature, &message(signed, entry.when(), &entry.by))) {
        return Seal::Altered;
    }
    match signed.text {
        SignedText::First => Seal::FitsFirstText,
        SignedText::Second => Seal::Fits,
    }
}

/// The bytes that are signed: a first line that names the format, then each field with its length before it (8 bytes,
/// big-endian). Fields: who, capacity, statement, gate, entries, head; in the second text also the entry's
/// milliseconds since 1970, its offset from UTC (`+02:00`, or empty) and who wrote it.
fn message(signed: &Signed, when: When, by: &str) -> Vec<u8> {
    let entries = signed.entries.to_string();
    let mut fields =
        vec![&signed.who, &signed.capacity, &signed.statement, signed.gate.word(), &entries, &signed.head];
    let millis = when.at.millis().to_string();
    let offset = when.offset.as_ref().map(UtcOffset::to_string).unwrap_or_default();
    let mut out = match signed.text {
        SignedText::First => b"jigtrue sign-off, format 1\n".to_vec(),
        SignedText::Second => {
            fields.extend([millis.as_str(), &offset, by]);
            b"jigtrue sign-off, format 2\n".to_vec()
        }
    };
    for field in fields {
        out.extend((field.len() as u64).to_be_bytes());
        out.extend(field.as_bytes());
    }
    out
}

/// Signs a sign-off of the second text with a secret key, for this time and this writer.
#[must_use]
pub fn sealed(mut signed: Signed, when: When, by: &str, secret: &[u8; 32]) -> Signed {
    let key = SigningKey::from_bytes(secret);
    let public = hex(key.verifying_key().as_bytes());
    signed.text = SignedText::Second;
    signed.key = Some(public.clone());
    let bytes = hex(&key.sign(&message(&signed, when, by)).to_bytes());
    signed.signature = Some(Signature { key: public, bytes });
    signed
}

/// The public key of a secret one, in hexadecimal.
#[must_use]
pub fn public_key(secret: &[u8; 32]) -> String {
    hex(SigningKey::from_bytes(secret).verifying_key().as_bytes())
}

fn fits(signature: &Signature, message: &[u8]) -> bool {
    let key = unhex::<32>(&signature.key).and_then(|k| VerifyingKey::from_bytes(&k).ok());
    let bytes = unhex::<64>(&signature.bytes).map(|b| ed25519_dalek::Signature::from_bytes(&b));
    match (key, bytes) {
        (Some(key), Some(bytes)) => key.verify_strict(message, &bytes).is_ok(),
        _ => false,
    }
}

#[cfg(test)]
mod tests;
