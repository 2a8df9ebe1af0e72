//! Tests of `signoff`.

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

/// Every single changed part of a signed sign-off is found, and so is a missing signature.
#[test]
fn any_change_to_a_signed_sign_off_is_found() {
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
fn a_copied_sign_off_is_found_with_a_key_and_without() {
    let when = entry(5, plain(4)).when();
    for signed in [plain(4), sealed(plain(4), when, "ann", &SECRET)] {
        let log = [entry(5, signed.clone()), entry(6, signed)];
        let found = SignOffs::of(&log);
        assert_eq!((found.all()[1].seal, found.all()[1].copy_of), (Seal::Copy, Some(5)));
        assert_eq!(found.all().iter().find(|s| !s.seal.is_sound()).map(|s| s.entry), Some(6));
    }
}

#[test]
fn entries_after_a_sign_off_are_counted_from_what_it_covers() {
    let note = |seq| Entry { what: What::Note { text: "x".to_owned() }, ..entry(seq, plain(0)) };
    let log = [note(1), note(2), entry(3, plain(1)), note(4)];
    let found = SignOffs::of(&log);
    let sign_off = &found.all()[0];
    assert_eq!((sign_off.uncovered, found.since(sign_off)), (1, 2));
}
