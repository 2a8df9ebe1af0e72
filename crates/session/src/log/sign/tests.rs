use super::*;
use crate::{demo, now};
use journal::Journal;
use record::When;
use std::sync::mpsc::channel;
use std::time::Duration;

/// The log is locked between judging and writing: a writer waits, and its entry comes after the sign-off.
#[test]
fn a_writer_waits_while_a_sign_off_is_judged() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("wing.jigtrue");
    let plan = demo::CASES[0].plan;
    let mut session = Session::create_from_text(plan, &log, &log, Some("ann"), When::from(now())).unwrap();
    let sign = Sign {
        capacity: "builder".to_owned(),
        statement: "seen".to_owned(),
        as_seen: true,
        ..Sign::default()
    };
    let (said, heard) = channel();
    let mut writer = None;
    let taken = session
        .sign_while(sign, || {
            let log = log.clone();
            writer = Some(std::thread::spawn(move || {
                let note = What::Note { text: "meanwhile".to_owned() };
                let head = Journal::open(&log).and_then(|mut j| j.append(now(), "bob", &note)).unwrap();
                said.send(head.seq).unwrap();
            }));
            assert!(heard.recv_timeout(Duration::from_millis(300)).is_err(), "the writer did not wait");
        })
        .unwrap();
    assert_eq!(heard.recv_timeout(Duration::from_secs(20)).unwrap(), taken.entry.seq + 1);
    writer.unwrap().join().unwrap();
    let What::Signed(signed) = taken.entry.what else { unreachable!() };
    assert_eq!(signed.entries + 1, taken.entry.seq);
    session.refresh().unwrap();
    let signs = &session.assessment().signatures;
    assert_eq!((signs[0].entries_uncovered, signs[0].entries_since), (0, 1));
}
