//! Entries as JSON: the same value and the same bytes again, and a message for what cannot be read.

use proptest::option::of as some;
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use quantity::{Celsius, InstrumentKind, Kind, Millimetres};
use record::{
    Asked, At, EntryError, Facing, GateState, Instrument, InstrumentCheck, JigShared, JigStation, Move,
    MoveKnown, OpenAction, OpenItem, Point, PointKind, Reading, Rework, Signature, Signed, Source,
    StageBegun, What, WingSigned, WingTaken,
};

fn reading(value: f64) -> Reading {
    Reading {
        text: "3.2 mm".to_owned(),
        round: 4,
        ..Reading::of(Point::on(PointKind::Height, "rear", "S9"), Kind::Length, value, 0.1)
    }
}

fn instrument() -> Instrument {
    Instrument {
        number: Some("0417".to_owned()),
        accuracy: Some(0.1),
        checked: "2031-01-10".parse().ok(),
        ..Instrument::of("beam level", InstrumentKind::Inclinometer, 0.1)
    }
}

/// One of every kind.
fn every_kind() -> Vec<What> {
    let text = || "words \"with\" marks \u{b0}\n".to_owned();
    vec![
        What::Started { plan: "format = 1\n".to_owned(), program: text() },
        What::Replanned { plan: text(), reason: text() },
        What::Instrument(instrument()),
        What::InstrumentCheck(InstrumentCheck {
            instrument: text(),
            method: "reversal".to_owned(),
            found: -0.05,
            u: 0.02,
            passed: true,
        }),
        What::Reading(Reading {
            facing: Some(Facing::Aft),
            temperature: Some(Celsius::new(21.5)),
            scatter: Some(0.01),
            samples: Some(12),
            unsettled: true,
            asked: Some(Asked { expected: "about -0.3°".to_owned(), why: text() }),
            ..reading(-0.35)
        }),
        What::Withdrawn { seq: u64::MAX, reason: text() },
        What::Stage(StageBegun {
            name: text(),
            passed: vec![text()],
            unmet: vec![text(), text()],
            reason: Some(text()),
        }),
        What::Move(Move {
            support: text(),
            amount: Millimetres::new(0.47),
            text: "3/8 turn clockwise".to_owned(),
            known: Some(MoveKnown::Measured { u: Millimetres::new(0.09) }),
            seen: None,
            asked: None,
        }),
        What::Rework(Rework {
            points: vec![Point::at(PointKind::Bore, "B3"), Point::at(PointKind::Spot, "BR2")],
            what: text(),
        }),
        What::OpenItem(OpenItem { item: text(), action: OpenAction::Carried, reason: Some(text()) }),
        What::Drift {
            point: Point::at(PointKind::Level, "root-post"),
            mean: 0.1,
            least: 0.0,
            most: 0.2,
            samples: 60,
            seconds: 60,
            temperature: None,
            shift: Some((0.05, At::from_millis(1_900_000_000_000)).into()),
        },
        What::Signed(Signed {
            who: text(),
            capacity: text(),
            statement: text(),
            gate: GateState::Clear,
            entries: 61,
            head: "00ff".to_owned(),
            text: record::SignedText::Second,
            key: Some("01".to_owned()),
            signature: Some(Signature { key: "01".to_owned(), bytes: "02".to_owned() }),
        }),
        What::Wing(WingTaken {
            name: text(),
            log: "wing.jigtrue".to_owned(),
            wing: text(),
            side: record::plan::Side::Left,
            serial: Some(text()),
            drawing: None,
            issue: Some(text()),
            plan_sha256: "03".to_owned(),
            first: "04".to_owned(),
            entries: 61,
            head: "05".to_owned(),
            gate: GateState::Clear,
            decided: Some(60),
            held: vec![text()],
            signed: vec![WingSigned {
                entry: 61,
                who: text(),
                capacity: text(),
                gate: GateState::Clear,
                sound: true,
                same_plan: true,
                uncovered: 0,
            }],
            stage: Some(text()),
            stations: vec![JigStation {
                name: text(),
                span_mm: 250.0,
                design_deg: 2.0,
                incidence_deg: 1.975,
                own_deg: 0.0125,
                shared: vec![JigShared { error: text(), deg: -0.03 }],
            }],
        }),
        What::Note { text: text() },
    ]
}

#[test]
fn every_kind_reads_back_and_is_in_the_list_of_kinds() {
    let all = every_kind();
    assert_eq!(all.len(), What::KINDS.len());
    for (what, kind) in all.iter().zip(What::KINDS) {
        let json = what.to_json().unwrap();
        assert!(json.starts_with(&format!("{{\"kind\":\"{kind}\",\"body\":{{")), "{json}");
        assert!(!json.contains('\n'), "one line: {json}");
        let back = What::from_json(&json).unwrap();
        assert_eq!(&back, what);
        assert_eq!(back.to_json().unwrap(), json);
    }
}

/// The form is a contract: logs are kept for years.
#[test]
fn the_form_of_a_reading_is_fixed() {
    assert_eq!(
        What::Reading(reading(3.2)).to_json().unwrap(),
        "{\"kind\":\"reading\",\"body\":{\"point\":\"height@rear:S9\",\"text\":\"3.2 mm\",\"quantity\":\"length\",\
         \"value\":3.2,\"resolution\":0.1,\"round\":4,\"source\":\"typed\"}}"
    );
}

#[test]
fn an_entry_that_cannot_be_read_or_written_gets_a_message() {
    let refused = |json: &str| What::from_json(json).unwrap_err();
    let newer = refused("{\"kind\":\"weighed\",\"body\":{\"kg\":31}}");
    assert_eq!(newer, EntryError::UnknownKind("weighed".to_owned()));
    assert!(newer.to_string().contains("a newer version wrote it"), "{newer}");
    let misfit = refused("{\"kind\":\"stage\",\"body\":{}}");
    assert_eq!(misfit.to_string(), "its body does not fit its kind `stage` (missing field `name`)");
    for (json, words) in [
        ("", "not an entry"),
        ("{\"kind\":", "not an entry"),
        ("[]", "not an entry"),
        ("{\"kind\":\"reading\",\"body\":{\"point\":\"incidence\"}}", "is not a point"),
        ("{\"kind\":\"withdrawn\",\"body\":{\"seq\":-1,\"reason\":\"\"}}", "does not fit"),
    ] {
        assert!(refused(json).to_string().contains(words), "{json}: {}", refused(json));
    }
    for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        assert_eq!(What::Reading(reading(value)).to_json(), Err(EntryError::NotFinite));
    }
}

/// The same draws on every run and machine.
fn runner(cases: u32) -> TestRunner {
    let config = Config { cases, failure_persistence: None, ..Config::default() };
    TestRunner::new_with_rng(config, TestRng::from_seed(RngAlgorithm::ChaCha, &[5; 32]))
}

/// Every finite number and every text reads back exactly.
#[test]
fn numbers_and_texts_read_back_exactly() {
    let number = any::<f64>().prop_filter("finite", |n| n.is_finite());
    runner(4000)
        .run(&(number, any::<String>(), any::<u64>(), 0_i64..4_000_000_000_000), |(number, text, seq, at)| {
            let drift = What::Drift {
                point: Point::at(PointKind::Incidence, "S4"),
                mean: number,
                least: -number,
                most: number / 3.0,
                samples: 3,
                seconds: 1,
                temperature: Some(Celsius::new(number)),
                shift: Some((number, At::from_millis(at)).into()),
            };
            for what in [drift, What::Withdrawn { seq, reason: text.clone() }, What::Reading(reading(number))]
            {
                let json = what.to_json().map_err(|e| TestCaseError::fail(e.to_string()))?;
                let back = What::from_json(&json).map_err(|e| TestCaseError::fail(e.to_string()))?;
                prop_assert_eq!(&back, &what);
                if let (What::Reading(a), What::Reading(b)) = (&back, &what) {
                    prop_assert_eq!(a.value.to_bits(), b.value.to_bits());
                }
            }
            Ok(())
        })
        .unwrap();
}

/// Any text is read or refused, never a panic.
#[test]
fn any_text_is_read_or_refused() {
    let samples: Vec<String> = every_kind().iter().map(|what| what.to_json().unwrap()).collect();
    let damaged = (prop::sample::select(samples), any::<prop::sample::Index>(), ".{0,6}").prop_map(
        |(json, at, put)| {
            let at = (0..=at.index(json.len())).rev().find(|n| json.is_char_boundary(*n)).unwrap_or(0);
            format!("{}{put}{}", &json[..at], json[at..].chars().skip(3).collect::<String>())
        },
    );
    runner(3000)
        .run(&damaged, |text| {
            if let Err(why) = What::from_json(&text) {
                prop_assert!(!why.to_string().is_empty());
            }
            Ok(())
        })
        .unwrap();
}

/// Looking through a reading finds what a full parse finds, or nothing; nothing is found that a full parse refuses.
#[test]
fn looking_through_a_reading_finds_what_a_full_parse_finds() {
    let texts = prop_oneof![any::<String>(), "[ -~°]{0,12}", Just("S4".to_owned())];
    let draws = (
        (any::<f64>(), -1e6..1e6_f64, any::<bool>(), any::<u32>(), 0..40_u32),
        (texts.clone(), some(texts.clone()), some(texts.clone()), some(texts)),
        (some(-1e3..1e3_f64), some(0.0..1e-5_f64), some(any::<u32>()), any::<bool>()),
        (any::<prop::sample::Index>(), any::<u8>(), any::<bool>()),
    );
    let (looked, spoilt) = (std::cell::Cell::new(0), std::cell::Cell::new(0));
    runner(6000)
        .run(&draws, |(numbers, texts, optional, spoil)| {
            let (odd, value, wild, far, near) = numbers;
            let whole = Reading {
                point: Point::at(PointKind::Incidence, if texts.0.is_empty() { "S1" } else { &texts.0 }),
                text: texts.0.clone(),
                value: if wild && odd.is_finite() { odd } else { value },
                facing: texts
                    .1
                    .as_ref()
                    .map(|t| if t.len() % 2 == 0 { Facing::Forward } else { Facing::Aft }),
                instrument: texts.1.clone(),
                temperature: optional.0.map(Celsius::new),
                round: if wild { far } else { near },
                scatter: optional.1,
                samples: optional.2,
                unsettled: optional.3,
                source: if wild { Source::Port } else { Source::Imported },
                note: texts.2.clone(),
                asked: texts.3.map(|why| Asked { expected: texts.0.clone(), why }),
                ..reading(0.0)
            };
            let json =
                What::Reading(whole.clone()).to_json().map_err(|e| TestCaseError::fail(e.to_string()))?;
            // Written in one pass or key by key, the result is the same.
            prop_assert_eq!(&json, &serde_json::to_string(&What::Reading(whole.clone())).unwrap());
            let begin = "{\"kind\":\"reading\",\"body\":".len();
            let body = &json[begin..json.len() - 2];
            if let Some(found) = record::skim::skim(body) {
                prop_assert_eq!(found.point, whole.point.to_string());
                prop_assert_eq!(found.instrument, whole.instrument.as_deref());
                prop_assert_eq!(found.round, whole.round);
                prop_assert_eq!(found.facing, whole.facing.map(Facing::word));
                prop_assert_eq!(found.told, whole.unsettled || whole.asked.is_some());
                looked.set(looked.get() + 1);
            }
            // Insert, remove or change one byte.
            let mut bytes = body.as_bytes().to_vec();
            let at = spoil.0.index(bytes.len());
            let byte = if spoil.2 { b"\"\\,{}:019-.e"[usize::from(spoil.1 % 12)] } else { spoil.1 };
            match spoil.1 % 3 {
                0 => bytes.insert(at, byte),
                1 => bytes[at] = byte,
                _ => _ = bytes.remove(at),
            }
            if let Ok(body) = String::from_utf8(bytes)
                && let Some(found) = record::skim::skim(&body)
            {
                spoilt.set(spoilt.get() + 1);
                let read = What::from_json(&format!("{{\"kind\":\"reading\",\"body\":{body}}}}}"));
                if let Ok(What::Reading(read)) = read {
                    let same = (found.instrument, found.round, found.told);
                    prop_assert_eq!(
                        same,
                        (read.instrument.as_deref(), read.round, read.unsettled || read.asked.is_some())
                    );
                    prop_assert_eq!(found.point.parse::<Point>().ok(), Some(read.point));
                } else {
                    // The caller checks whether the point is valid.
                    prop_assert!(found.point.parse::<Point>().is_err(), "{}", body);
                }
            }
            Ok(())
        })
        .unwrap();
    let (looked, spoilt) = (looked.get(), spoilt.get());
    assert!(looked > 800 && spoilt > 100, "looked through {looked}, spoilt and looked through {spoilt}");
}
