//! What a log's sign-offs are worth: which signatures fit, and what each of them covers. The one test that every face shows.

use crate::hex::{hex, unhex};
use crate::{Entry, Signature, Signed, SignedText, UtcOffset, What, When};
use ed25519_dalek::{Signer, SigningKey, VerifyingKey};
use serde::Serialize;

/// What is known of the signature of a sign-off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Seal {
    /// It was signed without a key.
    NoKey,
    /// It is of this sign-off by that key, and covers all of it.
    Fits,
    /// It is of the text that version 0.1 signed, by that key: date and role are not covered.
    FitsFirstText,
    /// It does not fit: the sign-off was changed, or the signature.
    Altered,
    /// It is an earlier sign-off of this log written again.
    Copy,
    /// A key was used and the signature is not there.
    Gone,
}

impl Seal {
    /// True where nothing speaks against it; a sign-off without a key has nothing that could.
    #[must_use]
    pub const fn is_sound(self) -> bool {
        matches!(self, Self::NoKey | Self::Fits | Self::FitsFirstText)
    }

    /// True where a key vouches for it.
    #[must_use]
    pub const fn is_keyed(self) -> bool {
        matches!(self, Self::Fits | Self::FitsFirstText)
    }

    /// A few words for a person, to follow "key ..." or a name.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::NoKey => "no key",
            Self::Fits => "signature fits",
            Self::FitsFirstText => "signature fits; date and role not covered",
            Self::Altered => "SIGNATURE DOES NOT FIT",
            Self::Copy => "COPY OF AN EARLIER SIGN-OFF",
            Self::Gone => "SIGNATURE IS MISSING",
        }
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
    /// What is known of its signature.
    pub seal: Seal,
    /// The entry it is a copy of, if it is one.
    pub copy_of: Option<u64>,
    /// Entries in front of it that it does not cover: none, unless an older program wrote it while another one wrote.
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
    /// The sign-offs among the entries, which are all there are, oldest first.
    #[must_use]
    pub fn of<'a>(entries: impl IntoIterator<Item = &'a Entry>) -> Self {
        let mut all = Self::default();
        for entry in entries {
            all.saw(entry);
        }
        all
    }

    /// Takes note that the log goes on at least to this entry, which is no sign-off.
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

    /// All of them, oldest first.
    #[must_use]
    pub fn all(&self) -> &[SignOff] {
        &self.all
    }

    /// How many entries came after what a sign-off saw, itself not counted.
    #[must_use]
    pub fn since(&self, of: &SignOff) -> u64 {
        self.last.saturating_sub(of.signed.entries.saturating_add(1))
    }
}

/// The same sign-off once more: the same signature, or the same words about the same state.
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
        // This text is only ever signed under the lock that its entry is written under.
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

/// The bytes that are signed: a first line that says what they are, then each field with its length before it (8 bytes,
/// big-endian). Fields: who, capacity, statement, gate, entries, head; in the second text also the entry's milliseconds since
/// 1970, its offset from UTC (`+02:00`, or nothing) and who wrote it.
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

/// Signs a sign-off of the second text with a secret key, as it will be written then and by that person.
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
mod tests {
    use super::*;
    use crate::{At, GateState};

    const SECRET: [u8; 32] = [7; 32];

    fn entry(seq: u64, signed: Signed) -> Entry {
        let offset = UtcOffset::from_minutes(120);
        Entry { seq, at: At::from_millis(1), offset, by: "ann".to_owned(), what: What::Signed(signed) }
    }

    fn plain(entries: u64) -> Signed {
        Signed {
            who: "ann".to_owned(),
            capacity: "builder".to_owned(),
            statement: "seen".to_owned(),
            gate: GateState::Clear,
            entries,
            head: "00".repeat(32),
            text: SignedText::Second,
            key: None,
            signature: None,
        }
    }

    fn seal_of(entry: &Entry) -> Seal {
        SignOffs::of([entry]).all()[0].seal
    }

    /// RFC 8032, section 7.1, test 2 (recalled from memory; the library's own tests hold the RFC's vectors).
    #[test]
    fn a_known_signature_fits_and_a_changed_one_does_not() {
        let secret = unhex::<32>("4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb").unwrap();
        assert_eq!(public_key(&secret), "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c");
        let bytes = hex(&SigningKey::from_bytes(&secret).sign(&[0x72]).to_bytes());
        let signature = Signature { key: public_key(&secret), bytes };
        assert!(fits(&signature, &[0x72]));
        assert!(!fits(&signature, &[0x73]));
        assert!(!fits(&Signature { key: "00".repeat(31), ..signature.clone() }, &[0x72]));
        assert!(!fits(&Signature { bytes: "zz".repeat(64), ..signature }, &[0x72]));
    }

    /// Each part of a sealed sign-off changed by itself, and the signature with it taken away, is found.
    #[test]
    fn whatever_is_changed_does_not_fit_any_more() {
        let good = entry(5, plain(4));
        let signed = sealed(plain(4), good.when(), "ann", &SECRET);
        let good = entry(5, signed.clone());
        assert_eq!(seal_of(&good), Seal::Fits);
        let mut all = vec![
            Signed { who: "bob".to_owned(), ..signed.clone() },
            Signed { capacity: "inspector".to_owned(), ..signed.clone() },
            Signed { statement: "Seen".to_owned(), ..signed.clone() },
            Signed { gate: GateState::Hold, ..signed.clone() },
            Signed { entries: 3, ..signed.clone() },
            Signed { head: "11".repeat(32), ..signed.clone() },
            Signed { text: SignedText::First, ..signed.clone() },
            Signed { key: None, ..signed.clone() },
            Signed { key: Some("22".repeat(32)), ..signed.clone() },
        ];
        for at in 0..128 {
            let Signature { key, mut bytes } = signed.signature.clone().unwrap();
            let other = if bytes.as_bytes()[at] == b'0' { "1" } else { "0" };
            bytes.replace_range(at..=at, other);
            all.push(Signed { signature: Some(Signature { key, bytes }), ..signed.clone() });
        }
        for changed in all {
            assert_eq!(seal_of(&entry(5, changed.clone())), Seal::Altered, "{changed:?}");
        }
        assert_eq!(seal_of(&Entry { at: At::from_millis(2), ..good.clone() }), Seal::Altered);
        assert_eq!(seal_of(&Entry { offset: None, ..good.clone() }), Seal::Altered);
        assert_eq!(seal_of(&Entry { by: "bob".to_owned(), ..good.clone() }), Seal::Altered);
        assert_eq!(seal_of(&Entry { seq: 6, ..good.clone() }), Seal::Altered);
        assert_eq!(seal_of(&entry(5, Signed { signature: None, ..signed })), Seal::Gone);
    }

    #[test]
    fn a_copy_is_found_with_a_key_and_without() {
        let when = entry(5, plain(4)).when();
        for signed in [plain(4), sealed(plain(4), when, "ann", &SECRET)] {
            let log = [entry(5, signed.clone()), entry(6, signed)];
            let found = SignOffs::of(&log);
            assert_eq!((found.all()[1].seal, found.all()[1].copy_of), (Seal::Copy, Some(5)));
            assert_eq!(found.all().iter().find(|s| !s.seal.is_sound()).map(|s| s.entry), Some(6));
        }
    }

    #[test]
    fn what_came_after_is_counted_from_what_was_seen() {
        let note = |seq| Entry { what: What::Note { text: "x".to_owned() }, ..entry(seq, plain(0)) };
        let log = [note(1), note(2), entry(3, plain(1)), note(4)];
        let found = SignOffs::of(&log);
        let sign_off = &found.all()[0];
        assert_eq!((sign_off.uncovered, found.since(sign_off)), (1, 2));
    }
}
