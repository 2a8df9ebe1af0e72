//! What the gate's list must hold, found from the text of the plan alone: what a plan asks for and cannot judge, and what it lacks.

use crate::whole::{Build, Way, plan_text};
use assess::view::{ObligationKind as K, Verdict as S};
use assess::{Assessment, Chain, assess};
use numerics::rng::Rng;
use record::{GateState, InstrumentCheck, OpenAction, OpenItem, Plan, Signed, SignedText, StageBegun, What};

fn judged(b: &Build) -> Assessment {
    assess(&b.plan, &b.entries, &Chain::Whole)
}

/// A wing built and read well by a plan of its own, every stage in turn; what a stage leaves open is closed.
fn built(text: &str) -> Build {
    let mut rng = Rng::new(11);
    let mut build = Build::new(Way::Angles);
    build.plan = Plan::parse(text).unwrap_or_else(|why| panic!("{why:#?}"));
    build.entries.clear();
    build.happens(What::Started { plan: text.to_owned(), program: "test".to_owned() });
    let stages: Vec<(String, Vec<String>)> =
        build.plan.stages.iter().map(|s| (s.name.clone(), s.open.clone())).collect();
    for (name, open) in stages {
        build.stage(&name);
        build.measure(&name, &mut rng);
        for item in open {
            build.happens(What::OpenItem(OpenItem { item, action: OpenAction::Closed, reason: None }));
        }
    }
    build
}

#[track_caller]
fn holds(build: &Build, how: &str, says: &str) -> Assessment {
    let a = judged(build);
    assert_eq!(a.gate.state, GateState::Hold, "{how}");
    assert!(a.gate.reasons.iter().any(|r| r.words.contains(says)), "{how}: {:#?}", a.gate.reasons);
    a
}

/// Without its tolerance each point that a stage requires is owed by itself, and nothing can meet it: however well it is read.
#[test]
fn a_required_point_without_a_limit_cannot_be_judged() {
    let text = plan_text(Way::Angles);
    let twist = "setting = 0.5\nwashout = 0.3\nstation = 0.3\nneighbour = 0.4\n";
    for (limit, points) in [
        ("level = 0.15\n", "level@"),
        ("cross = 0.15\n", "cross@"),
        ("square = 0.2\n", "diagonal@"),
        ("spacing = 2.0\n", "spacing@"),
        ("straightness = 1.5\n", "offset@"),
        ("clearance = 0.05\n", "bore"),
        ("lower = 8.0\nupper = 11.0\n", "spot@bolt"),
        (twist, "incidence@"),
    ] {
        let without = text.replace(limit, "");
        assert_ne!(without, text, "{limit}");
        let build = built(&without);
        let a = holds(&build, limit, "the plan has no limit for it");
        let mut asked = build.required().into_iter().filter(|p| p.to_string().starts_with(points)).peekable();
        assert!(asked.peek().is_some(), "{points}");
        for point in asked {
            let owed = a.gate.obligations.iter().find(|o| o.kind == K::Point && o.about == point.to_string());
            assert_eq!(owed.map(|o| o.state), Some(S::CannotJudge), "{point} without {limit}");
        }
    }
}

/// A plan that asks for nothing, or for something of a thing that it does not have, is never met.
#[test]
fn what_a_plan_lacks_holds() {
    let two = "format = 1\nrecord_only = [\"incidence@*\"]\n[wing]\nname = \"bare\"\nside = \"left\"\n\
               [[station]]\nname = \"S1\"\nspan = 0\nchord = 1000\nincidence = 0\n\
               [[station]]\nname = \"S2\"\nspan = 3000\nchord = 1000\nincidence = 0\n\
               [[instrument]]\nname = \"level\"\nkind = \"inclinometer\"\nresolution = 0.05\naccuracy = 0.1\n\
               repeatability = 0.03\n";
    let staged = format!("{two}[[stage]]\nname = \"close\"\nrequires = [\"incidence@*\"]\n");
    holds(&built(&staged), "no tolerance", "the plan has no tolerance");
    let tolerant = two.replacen("record_only = [\"incidence@*\"]\n", "", 1) + "[tolerance]\nstation = 0.3\n";
    holds(&built(&tolerant), "no stage", "the plan has no stages");
    let text = plan_text(Way::Angles);
    let (before, rest) = text.split_once("[[bay]]").unwrap();
    let (_, after) = rest.split_once("[shaft]").unwrap();
    let no_bay = format!("{before}[shaft]{after}").replace("\"diagonal@*\", ", "");
    holds(&built(&no_bay), "a tolerance for bays", "the plan has a tolerance for it and no bay");
}

/// A washout error asked for where no station shows the tip datum has no value, and that is no reason to pass it.
#[test]
fn a_datum_that_no_station_shows_holds() {
    let text = plan_text(Way::Angles).replace("[tolerance]", "root = 0\ntip = 4200\n[tolerance]");
    let a = holds(&built(&text), "the last station far from the tip", "washout error");
    let washout = a.gate.obligations.iter().find(|o| o.kind == K::Washout).unwrap();
    assert_eq!(washout.state, S::Missing, "{}", washout.words);
}

/// What only a stage after the closing one asks for is owed there if it is a spot check, and at the closing if it is of the wing's
/// shape; what both ask for is owed at both.
#[test]
fn what_is_owed_at_the_closing_and_after_it() {
    let text = |close: &str, after: &str| {
        let text = plan_text(Way::Angles).replace("\"spacing@*\", ", "").replace("\"spot@*\"", close);
        text.replace("name = \"close\"", "name = \"close\"\ncloses = true")
            + &format!("[[stage]]\nname = \"later\"\nrequires = [{after}]\n")
    };
    for (close, after, at_closing, later) in [
        ("\"spot@bolt\"", "\"spot@gap\"", false, true),
        ("\"spot@*\"", "\"spot@gap\"", true, true),
        ("\"spot@*\"", "\"spot@bolt\"", true, false),
    ] {
        let a = judged(&built(&text(close, after)));
        let gap = |gate: &assess::view::Gate| {
            gate.obligations.iter().any(|o| o.kind == K::Spot && o.about == "gap")
        };
        assert_eq!(
            (gap(&a.gate), a.after.as_ref().map(gap)),
            (at_closing, Some(later)),
            "{close}, then {after}"
        );
    }
    let mut build = built(&text("\"spot@*\"", "\"spacing@*\""));
    let later = |e: &record::Entry| matches!(&e.what, What::Stage(s) if s.name == "later");
    let end = build.entries.iter().position(later).unwrap();
    build.entries.truncate(end);
    let a = judged(&build);
    let missing = a.gate.obligations.iter().filter(|o| o.kind == K::Spacing && o.state == S::Missing);
    assert_eq!(missing.count(), 7, "the spacing of every station but that at the root");
}

/// An instrument is in order or not whether its readings still count or not: it was used.
#[test]
fn an_instrument_that_was_used_is_looked_at_though_its_readings_were_taken_again() {
    let used = |plan_knows: bool| {
        let mut b = Build::new(Way::Angles);
        let mut other = b.plan.instruments[0].clone();
        other.name = "old level".to_owned();
        if plan_knows {
            b.happens(What::Instrument(other));
        }
        let mut rng = Rng::new(4);
        b.stage("jig");
        for point in b.plan.stage("jig").unwrap().requires.clone() {
            for reading in b.readings(&point, &mut rng) {
                let instrument = Some("old level".to_owned());
                b.happens(What::Reading(record::Reading { instrument, ..reading }));
            }
        }
        let closed = OpenItem { item: "brace".to_owned(), action: OpenAction::Closed, reason: None };
        b.happens(What::OpenItem(closed));
        b.stage("close");
        b.measure("close", &mut rng);
        b
    };
    let state = |b: &Build| {
        let a = judged(b);
        let owed = a.gate.obligations.iter().find(|o| o.kind == K::Instrument && o.about == "old level");
        owed.map(|o| o.state)
    };
    let known = used(true);
    assert_eq!((state(&known), judged(&known).gate.state), (Some(S::Within), GateState::Clear));
    let unknown = used(false);
    assert_eq!((state(&unknown), judged(&unknown).gate.state), (Some(S::Doubtful), GateState::Hold));
    let mut failed = known;
    failed.happens(What::InstrumentCheck(InstrumentCheck {
        instrument: "old level".to_owned(),
        method: "reversal".to_owned(),
        found: 0.3,
        u: 0.01,
        passed: false,
    }));
    assert_eq!((state(&failed), judged(&failed).gate.state), (Some(S::Doubtful), GateState::Hold));
}

/// The second axis of a level has a zero of its own: until it passed a check of its own, it was never checked.
#[test]
fn a_second_axis_is_checked_by_itself() {
    let name = "level, second axis";
    let mut b = Build::clear(Way::Angles, 3);
    let mut second = b.plan.instruments[0].clone();
    second.name = name.to_owned();
    for entry in &mut b.entries {
        if let What::Reading(r) = &mut entry.what
            && r.point.kind().word() == "cross"
        {
            r.instrument = Some(name.to_owned());
        }
    }
    b.plan.instruments.push(second);
    holds(&b, "never checked", "a check of the first axis does not cover it");
    let check = |instrument: &str| {
        What::InstrumentCheck(InstrumentCheck {
            instrument: instrument.to_owned(),
            method: "reversal".to_owned(),
            found: 0.01,
            u: 0.01,
            passed: true,
        })
    };
    b.happens(check("level"));
    holds(&b, "the first axis checked", "a check of the first axis does not cover it");
    b.happens(check(name));
    let a = judged(&b);
    assert_eq!(a.gate.state, GateState::Clear, "{:#?}", a.gate.reasons);
}

/// A sign-off that says it was made with a key, and whose signature is not there.
#[test]
fn a_signature_that_is_gone_holds() {
    let mut b = Build::clear(Way::Angles, 3);
    let signed = Signed {
        who: "ann".to_owned(),
        capacity: "inspector".to_owned(),
        statement: "seen".to_owned(),
        gate: GateState::Clear,
        entries: b.entries.len() as u64,
        head: "00".repeat(32),
        text: SignedText::Second,
        key: None,
        signature: None,
    };
    let mut keyed = b.clone();
    b.happens(What::Signed(signed.clone()));
    assert_eq!(judged(&b).gate.state, GateState::Clear, "without a key nothing speaks against it");
    keyed.happens(What::Signed(Signed { key: Some("11".repeat(32)), ..signed }));
    let a = holds(&keyed, "no signature", "is missing; a key was used");
    let record = a.gate.obligations.iter().find(|o| o.kind == K::Record && o.about == "signatures").unwrap();
    assert_eq!(record.state, S::Outside);
}

/// Two stages leave the same thing open. What became of it at one settles nothing at the other, begun or passed over.
#[test]
fn a_stage_passed_over_leaves_its_own_things_open() {
    let ribs = "[[stage]]\nname = \"ribs\"\nopen = [\"brace\"]\n[[stage]]\nname = \"close\"";
    let text = plan_text(Way::Angles).replace("[[stage]]\nname = \"close\"", ribs);
    let mut rng = Rng::new(6);
    let mut b = Build::new(Way::Angles);
    b.plan = Plan::parse(&text).unwrap();
    b.entries.clear();
    b.happens(What::Started { plan: text, program: "test".to_owned() });
    let brace = |action, reason: Option<&str>| {
        let reason = reason.map(str::to_owned);
        What::OpenItem(OpenItem { item: "brace".to_owned(), action, reason })
    };
    b.stage("jig");
    b.measure("jig", &mut rng);
    b.happens(brace(OpenAction::Closed, None));
    b.round += 1;
    b.happens(What::Stage(StageBegun {
        passed: vec!["ribs".to_owned()],
        reason: Some("done elsewhere".to_owned()),
        ..StageBegun::new("close")
    }));
    b.measure("close", &mut rng);
    holds(&b, "the brace of the stage passed over", "brace");
    for settled in [brace(OpenAction::Closed, None), brace(OpenAction::Carried, Some("agreed"))] {
        let mut b = b.clone();
        b.happens(settled);
        let a = judged(&b);
        assert_eq!(a.gate.state, GateState::Clear, "{:#?}", a.gate.reasons);
    }
}

/// A level that scatters by more than it claims, by a little at every station: no station shows it alone, all of them do.
#[test]
fn an_instrument_that_repeats_worse_than_it_claims_holds() {
    let only =
        plan_text(Way::Angles).replace("setting = 0.5\nwashout = 0.3\n", "").replace("neighbour = 0.4\n", "");
    for (apart, wanted) in [(0.02, GateState::Clear), (0.03, GateState::Hold)] {
        let mut b = built(&only);
        let stations: Vec<record::Point> =
            b.required().into_iter().filter(|p| p.kind().word() == "incidence").collect();
        for point in stations {
            let seat = |e: &record::Entry| match &e.what {
                What::Reading(r) if r.point == point && r.facing == Some(record::Facing::Forward) => {
                    Some(r.clone())
                }
                _ => None,
            };
            let first = b.entries.iter().rev().find_map(seat).unwrap();
            // By no more than claimed at one station in two, so that what is on the whole too much is nowhere.
            for value in [first.value - apart, first.value + apart] {
                b.happens(What::Reading(record::Reading { value, text: value.to_string(), ..first.clone() }));
            }
        }
        let a = judged(&b);
        assert_eq!(a.gate.state, wanted, "±{apart}: {:#?}", a.gate.reasons);
        if wanted == GateState::Hold {
            assert!(a.gate.reasons.iter().any(|r| r.words.contains("level repeats worse than it claims")));
            let stations = a.gate.obligations.iter().filter(|o| o.kind == K::Station);
            assert!(stations.clone().count() == 8 && stations.clone().all(|o| o.state == S::Doubtful));
        }
    }
}

/// In the middle of a round a station that is measured waits for the others, from which the setting follows: it is missing as they
/// are, and nothing is wrong with its readings. If the setting follows from no reading, the station says why.
#[test]
fn a_measured_station_waits_for_the_setting() {
    let judged_of = |b: &Build, station: &str| {
        let a = judged(b);
        let owed = a.gate.obligations.iter().find(|o| o.kind == K::Station && o.about == station).unwrap();
        (owed.state, owed.words.clone())
    };
    for measured in [1, 2] {
        let mut b = Build::new(Way::Angles);
        b.stage("jig");
        b.stage("close");
        for station in 1..=measured {
            for reading in b.readings(&format!("incidence@S{station}").parse().unwrap(), &mut Rng::new(4)) {
                b.happens(What::Reading(reading));
            }
        }
        let (state, words) = judged_of(&b, "S1");
        assert_eq!(state, S::Missing, "{words}");
        assert!(words.contains("waits for the setting of the wing, which needs other stations"), "{words}");
    }
    let mut b = Build::clear(Way::Angles, 3);
    b.plan.wing.root = quantity::Millimetres::new(-3000.0);
    let (state, words) = judged_of(&b, "S1");
    assert_eq!(state, S::CannotJudge, "{words}");
    assert!(words.contains("No station within 5 % of the span shows the root datum"), "{words}");
}
