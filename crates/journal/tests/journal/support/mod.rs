//! Logs for the tests.
#![expect(clippy::unwrap_used, reason = "a test stops where something fails")]
#![allow(dead_code, reason = "each test file uses its own part")]

use journal::Journal;
use quantity::{InstrumentKind, Kind, Millimetres};
use record::{
    At, Entry, Facing, GateState, Instrument, InstrumentCheck, Move, OpenAction, OpenItem, Reading, Rework,
    Signature, Signed, SignedText, StageBegun, What,
};
use std::path::{Path, PathBuf};

pub const PLAN: &str = "name = \"an invented wing\"\n";

pub fn at(seconds: i64) -> At {
    At::from_millis(1_900_000_000_000 + seconds * 1000)
}

pub fn start(folder: &Path) -> (PathBuf, Journal) {
    let path = folder.join("a.jigtrue");
    let journal = Journal::create(&path, PLAN, "jigtrue 0.1.0", at(0), "ann").unwrap();
    (path, journal)
}

pub fn reading(value: f64) -> What {
    What::Reading(Reading {
        facing: Some(Facing::Aft),
        instrument: Some("level".to_owned()),
        note: Some("said \"so\",\n\u{1b}[31m null µ".to_owned()),
        ..Reading::of("incidence@S4".parse().unwrap(), Kind::Angle, value, 0.01)
    })
}

pub fn stage(name: &str) -> What {
    What::Stage(StageBegun::new(name))
}

/// One entry of every kind except the start.
pub fn one_of_each() -> Vec<What> {
    let instrument =
        Instrument { accuracy: Some(0.1), ..Instrument::of("level", InstrumentKind::Inclinometer, 0.01) };
    let check = InstrumentCheck {
        instrument: "level".to_owned(),
        method: "reversal".to_owned(),
        found: 0.02,
        u: 0.01,
        passed: true,
    };
    vec![
        What::Replanned { plan: PLAN.to_owned(), reason: "a slip".to_owned() },
        What::Instrument(instrument),
        What::InstrumentCheck(check),
        reading(0.1 + 0.2),
        What::Withdrawn { seq: 5, reason: "wrong rib".to_owned() },
        stage("spar bolted"),
        What::Move(Move::typed("root", Millimetres::new(-0.375), "3/8 turn")),
        What::Rework(Rework {
            points: vec!["spot@bolt".parse().unwrap()],
            what: "tightened again".to_owned(),
        }),
        What::OpenItem(OpenItem { item: "last holes".to_owned(), action: OpenAction::Carried, reason: None }),
        What::Drift {
            point: "incidence@S4".parse().unwrap(),
            mean: 0.1,
            least: 0.0,
            most: 0.2,
            samples: 60,
            seconds: 60,
            temperature: None,
            shift: Some((0.05, at(3)).into()),
        },
        What::Note { text: "windy".to_owned() },
    ]
}

/// A sign-off of the state `entries`, `head`.
pub fn signed(entries: u64, head: &str) -> What {
    What::Signed(Signed {
        who: "ann".to_owned(),
        capacity: "builder".to_owned(),
        statement: "seen".to_owned(),
        gate: GateState::Hold,
        entries,
        head: head.to_owned(),
        text: SignedText::First,
        key: None,
        signature: None::<Signature>,
    })
}

pub fn whats(journal: &Journal) -> Vec<What> {
    journal.entries().map(|e| e.unwrap().what).collect()
}

pub fn all(journal: &Journal) -> Vec<Entry> {
    journal.entries().map(Result::unwrap).collect()
}
