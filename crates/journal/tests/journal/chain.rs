//! The chain, recomputed by hand.

use journal::{DOMAIN, Head, Journal};
use record::At;
use sha2::{Digest, Sha256};

fn hex(bytes: impl AsRef<[u8]>) -> String {
    bytes.as_ref().iter().map(|b| format!("{b:02x}")).collect()
}

/// FIPS 180-4, the example "abc" of the SHA-256 examples that NIST publishes with it.
#[test]
fn the_hash_is_sha_256() {
    let of_abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
    assert_eq!(hex(Sha256::digest(b"abc")), of_abc);
}

/// The example on the crate's page, computed with another program (Python's hashlib).
#[test]
fn the_worked_example_of_the_page() {
    let start = Head::genesis();
    assert_eq!(start.hash.to_string(), "9ca4d3ec49f2265588a353faed56faf62dd4654d5167918f5a0c36bd57a4cfb8");
    let first = start.link(1_900_000_000_000, b"ann", b"started", br#"{"plan":"","program":"jigtrue"}"#);
    assert_eq!(first.to_string(), "1072bc8605cf501f69ba6c014c9bb49f71948e1c191fcbb684723b601997eb40");
    let second =
        Head { seq: 1, hash: first }.link(1_900_000_001_000, b"ann", b"note", br#"{"text":"windy"}"#);
    assert_eq!(second.to_string(), "065bbfe5bf4dc0f8a5a57cb1a0517809dc766e65be3e53f4c00dab04c3453601");
}

/// The computation written out again, from the columns alone.
#[test]
fn an_outsider_can_recompute_it() {
    let folder = tempfile::tempdir().unwrap();
    let (path, mut journal) = crate::support::start(folder.path());
    for what in crate::support::one_of_each() {
        journal.append(At::from_millis(-5), "Ångström", &what).unwrap();
    }
    let head = journal.head().unwrap();
    let conn = rusqlite::Connection::open(&path).unwrap();
    let mut query = conn.prepare("SELECT seq, at, \"by\", kind, body, hash FROM entry ORDER BY seq").unwrap();
    let mut rows = query.query([]).unwrap();
    let mut before = Sha256::digest(DOMAIN).to_vec();
    let mut count = 0;
    while let Some(row) = rows.next().unwrap() {
        let mut bytes = before;
        bytes.extend(row.get::<_, i64>(0).unwrap().to_be_bytes());
        bytes.extend(row.get::<_, i64>(1).unwrap().to_be_bytes());
        for column in 2..5 {
            let text: String = row.get(column).unwrap();
            bytes.extend((text.len() as u64).to_be_bytes());
            bytes.extend(text.bytes());
        }
        before = Sha256::digest(&bytes).to_vec();
        assert_eq!(hex(&before), hex(row.get::<_, Vec<u8>>(5).unwrap()));
        count += 1;
    }
    assert_eq!((count, hex(before)), (head.seq, head.hash.to_string()));
}

/// Text cannot be moved from one column to the next without changing the hash.
#[test]
fn lengths_keep_the_columns_apart() {
    let start = Head::genesis();
    assert_ne!(start.link(0, b"ab", b"c", b"{}"), start.link(0, b"a", b"bc", b"{}"));
    assert_ne!(start.link(0, b"a", b"b{", b"}"), start.link(0, b"a", b"b", b"{}"));
}

#[test]
fn the_same_entries_give_the_same_head() {
    let heads: Vec<_> = (0..2)
        .map(|_| {
            let folder = tempfile::tempdir().unwrap();
            let (path, mut journal) = crate::support::start(folder.path());
            crate::support::one_of_each().iter().for_each(|what| {
                journal.append(crate::support::at(1), "ann", what).unwrap();
            });
            drop(journal);
            Journal::open(&path).unwrap().verify().unwrap()
        })
        .collect();
    assert_eq!(heads[0], heads[1]);
}
