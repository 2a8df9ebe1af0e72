//! What each entry says about the highest round so far, by which a reading is numbered without reading the log:
//! flipped, cut, aged or swapped, it is found by whoever reads the log, and no reading is numbered by it.

use assess::Chain;
use journal::{Fault, Journal, Why};
use record::{At, StageBegun, What};
use rusqlite::Connection;
use session::{Session, Take, Taken, TypedLog};
use std::fs;
use std::path::{Path, PathBuf};
use stories::forge::{Row, forge};
use stories::invented::{moment, reading};

/// Two rounds of 28 readings and four of a third.
const READINGS: u64 = 60;
/// The start and the stage come before them.
const LAST: usize = READINGS as usize + 2;

fn plan() -> String {
    let mut plan = String::from("format = 1\n[wing]\nname = \"invented\"\nside = \"left\"\n");
    for n in 1..=14 {
        plan += &format!("[[station]]\nname = \"S{n}\"\nspan = {}\nchord = 1400\nincidence = 1\n", 300 * n);
    }
    plan + "[[instrument]]\nname = \"level-1\"\nkind = \"inclinometer\"\nresolution = 0.01\naccuracy = 0.1\n\
            [[stage]]\nname = \"ribs\"\nrequires = [\"incidence@*\"]\n"
}

fn log(folder: &Path) -> PathBuf {
    let path = folder.join("a.jigtrue");
    let mut journal = Journal::create(&path, &plan(), "stories", At::from_millis(0), "ann").unwrap();
    journal.append(moment(0), "ann", &What::Stage(StageBegun::new("ribs"))).unwrap();
    for n in 0..READINGS {
        journal.append(moment(n), "ann", &reading(n)).unwrap();
    }
    path
}

/// The same change with the hashes left as they were.
fn overwrite(log: &Path, change: impl FnOnce(&mut Vec<Row>)) {
    let hashes = |log: &Path| -> Vec<(i64, Vec<u8>)> {
        let conn = Connection::open(log).unwrap();
        let mut query = conn.prepare("SELECT seq, hash FROM entry").unwrap();
        query.query_map([], |r| Ok((r.get(0)?, r.get(1)?))).unwrap().map(Result::unwrap).collect()
    };
    let before = hashes(log);
    forge(log, change);
    let conn = Connection::open(log).unwrap();
    let guard = "SELECT sql FROM sqlite_schema WHERE name = 'entry_no_update'";
    let guard: String = conn.query_row(guard, [], |r| r.get(0)).unwrap();
    conn.execute_batch("DROP TRIGGER entry_no_update").unwrap();
    for (seq, hash) in before {
        conn.execute("UPDATE entry SET hash = ?2 WHERE seq = ?1", (seq, hash)).unwrap();
    }
    conn.execute_batch(&guard).unwrap();
}

const KEY: &str = ",\"highest_round\":";

/// The round that an entry states.
fn said(row: &Row) -> u32 {
    let (_, rest) = row.body.split_once(KEY).unwrap();
    rest.split(|c: char| !c.is_ascii_digit()).next().unwrap().parse().unwrap()
}

fn say(row: &mut Row, other: Option<u32>) {
    let now = format!("{KEY}{}", said(row));
    let new = other.map(|n| format!("{KEY}{n}")).unwrap_or_default();
    row.body = row.body.replace(&now, &new);
}

fn take(log: &Path) -> Result<Taken, session::SessionError> {
    let take = Take {
        point: "incidence@S3".to_owned(),
        text: "1.00".to_owned(),
        new_round: true,
        ..Take::default()
    };
    TypedLog::open(log)?.take(Some("bob"), &take)
}

fn round(taken: &Taken) -> u32 {
    let What::Reading(reading) = &taken.entry.what else { panic!("no reading") };
    reading.round
}

/// The first wrong entry, as everybody who reads the log names it.
fn broken_at(log: &Path) -> Option<(u64, bool)> {
    let at = |fault| match fault {
        Fault::Broken(at) => (at.seq, matches!(at.why, Why::HighestRound(_))),
        other => panic!("{other:?}"),
    };
    let journal = Journal::open_read_only(log).unwrap();
    let verified = journal.verify().err().map(|e| at(e.fault));
    let walked = journal.entries().find_map(Result::err).map(|e| at(e.fault));
    let judged = match Session::open_read_only(log).unwrap().chain() {
        Chain::Broken(why) => why.first,
        _ => None,
    };
    assert_eq!(verified, walked);
    assert_eq!(verified.map(|(seq, _)| seq), judged);
    assert_eq!(verified.is_some(), Session::open(log).is_err());
    verified
}

/// A way to spoil what the entry of an index states.
type Spoil = fn(&mut Vec<Row>, usize);

const SPOILS: [(&str, Spoil); 4] = [
    ("flipped", |rows, at| {
        let flipped = said(&rows[at]) ^ 1;
        say(&mut rows[at], Some(flipped));
    }),
    ("aged", |rows, at| {
        let before = said(&rows[at]) - 1;
        say(&mut rows[at], Some(before));
    }),
    ("newer", |rows, at| say(&mut rows[at], Some(u32::MAX))),
    ("swapped", |rows, at| {
        let other = if said(&rows[at]) == 1 { 40 } else { 10 };
        let (one, two) = (said(&rows[at]), said(&rows[other]));
        assert_ne!(one, two);
        say(&mut rows[at], Some(two));
        say(&mut rows[other], Some(one));
    }),
];

/// Indices of entries: in each round, where one begins, and the last ones.
const PLACES: [usize; 7] = [3, 20, 29, 30, 40, LAST - 2, LAST - 1];

#[test]
fn a_spoilt_round_is_named_and_numbers_no_reading() {
    let folder = tempfile::tempdir().unwrap();
    let log = log(folder.path());
    let whole = fs::read(&log).unwrap();
    assert_eq!(broken_at(&log), None);
    let truth = take(&log).unwrap();
    assert_eq!(round(&truth), 4);
    for (name, spoil) in SPOILS {
        for at in PLACES {
            for anew in [false, true] {
                fs::write(&log, &whole).unwrap();
                if anew {
                    forge(&log, |rows| spoil(rows, at));
                } else {
                    overwrite(&log, |rows| spoil(rows, at));
                }
                let found = broken_at(&log).unwrap_or_else(|| panic!("{name} at {at}, {anew}: not found"));
                // Swapped with an earlier one, that one is the first.
                assert!(found.0 == at as u64 + 1 || name == "swapped", "{name} at {at}: {found:?}");
                assert_eq!(found.1, anew, "{name} at {at}: {found:?}");
                match take(&log) {
                    Ok(taken) => assert_eq!(round(&taken), round(&truth), "{name} at {at}, {anew}"),
                    Err(why) => assert!(why.to_string().contains("entry "), "{why}"),
                }
                assert!(at + 2 < LAST || take(&log).is_err(), "{name} at {at}, {anew}");
                assert_eq!(broken_at(&log), Some(found), "{name} at {at}: a reading on top hides nothing");
            }
        }
    }
}

/// An older program wrote none: then it follows from the readings, and from entries that state it again.
#[test]
fn a_removed_round_is_found_by_an_old_hash_and_needed_nowhere() {
    let folder = tempfile::tempdir().unwrap();
    let log = log(folder.path());
    let whole = fs::read(&log).unwrap();
    let truth = round(&take(&log).unwrap());
    for from in PLACES {
        for to in [from + 1, LAST] {
            let cut = |rows: &mut Vec<Row>| rows[from..to].iter_mut().for_each(|row| say(row, None));
            fs::write(&log, &whole).unwrap();
            overwrite(&log, cut);
            assert_eq!(broken_at(&log), Some((from as u64 + 1, false)));
            fs::write(&log, &whole).unwrap();
            forge(&log, cut);
            assert_eq!(broken_at(&log), None, "as an older program writes it");
            assert_eq!(round(&take(&log).unwrap()), truth);
            assert_eq!(broken_at(&log), None);
        }
    }
}
