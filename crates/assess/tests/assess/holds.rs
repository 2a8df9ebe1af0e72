//! Obligations that are easily overlooked: rounds, ways of measuring, stages gone back to, plans that excuse.

use crate::whole;
use crate::whole::{Build, Way};
use crate::wing::shows;
use assess::view::Verdict;
use assess::{Assessment, Chain, assess};
use numerics::rng::Rng;
use record::point::{Design, Readings};
use record::{Entry, Facing, GateState, OpenAction, OpenItem, Plan, Point, Reading, StageBegun, What};
use std::collections::BTreeSet;

fn judged(build: &Build) -> Assessment {
    assess(&build.plan, &build.entries, &Chain::Whole)
}

#[track_caller]
fn holds(build: &Build, how: &str) -> Assessment {
    let a = judged(build);
    assert_eq!(a.gate.state, GateState::Hold, "{how}");
    assert!(!a.gate.reasons.is_empty(), "{how} without a reason");
    a
}

#[track_caller]
fn clear(build: &Build, how: &str) {
    let a = judged(build);
    assert_eq!(a.gate.state, GateState::Clear, "{how}: {:#?}", a.gate.reasons);
}

/// Changes every reading of a point that counts at the end.
fn change(build: &mut Build, point: &Point, f: impl Fn(&mut Reading)) {
    let start = build.entries.iter().rposition(|e| matches!(e.what, What::Stage(_))).unwrap();
    for entry in &mut build.entries[start..] {
        if let What::Reading(r) = &mut entry.what
            && r.point == *point
        {
            f(r);
        }
    }
}

/// A wing built and read well by a plan of its own.
fn built(text: &str) -> Build {
    let mut rng = Rng::new(11);
    let mut build = Build::new(Way::Angles);
    build.plan = Plan::parse(text).unwrap();
    build.entries.clear();
    build.happens(What::Started { plan: text.to_owned(), program: "test".to_owned() });
    build.stage("jig");
    build.measure("jig", &mut rng);
    build.happens(What::OpenItem(OpenItem {
        item: "brace".to_owned(),
        action: OpenAction::Closed,
        reason: None,
    }));
    build.stage("close");
    build.measure("close", &mut rng);
    build
}

/// After a return to an earlier stage the later stages must be begun again.
#[test]
fn after_a_return_to_a_stage_the_gate_holds_until_the_closing_stage_is_begun_again() {
    let mut b = Build::clear(Way::Angles, 3);
    clear(&b, "before");
    b.happens(What::Stage(StageBegun {
        name: "jig".to_owned(),
        passed: Vec::new(),
        unmet: Vec::new(),
        reason: Some("the post was set again".to_owned()),
    }));
    let a = holds(&b, "back at the jig");
    assert!(a.gate.reasons.iter().any(|r| r.words.contains("close was begun before jig")), "{:#?}", a.gate);
    b.stage("close");
    let a = holds(&b, "what the jig leaves open is open again");
    assert!(a.gate.reasons.iter().any(|r| r.words.contains("brace")), "{:#?}", a.gate);
    b.happens(What::OpenItem(OpenItem {
        item: "brace".to_owned(),
        action: OpenAction::Closed,
        reason: None,
    }));
    clear(&b, "begun again, nothing disturbed");
}

/// A required point that no judgement uses proves nothing, whatever it reads, and is not evidence for anything that
/// is met.
#[test]
fn a_required_point_that_nothing_judges_holds() {
    let three = |more: &str| {
        let spar = "[[spar]]\nname = \"middle\"\naft_root = 650\naft_tip = 650\n[[post]]";
        let text = whole::plan_text(Way::Heights).replacen("[[post]]", spar, 1);
        text.replacen("format = 1\n", &format!("format = 1\n{more}"), 1)
    };
    let text = three("").replace("\"walk@*\"", "\"walk@front:*\", \"walk@rear:*\", \"walk@middle:*\"");
    let a = holds(&built(&text), "heights of a third spar");
    assert!(a.gate.reasons.iter().any(|r| r.words.contains("height@middle:S4 is required")), "{:#?}", a.gate);
    let excused = three("record_only = [\"height@middle:*\"]\n");
    clear(&built(&excused), "heights that are only recorded");
    // A walk that breaks off: nothing judges what lies beyond the gap.
    let walks = "\"walk@rear:*\", \"walk@front:S2\", \"walk@front:S3\", \"walk@front:S4\", \"walk@front:S7\"";
    let mut gap = built(&whole::plan_text(Way::Heights).replace("\"walk@*\"", walks));
    change(&mut gap, &"walk@front:S7".parse().unwrap(), |r| shows(r, 60.0));
    holds(&gap, "a step beyond a gap");
}

/// Two ways of measuring one thing must agree; if they do, both count.
#[test]
fn two_ways_of_measuring_a_station_must_agree() {
    let both = whole::plan_text(Way::Angles).replace("\"incidence@*\"", "\"incidence@*\", \"height@*\"");
    let b = built(&both);
    clear(&b, "angles and heights");
    let mut apart = b.clone();
    // 9 mm over 700 mm is 0.74 degrees.
    change(&mut apart, &"height@front:S4".parse().unwrap(), |r| shows(r, r.value + 9.0));
    let a = holds(&apart, "heights that say otherwise");
    let s4 = a.gate.obligations.iter().find(|o| o.about == "S4" && o.kind.word() == "station").unwrap();
    assert_eq!(s4.state, Verdict::Doubtful, "{}", s4.words);
    let offsets = whole::plan_text(Way::Angles).replace("\"offset@*\"", "\"offset@*\", \"walk@*\"");
    let b = built(&offsets);
    clear(&b, "offsets and a walk");
    let mut apart = b.clone();
    change(&mut apart, &"walk@front:S4".parse().unwrap(), |r| {
        shows(r, r.value + r.facing.map_or(1.0, record::Facing::sign));
    });
    holds(&apart, "a walk that says otherwise");
}

/// A plan may excuse a point, but not a tolerance.
#[test]
fn record_only_does_not_excuse_a_whole_tolerance() {
    for (what, patterns) in [
        ("stations", "\"incidence@*\""),
        ("posts", "\"level@*\""),
        ("the bay", "\"diagonal@*\""),
        ("the shaft", "\"bore*\""),
        ("spacing", "\"spacing@*\""),
    ] {
        let line = format!("format = 1\nrecord_only = [{patterns}]\n");
        let text = whole::plan_text(Way::Angles).replacen("format = 1\n", &line, 1);
        let a = holds(&built(&text), what);
        assert!(
            a.gate.reasons.iter().any(|r| r.words.contains("record_only")),
            "{what}: {:#?}",
            a.gate.reasons
        );
    }
    let one = "format = 1\nrecord_only = [\"spacing@S4\"]\n";
    clear(&built(&whole::plan_text(Way::Angles).replacen("format = 1\n", one, 1)), "one point");
}

/// An instrument entered again with a new claim proves nothing by its later readings until that is carried past.
#[test]
fn an_instrument_that_suddenly_claims_more_is_doubtful_until_it_is_carried_past() {
    let mut b = Build::clear(Way::Angles, 3);
    let mut finer = b.plan.instruments[0].clone();
    finer.accuracy = Some(0.001);
    b.happens(What::Instrument(finer));
    clear(&b, "nothing read with it");
    b.stage("close");
    b.measure("close", &mut Rng::new(5));
    let a = holds(&b, "read with it");
    let item = "looser: instrument.level.accuracy 0.02 -> 0.001";
    assert!(a.gate.reasons.iter().any(|r| r.words.contains(item)), "{:#?}", a.gate.reasons);
    b.happens(What::OpenItem(OpenItem {
        item: item.to_owned(),
        action: OpenAction::Carried,
        reason: Some("its certificate".to_owned()),
    }));
    clear(&b, "carried past");
    let mut coarser = b.plan.instruments[0].clone();
    coarser.accuracy = Some(0.03);
    let mut c = Build::clear(Way::Angles, 3);
    c.happens(What::Instrument(coarser));
    c.stage("close");
    c.measure("close", &mut Rng::new(5));
    clear(&c, "a weaker claim");
}

/// What a new plan may not loosen in silence an instrument entered again may not either: the same keys in the same
/// words.
#[test]
fn an_instrument_entered_again_loosens_by_the_rule_of_a_new_plan() {
    let limits = |most: f64| Some(record::Limits { lower: Some(-most), upper: Some(most) });
    let day = |text: &str| Some(text.parse::<record::Date>().unwrap());
    let mut b = Build::clear(Way::Angles, 3);
    let mut full = b.plan.instruments[0].clone();
    (full.scale, full.range, full.due) = (Some(0.01), limits(10.0), day("2090-01-01"));
    (full.repeatability, full.accuracy) = (Some(0.01), Some(0.02));
    b.happens(What::Instrument(full.clone()));
    type Change = fn(&mut record::Instrument);
    let changes: [(&str, Change); 11] = [
        ("resolution", |i| i.resolution /= 2.0),
        ("accuracy", |i| i.accuracy = Some(0.001)),
        ("accuracy", |i| i.accuracy = None),
        ("repeatability", |i| i.repeatability = Some(0.001)),
        ("repeatability", |i| i.repeatability = None),
        ("scale", |i| i.scale = Some(0.001)),
        ("scale", |i| i.scale = None),
        ("due", |i| i.due = Some("2095-01-01".parse().unwrap())),
        ("due", |i| i.due = None),
        ("range", |i| i.range = Some(record::Limits { lower: Some(-20.0), upper: Some(10.0) })),
        ("range", |i| i.range = None),
    ];
    for (key, change) in changes {
        let (mut more, mut c) = (full.clone(), b.clone());
        change(&mut more);
        let words: Vec<String> = record::plan::claims(&full, &more).iter().map(|c| c.open_item()).collect();
        assert!(
            words.len() == 1 && words[0].starts_with(&format!("looser: instrument.{}.{key} ", full.name)),
            "{words:?}"
        );
        assert!(record::plan::claims(&full, &full).is_empty());
        c.happens(What::Instrument(more));
        c.stage("close");
        c.measure("close", &mut Rng::new(5));
        let a = holds(&c, key);
        assert!(a.gate.reasons.iter().any(|r| r.words.contains(&words[0])), "{key}: {:#?}", a.gate.reasons);
    }
}

/// A table may give any time; a reading counts for the stage in which it was entered and is no earlier than that.
#[test]
fn a_time_typed_in_a_table_does_not_put_a_reading_before_a_check_date() {
    let mut b = Build::clear(Way::Angles, 3);
    b.plan.instruments[0].due = Some("2030-03-01".parse().unwrap());
    for entry in b.entries.iter_mut().filter(|e| matches!(e.what, What::Reading(_))) {
        entry.at = record::At::from_millis(1_800_000_000_000);
    }
    let a = holds(&b, "readings dated back");
    assert!(
        a.gate.reasons.iter().any(|r| r.words.contains("after its check ran out")),
        "{:#?}",
        a.gate.reasons
    );
}

/// An instrument without a stated accuracy can have any zero; read in both facings that does not matter.
#[test]
fn a_zero_that_nobody_knows_is_doubtful() {
    let text = whole::plan_text(Way::Angles).replacen("accuracy = 0.02\n", "", 1);
    let pairs = built(&text);
    clear(&pairs, "pairs");
    let mut single = pairs.clone();
    let start = single.entries.iter().rposition(|e| matches!(e.what, What::Stage(_))).unwrap();
    let aft = |e: &Entry| matches!(&e.what, What::Reading(r) if r.facing == Some(record::Facing::Aft));
    let later = single.entries.split_off(start);
    single.entries.extend(later.into_iter().filter(|e| !aft(e)));
    single.entries.iter_mut().enumerate().for_each(|(i, e)| e.seq = i as u64 + 1);
    let a = holds(&single, "one way round");
    assert!(a.gate.reasons.iter().any(|r| r.words.contains("its zero is unknown")), "{:#?}", a.gate.reasons);
}

/// An earlier round that gives no value is not ignored: it contradicts the round that counts.
#[test]
fn an_earlier_round_without_a_value_holds_until_it_is_withdrawn() {
    for way in Way::ALL {
        let good = Build::clear(way, 7);
        let mut seen = BTreeSet::new();
        for point in good.required() {
            // The root datum has no distance from itself.
            let datum =
                point.kind().row().design == Design::Distance && good.plan.design_of(&point) == Some(0.0);
            if datum || point.kind().row().readings != Readings::OfOneState || !seen.insert(point.kind()) {
                continue;
            }
            let mut build = good.clone();
            // A value that depends on a datum is read again with all others that depend on it.
            let datum = |p: &Point| p.kind() == point.kind() && p.kind().row().from_a_datum();
            let last: Vec<Reading> = build
                .entries
                .iter()
                .filter_map(|e| match &e.what {
                    What::Reading(r) if (r.point == point || datum(&r.point)) && r.round == build.round => {
                        Some(r.clone())
                    }
                    _ => None,
                })
                .collect();
            let impossible = point.kind().row().spoilers.impossible;
            change(&mut build, &point, |r| shows(r, r.facing.map_or(1.0, record::Facing::sign) * impossible));
            let wrong: Vec<u64> = build
                .entries
                .iter()
                .filter(|e| matches!(&e.what, What::Reading(r) if r.value.abs() == impossible.abs()))
                .map(|e| e.seq)
                .collect();
            let round = build.round + 1;
            last.iter().for_each(|r| _ = build.happens(What::Reading(Reading { round, ..r.clone() })));
            if assess::history::Fold::of(&build.plan, &build.entries).points[&point].earlier.is_empty() {
                continue;
            }
            holds(&build, &format!("an impossible round before a good one: {point}"));
            wrong
                .iter()
                .for_each(|seq| _ = build.happens(What::Withdrawn { seq: *seq, reason: "slip".to_owned() }));
            clear(&build, &format!("{point} withdrawn"));
        }
    }
}

/// A log of a program that wrote an open item for each loosened key: the plans say whether it is still one.
#[test]
fn an_open_item_written_for_a_loosened_key_follows_the_plans() {
    let tight = whole::plan_text(Way::Angles);
    let loose = tight.replace("station = 0.3", "station = 0.4");
    let item = "looser: tolerance.station 0.3 -> 0.4";
    let says = |action| {
        let reason = Some("agreed".to_owned());
        What::OpenItem(OpenItem { item: item.to_owned(), action, reason })
    };
    let mut b = Build::clear(Way::Angles, 3);
    b.plan = record::Plan::parse(&loose).unwrap();
    b.happens(What::Replanned { plan: loose.clone(), reason: "maker".to_owned() });
    b.happens(says(OpenAction::Opened));
    let named = |a: &Assessment| a.gate.obligations.iter().filter(|o| o.about == item).count();
    let a = holds(&b, "left open");
    assert_eq!(named(&a), 1, "once, not twice");
    let mut carried = b.clone();
    carried.happens(says(OpenAction::Carried));
    assert_eq!(judged(&carried).gate.state, GateState::Clear);
    // Taken back by a program that writes no closing entry.
    b.plan = record::Plan::parse(&tight).unwrap();
    b.happens(What::Replanned { plan: tight.clone(), reason: "back".to_owned() });
    let a = judged(&b);
    assert_eq!((a.gate.state, named(&a)), (GateState::Clear, 0), "{:#?}", a.gate.reasons);
    assert!(a.plan_changes.iter().any(|c| c.looser && c.taken_back));
    // Made once more: an earlier carrying past does not count for it.
    carried.happens(What::Replanned { plan: tight, reason: "back".to_owned() });
    carried.happens(What::Replanned { plan: loose, reason: "again".to_owned() });
    holds(&carried, "loosened again");
}

/// If pairs show a zero beyond the level's accuracy, nothing that it read in one facing is believed, however well it
/// would fit: the zero may explain all of it. A pair of any stage shows it, also a later one, until a check passes.
#[test]
fn a_zero_beyond_the_accuracy_is_not_believed_away() {
    let is_level = |r: &Reading| r.facing.is_some() && r.instrument.is_some();
    let points: BTreeSet<Point> = Build::clear(Way::Angles, 4)
        .entries
        .iter()
        .filter_map(|e| match &e.what {
            What::Reading(r) if is_level(r) => Some(r.point.clone()),
            _ => None,
        })
        .collect();
    assert!(points.len() > 5, "{points:?}");
    for point in points {
        let mut build = Build::clear(Way::Angles, 4);
        let facts =
            |build: &Build, name: &str| build.plan.instruments.iter().find(|i| i.name == name).cloned();
        let plan = build.clone();
        for entry in &mut build.entries {
            if let What::Reading(r) = &mut entry.what
                && is_level(r)
            {
                let name = r.instrument.clone().unwrap();
                shows(r, r.value + 3.0 * facts(&plan, &name).unwrap().accuracy.unwrap());
            }
        }
        clear(&build, "pairs take any zero out");
        // In one facing, and as near the design as before the zero.
        let start = build.entries.iter().rposition(|e| matches!(e.what, What::Stage(_))).unwrap();
        let back = |e: &Entry| matches!(&e.what, What::Reading(r) if r.point == point && r.facing == Some(Facing::Aft));
        let later = build.entries.split_off(start);
        build.entries.extend(later.into_iter().filter(|e| !back(e)));
        build.entries.iter_mut().enumerate().for_each(|(i, e)| e.seq = i as u64 + 1);
        change(&mut build, &point, |r| {
            let name = r.instrument.clone().unwrap();
            shows(r, r.value - 3.0 * facts(&plan, &name).unwrap().accuracy.unwrap());
        });
        let a = holds(&build, &point.to_string());
        let words = a.gate.reasons.iter().map(|r| r.words.as_str()).collect::<Vec<_>>().join("; ");
        assert!(words.contains("was read one way round, and showed a zero of"), "{point}: {words}");
    }
}
