//! What is written is what is read.

use crate::support::{PLAN, all, at, one_of_each, reading, signed, stage, start, whats};
use journal::{Fault, Head, Journal, JournalError, MAX_BODY_BYTES, NewEntry, Why};
use record::{At, What};

#[test]
fn every_kind_reads_back_as_written() {
    let folder = tempfile::tempdir().unwrap();
    let (path, mut journal) = start(folder.path());
    let mut expected = vec![What::Started { plan: PLAN.to_owned(), program: "jigtrue 0.1.0".to_owned() }];
    for (n, what) in (2..).zip(one_of_each()) {
        assert_eq!(journal.append(at(n), "ann", &what).unwrap().seq, n.cast_unsigned());
        expected.push(what);
    }
    assert_eq!(whats(&journal), expected);
    drop(journal);
    let journal = Journal::open(&path).unwrap();
    let entries = all(&journal);
    assert_eq!(entries.iter().map(|e| e.what.clone()).collect::<Vec<_>>(), expected);
    assert_eq!(
        entries.iter().map(|e| e.seq).collect::<Vec<_>>(),
        (1..=expected.len() as u64).collect::<Vec<_>>()
    );
    assert_eq!((entries[3].at, entries[3].by.as_str()), (at(4), "ann"));
    assert_eq!(journal.verify().unwrap(), journal.head().unwrap());
}

/// A number that differs in its last bit is another number; 0.1 + 0.2 is the well-known example.
#[test]
fn numbers_read_back_to_the_last_bit() {
    let folder = tempfile::tempdir().unwrap();
    let (_, mut journal) = start(folder.path());
    let numbers =
        [0.1 + 0.2, 1.0 / 3.0, 5e-324, f64::MAX, -0.0, 2.0f64.powi(53) - 1.0, 9_007_199_254_740_993.0];
    numbers.iter().for_each(|n| {
        journal.append(at(1), "ann", &reading(*n)).unwrap();
    });
    let back: Vec<u64> = whats(&journal)
        .iter()
        .filter_map(|what| if let What::Reading(r) = what { Some(r.value.to_bits()) } else { None })
        .collect();
    assert_eq!(back, numbers.map(f64::to_bits));
}

#[test]
fn an_entry_that_would_not_read_back_is_refused_and_the_log_unchanged() {
    let folder = tempfile::tempdir().unwrap();
    let (_, mut journal) = start(folder.path());
    let head = journal.head().unwrap();
    for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        let error = journal.append(at(1), "ann", &reading(bad)).unwrap_err();
        assert!(matches!(error.fault, Fault::Unstorable), "{error}");
    }
    let error = journal.append(at(1), "ann", &What::Note { text: "x".repeat(MAX_BODY_BYTES) }).unwrap_err();
    assert!(matches!(error.fault, Fault::TooLarge(_)), "{error}");
    assert_eq!(journal.head().unwrap(), head);
}

#[test]
fn entries_since_gives_the_rest_and_follows_another_writer() {
    let folder = tempfile::tempdir().unwrap();
    let (path, mut one) = start(folder.path());
    let mut two = Journal::open(&path).unwrap();
    one.append(at(1), "ann", &stage("a")).unwrap();
    two.append(at(2), "bob", &stage("b")).unwrap();
    one.append(at(3), "ann", &stage("c")).unwrap();
    assert_eq!(two.last_seq().unwrap(), 4);
    let rest: Vec<_> = two.entries_since(2).map(|e| e.unwrap().what).collect();
    assert_eq!(rest, [stage("b"), stage("c")]);
    let mut none = two.entries_since(4);
    assert!(none.next().is_none());
    assert_eq!(none.head(), Some(one.head().unwrap()));
    let beyond = two.entries_since(9).next().unwrap().unwrap_err();
    assert!(matches!(&beyond.fault, Fault::Broken(at) if at.seq == 9 && at.why == Why::Missing), "{beyond}");
}

/// More entries than fit on a page, so that page boundaries are crossed.
#[test]
fn entries_are_read_across_pages() {
    let folder = tempfile::tempdir().unwrap();
    let (_, mut journal) = start(folder.path());
    let many = (1..=2000).map(|n| Ok::<_, JournalError>(NewEntry::new(at(n), "ann", reading(n as f64))));
    let head = journal.append_many(many).unwrap();
    assert_eq!(head.seq, 2001);
    let mut entries = journal.entries();
    assert_eq!(entries.by_ref().map(|e| e.unwrap().seq).collect::<Vec<_>>(), (1..=2001).collect::<Vec<_>>());
    assert_eq!(entries.head(), Some(head));
    assert_eq!(journal.entries_as_found().count(), 2001);
    assert_eq!(journal.verify().unwrap(), head);
}

/// A long run gives the same entries whether or not another program has the log open; nothing new stays beside the
/// log, and writing continues after it.
#[test]
fn a_long_run_gives_the_same_alone_and_beside_others() {
    let run = || (1..=9000).map(|n| Ok::<_, JournalError>(NewEntry::new(at(n), "ann", reading(n as f64))));
    let folder = tempfile::tempdir().unwrap();
    let (path, mut journal) = start(folder.path());
    let part = |end: &str| std::path::PathBuf::from(format!("{}{end}", path.display()));
    let alone = journal.append_long(run()).unwrap();
    assert_eq!((part("-journal").exists(), part("-wal").exists()), (false, true));
    let other = Journal::open(&path).unwrap();
    assert_eq!(other.verify().unwrap(), alone);
    drop(journal);
    drop(other);
    assert!(!part("-wal").exists());

    let second = tempfile::tempdir().unwrap();
    let (path, mut journal) = start(second.path());
    let other = Journal::open(&path).unwrap();
    let mut seen = Vec::new();
    let beside = journal.append_long(run().inspect(|_| seen.push(other.last_seq().unwrap()))).unwrap();
    assert_eq!(beside, alone);
    assert!(seen.iter().all(|last| *last == 1), "the other program goes on reading and sees none of it");
    assert_eq!(other.verify().unwrap(), alone);
    assert_eq!(journal.append(at(0), "ann", &stage("a")).unwrap().seq, alone.seq + 1);
    assert_eq!(other.verify().unwrap().seq, alone.seq + 1);
}

/// It is rolled back if the run ends in an error, even if much of it was written already.
#[test]
fn a_failed_long_run_is_rolled_back() {
    let folder = tempfile::tempdir().unwrap();
    let (path, mut journal) = start(folder.path());
    let before = std::fs::metadata(&path).unwrap().len();
    let mut many = 0;
    let run = std::iter::from_fn(|| {
        many += 1;
        Some(NewEntry::new(at(many), "ann", reading(many as f64))).map(|one| {
            if many < 60_000 { Ok(one) } else { Err(Journal::open(&folder.path().join("none")).unwrap_err()) }
        })
    });
    assert!(journal.append_long(run).is_err());
    assert_eq!(journal.verify().unwrap().seq, 1);
    assert_eq!(std::fs::metadata(&path).unwrap().len(), before);
    assert_eq!(journal.append(at(0), "ann", &stage("a")).unwrap().seq, 2);
}

#[test]
fn many_entries_are_all_or_none() {
    #[derive(Debug)]
    enum Refused {
        Line(u64),
        Log(JournalError),
    }
    impl From<JournalError> for Refused {
        fn from(error: JournalError) -> Self {
            Self::Log(error)
        }
    }
    let folder = tempfile::tempdir().unwrap();
    let (_, mut journal) = start(folder.path());
    let head = journal.head().unwrap();
    let bad_line = (1..5000).map(|n| {
        if n == 4000 { Err(Refused::Line(n)) } else { Ok(NewEntry::new(at(0), "ann", reading(1.0))) }
    });
    assert!(matches!(journal.append_many(bad_line), Err(Refused::Line(4000))));
    let not_finite = [1.0, f64::NAN].map(|v| Ok(NewEntry::new(at(0), "ann", reading(v))));
    match journal.append_many::<_, Refused>(not_finite) {
        Err(Refused::Log(error)) => assert!(matches!(error.fault, Fault::Unstorable), "{error}"),
        other => panic!("{other:?}"),
    }
    assert_eq!(journal.head().unwrap(), head);
    let none: [Result<NewEntry<&str>, JournalError>; 0] = [];
    assert_eq!(journal.append_many(none).unwrap(), head);
    // The guard that is removed while many entries are written is back in place.
    assert_eq!(journal.append(at(1), "ann", &stage("a")).unwrap().seq, 2);
    assert_eq!(journal.verify().unwrap().seq, 2);
}

#[test]
fn the_last_entry_of_a_kind_is_found() {
    let folder = tempfile::tempdir().unwrap();
    let (_, mut journal) = start(folder.path());
    assert_eq!(journal.latest_of_kind("stage").unwrap(), None);
    assert_eq!(journal.latest_of_kind("reading").unwrap(), None);
    for what in [stage("a"), reading(1.0), stage("b"), reading(2.0), reading(3.0)] {
        journal.append(at(1), "ann", &what).unwrap();
    }
    assert_eq!(journal.latest_of_kind("stage").unwrap().unwrap().what, stage("b"));
    assert_eq!(journal.latest_of_kind("reading").unwrap().unwrap().what, reading(3.0));
    assert_eq!(journal.latest_of_kind("started").unwrap().unwrap().seq, 1);
    assert_eq!(journal.latest_of_kind("no such").unwrap(), None);
}

#[test]
fn a_sign_off_names_the_state_it_follows() {
    let folder = tempfile::tempdir().unwrap();
    let (_, mut journal) = start(folder.path());
    let locked = journal.lock().unwrap();
    let seen = locked.head();
    let head = locked.append(at(1), "ann", &signed(seen.seq, &seen.hash.to_string())).unwrap();
    assert_eq!(journal.verify().unwrap(), head);
    journal.append(at(2), "ann", &signed(2, &Head::genesis().hash.to_string())).unwrap();
    for error in [journal.verify().unwrap_err(), journal.entries().last().unwrap().unwrap_err()] {
        assert!(
            matches!(&error.fault, Fault::Broken(at) if at.seq == 3 && at.why == Why::SignedElsewhere),
            "{error}"
        );
    }
}

/// A clock set back is no reason to lose a reading; the times show that it went back.
#[test]
fn times_may_go_back() {
    let folder = tempfile::tempdir().unwrap();
    let (_, mut journal) = start(folder.path());
    for time in [at(9), at(1), At::from_millis(i64::MIN), At::from_millis(i64::MAX)] {
        journal.append(time, "ann", &stage("a")).unwrap();
        assert_eq!(all(&journal).last().unwrap().at, time);
    }
    journal.verify().unwrap();
}
