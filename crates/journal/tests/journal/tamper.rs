//! A log changed with an SQL tool: the first entry that is wrong is named.
#![expect(clippy::unwrap_used, reason = "a test stops where something fails")]
#![expect(clippy::disallowed_methods, reason = "only files that nobody has open are read")]

use crate::support::{at, reading, stage, start};
use journal::{Fault, Head, Journal, JournalError, Why};
use rusqlite::Connection;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

const ENTRIES: u64 = 20;

fn log() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let (path, mut journal) = start(folder.path());
    for n in 2..=ENTRIES {
        let what = if n % 5 == 0 { stage("ribs") } else { reading(n as f64 / 8.0) };
        journal.append(at(n.cast_signed()), "ann", &what).unwrap();
    }
    (folder, path)
}

const GUARDS: [&str; 3] = ["entry_no_update", "entry_no_delete", "entry_only_next"];

/// Removes the guards, runs `sql`, and restores the guards: what a careful forger would do.
fn tamper(path: &Path, sql: &str) {
    let conn = Connection::open(path).unwrap();
    conn.pragma_update(None, "synchronous", "OFF").unwrap();
    let guards = GUARDS.map(|name| {
        let query = "SELECT sql FROM sqlite_schema WHERE name = ?1";
        conn.query_row(query, [name], |row| row.get::<_, String>(0)).unwrap()
    });
    GUARDS.iter().for_each(|name| conn.execute_batch(&format!("DROP TRIGGER {name}")).unwrap());
    conn.execute_batch(sql).unwrap();
    guards.iter().for_each(|guard| conn.execute_batch(guard).unwrap());
}

fn verify(path: &Path) -> Result<Head, JournalError> {
    Journal::open(path).unwrap().verify()
}

/// `verify` and reading agree on the first entry that is wrong.
fn assert_broken_at(path: &Path, seq: u64, why: &Why) {
    let read = Journal::open(path).unwrap().entries().find_map(Result::err).unwrap();
    for error in [verify(path).unwrap_err(), read] {
        let Fault::Broken(at) = &error.fault else { unreachable!("{error:?}") };
        assert_eq!((at.seq, &at.why), (seq, why), "{error}");
        assert!(error.to_string().contains(&format!("entry {seq} ")), "{error}");
    }
}

#[test]
fn the_guards_refuse_changes() {
    let (_folder, path) = log();
    let before = verify(&path).unwrap();
    let conn = Connection::open(&path).unwrap();
    for (sql, words) in [
        ("UPDATE entry SET body = '{}' WHERE seq = 3", "never changed"),
        ("UPDATE entry SET seq = 99 WHERE seq = 3", "never changed"),
        ("DELETE FROM entry WHERE seq = 20", "never removed"),
        ("DELETE FROM entry", "never removed"),
        (
            "INSERT OR REPLACE INTO entry SELECT seq, at, 'eve', kind, body, hash FROM entry WHERE seq = 3",
            "next number",
        ),
        (
            "REPLACE INTO entry SELECT seq, at, 'eve', kind, body, hash FROM entry WHERE seq = 20",
            "next number",
        ),
        ("INSERT INTO entry SELECT 22, at, \"by\", kind, body, hash FROM entry WHERE seq = 3", "next number"),
        ("INSERT INTO entry SELECT 21, at, \"by\", kind, body, x'00' FROM entry WHERE seq = 3", "CHECK"),
        (
            "INSERT INTO entry SELECT 21, 'noon', \"by\", kind, body, hash FROM entry WHERE seq = 3",
            "cannot store",
        ),
    ] {
        let error = conn.execute_batch(sql).unwrap_err().to_string();
        assert!(error.to_lowercase().contains(&words.to_lowercase()), "{sql}: {error}");
    }
    drop(conn);
    assert_eq!(verify(&path).unwrap(), before);
}

#[test]
fn a_change_in_any_column_of_any_entry_is_found() {
    let (_folder, path) = log();
    let whole = std::fs::read(&path).unwrap();
    let changes = [
        "at = at + 1",
        "\"by\" = \"by\" || ' '",
        "\"by\" = upper(\"by\")",
        "body = replace(body, '{', '{ ')",
        "hash = zeroblob(32)",
        "kind = 'note'",
    ];
    for seq in 1..=ENTRIES {
        for change in changes {
            std::fs::write(&path, &whole).unwrap();
            tamper(&path, &format!("UPDATE entry SET {change} WHERE seq = {seq}"));
            assert_broken_at(&path, seq, &Why::Changed);
        }
    }
}

/// Every byte of the text of an entry, one after the other.
#[test]
fn a_change_in_any_byte_of_a_body_is_found() {
    let (_folder, path) = log();
    let whole = std::fs::read(&path).unwrap();
    let body: String = {
        let conn = Connection::open(&path).unwrap();
        conn.query_row("SELECT body FROM entry WHERE seq = 7", [], |row| row.get(0)).unwrap()
    };
    for n in 0..body.len() {
        std::fs::write(&path, &whole).unwrap();
        let mut changed = body.clone().into_bytes();
        changed[n] ^= 1;
        let hex: String = changed.iter().map(|b| format!("{b:02x}")).collect();
        tamper(&path, &format!("UPDATE entry SET body = CAST(x'{hex}' AS TEXT) WHERE seq = 7"));
        assert_broken_at(&path, 7, &Why::Changed);
    }
}

#[test]
fn a_removed_entry_is_found() {
    let (_folder, path) = log();
    let whole = std::fs::read(&path).unwrap();
    // Including the last one: the file's own count remembers it.
    for seq in 1..=ENTRIES {
        std::fs::write(&path, &whole).unwrap();
        tamper(&path, &format!("DELETE FROM entry WHERE seq = {seq}"));
        assert_broken_at(&path, seq, &Why::Missing);
        if seq == ENTRIES {
            let error = Journal::open(&path).unwrap().append(at(99), "ann", &stage("on top")).unwrap_err();
            assert!(matches!(error.fault, Fault::Broken(_)), "{error}");
        }
    }
    std::fs::write(&path, &whole).unwrap();
    tamper(&path, "DELETE FROM entry WHERE seq = 7; UPDATE entry SET seq = seq - 1 WHERE seq > 7");
    assert_broken_at(&path, 7, &Why::Changed);
    std::fs::write(&path, &whole).unwrap();
    tamper(&path, "DELETE FROM entry");
    assert_broken_at(&path, 1, &Why::Missing);
}

#[test]
fn two_swapped_entries_are_found() {
    let (_folder, path) = log();
    let whole = std::fs::read(&path).unwrap();
    tamper(
        &path,
        "UPDATE entry SET seq = 99 WHERE seq = 4; UPDATE entry SET seq = 4 WHERE seq = 9; UPDATE entry SET seq = 9 WHERE seq = 99",
    );
    assert_broken_at(&path, 4, &Why::Changed);
    std::fs::write(&path, &whole).unwrap();
    tamper(
        &path,
        "CREATE TEMP TABLE t AS SELECT * FROM entry; UPDATE entry SET body = (SELECT body FROM t WHERE seq = 15 - entry.seq) WHERE seq IN (7, 8)",
    );
    assert_broken_at(&path, 7, &Why::Changed);
}

/// A chain recomputed from the changed entry on is a valid chain; only something that names its old state, such as a
/// sign-off, can reveal it.
#[test]
fn a_recomputed_chain_contradicts_a_sign_off() {
    let (_folder, path) = log();
    let mut journal = Journal::open(&path).unwrap();
    let head = journal.head().unwrap();
    journal.append(at(30), "ann", &crate::support::signed(head.seq, &head.hash.to_string())).unwrap();
    drop(journal);
    let conn = Connection::open(&path).unwrap();
    let mut query = conn.prepare("SELECT at, \"by\", kind, body FROM entry ORDER BY seq").unwrap();
    let rows: Vec<(i64, String, String, String)> = query
        .query_map([], |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?, r.get(3)?)))
        .unwrap()
        .map(Result::unwrap)
        .collect();
    drop(query);
    drop(conn);
    let mut head = Head::genesis();
    let mut sql = String::new();
    for (at, by, kind, body) in rows {
        let body = if head.seq == 6 { body.replace("0.875", "0.125") } else { body };
        head =
            Head { seq: head.seq + 1, hash: head.link(at, by.as_bytes(), kind.as_bytes(), body.as_bytes()) };
        let (seq, hash, body) = (head.seq, head.hash, body.replace('\'', "''"));
        sql += &format!("UPDATE entry SET body = '{body}', hash = x'{hash}' WHERE seq = {seq};");
    }
    tamper(&path, &sql);
    assert_broken_at(&path, ENTRIES + 1, &Why::SignedElsewhere);
}

#[test]
fn a_body_that_no_program_wrote_is_found() {
    let (_folder, path) = log();
    let head = Journal::open(&path).unwrap().head().unwrap();
    let conn = Connection::open(&path).unwrap();
    let insert = "INSERT INTO entry VALUES (21, 0, 'eve', ?1, ?2, ?3)";
    let hash = head.link(0, b"eve", b"reading", b"{}");
    conn.execute(insert, ("reading", "{}", hash.0)).unwrap();
    drop(conn);
    let error = verify(&path).unwrap_err();
    assert!(
        matches!(&error.fault, Fault::Broken(at) if at.seq == 21 && matches!(at.why, Why::Unreadable(_))),
        "{error}"
    );
    // What is around it can still be read.
    let journal = Journal::open(&path).unwrap();
    assert_eq!(journal.entries_as_found().filter(Result::is_ok).count(), 20);
}

#[test]
fn changed_guards_and_tables_are_found() {
    let (_folder, path) = log();
    let whole = std::fs::read(&path).unwrap();
    for (sql, named) in [
        ("DROP TRIGGER entry_no_update", "entry_no_update"),
        ("DROP TRIGGER entry_only_next", "entry_only_next"),
        ("DROP VIEW readings", "readings"),
        ("DROP VIEW moves; CREATE VIEW moves AS SELECT 1", "moves"),
        ("CREATE TRIGGER more AFTER INSERT ON entry BEGIN SELECT 1; END", "more"),
        ("CREATE TABLE other(a)", "other"),
        (
            "PRAGMA writable_schema = ON; UPDATE sqlite_schema SET sql = sql || ' ' WHERE name = 'sqlite_sequence'",
            "sqlite_sequence",
        ),
        ("DROP INDEX entry_by_kind", "entry_by_kind"),
    ] {
        std::fs::write(&path, &whole).unwrap();
        Connection::open(&path).unwrap().execute_batch(sql).unwrap();
        let mut journal = Journal::open(&path).unwrap();
        for error in [
            journal.verify().unwrap_err(),
            journal.entries().last().unwrap().unwrap_err(),
            journal.append(at(1), "ann", &stage("a")).unwrap_err(),
        ] {
            assert!(
                matches!(&error.fault, Fault::Altered(what) if what.to_string().contains(named)),
                "{sql}: {error}"
            );
        }
        assert_eq!(journal.entries_as_found().filter(Result::is_ok).count(), 20);
    }
}

/// SQLite reads neither: the first as the log alone, the second with zeros for what is missing.
#[test]
fn a_file_longer_or_shorter_than_its_pages_is_found_before_anything_is_written() {
    let (_folder, path) = log();
    // A free page at the end, which nobody reads.
    Connection::open(&path).unwrap().execute_batch("CREATE TABLE t(a); DROP TABLE t").unwrap();
    verify(&path).unwrap();
    let whole = std::fs::read(&path).unwrap();
    let end = whole.len();
    for (bytes, named) in [
        ([&*whole, &whole].concat(), format!("has {end} bytes after its end")),
        ([&*whole, &[0]].concat(), "has 1 byte after its end".to_owned()),
        (whole[..end - 7].to_vec(), "lacks 7 bytes at its end".to_owned()),
    ] {
        std::fs::write(&path, &bytes).unwrap();
        let mut journal = Journal::open(&path).unwrap();
        let read = journal.entries().last().unwrap().unwrap_err();
        for error in
            [journal.verify().unwrap_err(), read, journal.append(at(1), "ann", &stage("a")).unwrap_err()]
        {
            assert!(
                matches!(&error.fault, Fault::Altered(_)) && error.to_string().contains(&named),
                "{error}"
            );
        }
        assert_eq!(journal.entries_as_found().filter(Result::is_ok).count(), 20);
        drop(journal);
        assert_eq!(std::fs::read(&path).unwrap(), bytes, "left as it was found");
    }
    // Joined to it while it is open.
    std::fs::write(&path, &whole).unwrap();
    let mut journal = Journal::open(&path).unwrap();
    std::fs::write(&path, [&*whole, &whole].concat()).unwrap();
    let error = journal.append(at(1), "ann", &stage("a")).unwrap_err();
    assert!(matches!(&error.fault, Fault::Altered(_)), "{error}");
}

#[test]
fn a_rebuilt_table_is_found() {
    let (_folder, path) = log();
    let whole = std::fs::read(&path).unwrap();
    let rebuilt = "CREATE TABLE e AS SELECT * FROM entry; DROP TABLE entry; ALTER TABLE e RENAME TO entry;";
    Connection::open(&path)
        .unwrap()
        .execute_batch(&format!("PRAGMA legacy_alter_table = ON; {rebuilt}"))
        .unwrap();
    let error = verify(&path).unwrap_err();
    assert!(matches!(&error.fault, Fault::Altered(what) if what.to_string().contains("entry")), "{error}");
    std::fs::write(&path, &whole).unwrap();
    let changed =
        format!("PRAGMA legacy_alter_table = ON; {rebuilt} UPDATE entry SET \"by\" = 'eve' WHERE seq = 5");
    Connection::open(&path).unwrap().execute_batch(&changed).unwrap();
    let error = verify(&path).unwrap_err();
    assert!(matches!(&error.fault, Fault::Broken(at) if at.seq == 5), "{error}");
}

#[test]
fn the_views_give_units() {
    let (_folder, path) = log();
    let mut journal = Journal::open(&path).unwrap();
    for what in crate::support::one_of_each() {
        journal.append(at(40), "ann", &what).unwrap();
    }
    let conn = Connection::open(&path).unwrap();
    let one = |sql: &str| conn.query_row(sql, [], |row| row.get::<_, rusqlite::types::Value>(0)).unwrap();
    assert_eq!(one("SELECT angle_deg FROM readings WHERE seq = 2"), 0.25.into());
    assert_eq!(
        one("SELECT time_utc FROM readings WHERE seq = 2"),
        "2030-03-17T17:46:42.000Z".to_owned().into()
    );
    assert_eq!(one("SELECT count(*) FROM readings WHERE withdrawn"), 0.into());
    assert_eq!(one("SELECT entry FROM withdrawals"), 5.into());
    assert_eq!(one("SELECT stage FROM stages ORDER BY seq DESC LIMIT 1"), "spar bolted".to_owned().into());
    assert_eq!(one("SELECT amount_mm FROM moves"), (-0.375).into());
}

/// Found by fuzzing: a page of the tree with rows out of order, on which reading on from the last row never ended.
#[test]
fn rows_out_of_order_in_the_tree_do_not_loop() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("a.jigtrue");
    std::fs::write(&path, include_bytes!("support/out-of-order.jigtrue")).unwrap();
    let journal = Journal::open_read_only(&path).unwrap();
    assert!(journal.entries_as_found().take(1000).count() < 100);
    assert!(journal.entries().take(1000).any(|entry| entry.is_err()));
    assert!(journal.newest_first(0).take(1000).count() < 100);
    assert!(journal.verify().is_err());
}

/// Entries read from the end or by kind are checked like those read in order.
#[test]
fn reading_from_the_end_or_by_kind_notices_a_change() {
    let (_folder, path) = log();
    let seqs = |found: Vec<record::Entry>| found.iter().map(|e| e.seq).collect::<Vec<_>>();
    {
        let journal = Journal::open_read_only(&path).unwrap();
        let back: Vec<_> = journal.newest_first(3).map(Result::unwrap).collect();
        assert_eq!(seqs(back), (4..=ENTRIES).rev().collect::<Vec<_>>());
        assert_eq!(seqs(journal.all_of_kind("stage").unwrap()), [5, 10, 15, 20]);
        assert_eq!(journal.first().unwrap().seq, 1);
        assert!(journal.highest_round().unwrap() > 0);
    }
    tamper(&path, "UPDATE entry SET \"by\" = 'bob' WHERE seq = 10");
    let journal = Journal::open_read_only(&path).unwrap();
    let broken = |error: JournalError| match error.fault {
        Fault::Broken(at) => (at.seq, at.why),
        other => unreachable!("{other:?}"),
    };
    assert_eq!(broken(journal.all_of_kind("stage").unwrap_err()), (10, Why::Changed));
    assert_eq!(seqs(journal.all_of_kind_as_found("stage").unwrap()), [5, 10, 15, 20]);
    let back: Result<Vec<_>, _> = journal.newest_first(0).collect();
    assert_eq!(broken(back.unwrap_err()), (10, Why::Changed));
    assert_eq!(journal.newest_first(10).filter(Result::is_ok).count(), 10);
}
