//! What was entered of an instrument and of the build: which facts hold, from when on, which cannot be so, which were withdrawn.

use crate::whole::{Build, Way, plan_text, shifted};
use crate::wing::shows;
use assess::view::{ObligationKind as K, Verdict as S};
use assess::{Assessment, Chain, assess};
use numerics::rng::Rng;
use quantity::Millimetres;
use record::plan::{Adjust, Direction, Support, Travel};
use record::{
    GateState, Instrument, InstrumentCheck, Move, OpenAction, OpenItem, Plan, Rework, StageBegun, What,
};

fn judged(b: &Build) -> Assessment {
    assess(&b.plan, &b.entries, &Chain::Whole)
}

#[track_caller]
fn is(b: &Build, wanted: GateState, how: &str) {
    let a = judged(b);
    assert_eq!(a.gate.state, wanted, "{how}: {:#?}", a.gate.reasons);
}

/// A size of an instrument below zero, or no number, would count as none at all: as an instrument without an error.
#[test]
fn facts_that_cannot_be_so_hold() {
    type Spoil = fn(&mut Instrument, f64);
    let spoils: [(&str, Spoil); 5] = [
        ("resolution", |i, v| i.resolution = v),
        ("accuracy", |i, v| i.accuracy = Some(v)),
        ("repeatability", |i, v| i.repeatability = Some(v)),
        ("scale", |i, v| i.scale = Some(v)),
        ("expansion", |i, v| i.expansion = Some(v)),
    ];
    for (what, spoil) in spoils {
        for value in [-0.01, f64::NAN, f64::NEG_INFINITY, 1e300] {
            let mut b = Build::clear(Way::Angles, 3);
            b.plan.instruments.iter_mut().for_each(|i| spoil(i, value));
            let a = judged(&b);
            let judged = a
                .gate
                .obligations
                .iter()
                .filter(|o| !matches!(o.kind, K::Stage | K::Instrument | K::OpenItem | K::Record));
            assert!(
                judged.clone().all(|o| o.state != S::Within),
                "{what} {value}: {:#?}",
                a.gate.count(S::Within)
            );
        }
    }
}

/// Facts hold from their entry on: of a gauge that is entered again as coarser, what it reads afterwards is less certain, and what it
/// read before is not. An entry that is withdrawn changes nothing.
#[test]
fn facts_entered_again_hold_from_then_on() {
    let mut b = Build::clear(Way::Angles, 3);
    let gauge = b.plan.instruments.iter().find(|i| i.name == "gauge").cloned().unwrap();
    let seq = b.happens(What::Instrument(Instrument { accuracy: Some(5.0), ..gauge }));
    is(&b, GateState::Clear, "read before");
    let mut withdrawn = b.clone();
    withdrawn.happens(What::Withdrawn { seq, reason: "of another gauge".to_owned() });
    for (mut b, wanted) in [(b, GateState::Hold), (withdrawn, GateState::Clear)] {
        b.stage("close");
        b.measure("close", &mut Rng::new(5));
        is(&b, wanted, "read afterwards");
        let a = judged(&b);
        let s4 = a.gate.obligations.iter().find(|o| o.kind == K::Spacing && o.about == "S4").unwrap();
        assert_eq!(s4.state == S::Within, wanted == GateState::Clear, "{}", s4.words);
    }
}

/// A spar moved aft can rack its bay, and so can a foot that leans a post; a spar moved up does not. What the plan no longer has may have
/// been anything.
#[test]
fn a_move_aft_or_of_a_foot_makes_the_diagonals_stale() {
    let mut b = Build::clear(Way::Angles, 3);
    b.plan.supports = [("rear up", Direction::Up), ("rear aft", Direction::Aft)]
        .map(|(name, direction)| Support {
            name: name.to_owned(),
            span: Millimetres::new(1500.0),
            spar: b.plan.spars[0].name.clone(),
            direction,
            travel: Travel::NONE,
            adjust: Adjust::Fixed,
        })
        .to_vec();
    let moved = |name: &str, kind: K| {
        let mut b = b.clone();
        b.happens(What::Move(Move::typed(name, Millimetres::new(3.0), "3 mm")));
        judged(&b).gate.obligations.iter().find(|o| o.kind == kind).unwrap().state
    };
    for (name, square, level) in [
        ("rear up", S::Within, S::Within),
        ("rear aft", S::Stale, S::Within),
        ("root foot", S::Stale, S::Stale),
        ("no longer in the plan", S::Stale, S::Stale),
    ] {
        assert_eq!((moved(name, K::Square), moved(name, K::Level)), (square, level), "{name}");
        assert_eq!((moved(name, K::Station), moved(name, K::Spacing)), (S::Stale, S::Within), "{name}");
    }
}

/// What is withdrawn counts as if it had never been, whatever it was; withdrawn itself, it counts again.
#[test]
fn what_is_withdrawn_counts_as_never() {
    let check = InstrumentCheck {
        instrument: "level".to_owned(),
        method: "reversal".to_owned(),
        found: 0.3,
        u: 0.01,
        passed: false,
    };
    let item = OpenItem { item: "wedge".to_owned(), action: OpenAction::Opened, reason: None };
    let point: record::Point = "spot@gap".parse().unwrap();
    let back = StageBegun { reason: Some("again".to_owned()), ..StageBegun::new("jig") };
    for what in [
        What::Stage(back),
        What::InstrumentCheck(check),
        What::OpenItem(item),
        What::Move(Move::typed("root foot", quantity::Millimetres::new(1.0), "1 mm")),
        What::Rework(Rework { points: vec![point.clone()], what: "filed".to_owned() }),
        shifted(point, 0.5),
    ] {
        let mut b = Build::clear(Way::Angles, 3);
        let how = format!("{what:?}");
        let seq = b.happens(what);
        is(&b, GateState::Hold, &how);
        let withdrawal = b.happens(What::Withdrawn { seq, reason: "not so".to_owned() });
        is(&b, GateState::Clear, &how);
        b.happens(What::Withdrawn { seq: withdrawal, reason: "it was so".to_owned() });
        is(&b, GateState::Hold, &how);
    }
}

/// What was read in a stage and disturbed within it did not count when the next one began.
#[test]
fn a_reading_disturbed_before_its_stage_was_left_holds() {
    let mut b = Build::new(Way::Angles);
    let mut rng = Rng::new(3);
    b.stage("jig");
    b.measure("jig", &mut rng);
    b.happens(What::Move(Move::typed("root foot", quantity::Millimetres::new(1.0), "1 mm")));
    let closed = OpenItem { item: "brace".to_owned(), action: OpenAction::Closed, reason: None };
    b.happens(What::OpenItem(closed));
    b.stage("close");
    b.measure("close", &mut rng);
    is(&b, GateState::Hold, "the posts were not read again in their stage");
    let a = judged(&b);
    let jig = a.gate.obligations.iter().find(|o| o.kind == K::Stage && o.about == "jig").unwrap();
    assert_eq!(jig.state, S::Missing, "{}", jig.words);
}

/// A shift found where the jig stands puts the wing on it in doubt; one found on the wing puts the rest of the wing in doubt, and not
/// the posts.
#[test]
fn a_shift_puts_in_doubt_what_moves_with_it() {
    for (watched, doubtful) in [
        ("level@root-post", vec![(K::Level, "root-post"), (K::Cross, "root-post"), (K::Station, "S4")]),
        ("incidence@S1", vec![(K::Station, "S1"), (K::Station, "S4"), (K::Straightness, "front")]),
        ("spot@gap", vec![(K::Spot, "gap")]),
    ] {
        let mut b = Build::clear(Way::Angles, 3);
        b.happens(shifted(watched.parse().unwrap(), 0.5));
        let a = judged(&b);
        for (kind, about) in [
            (K::Level, "root-post"),
            (K::Cross, "root-post"),
            (K::Station, "S1"),
            (K::Station, "S4"),
            (K::Straightness, "front"),
            (K::Spot, "gap"),
        ] {
            let state = a.gate.obligations.iter().find(|o| o.kind == kind && o.about == about).unwrap().state;
            let expected = doubtful.contains(&(kind, about))
                || (watched.starts_with("level") && kind == K::Straightness);
            let expected = expected || (watched.starts_with("level") && about == "S1");
            assert_eq!(state == S::Doubtful, expected, "{watched}: {about} is {state:?}");
        }
    }
}

/// The stage that closes the wing is that of the plan in force when the next one began, not of the one the log began with.
#[test]
fn the_decision_goes_by_the_plan_in_force() {
    let mut b = Build::clear(Way::Angles, 3);
    let text = plan_text(Way::Angles).replace("name = \"close\"", "name = \"close\"\ncloses = true")
        + "[[stage]]\nname = \"painted\"\ndisturbs = [\"incidence@*\"]\n";
    b.plan = Plan::parse(&text).unwrap();
    b.happens(What::Replanned { plan: text, reason: "paint too".to_owned() });
    is(&b, GateState::Clear, "replaced by one that asks for no less");
    b.stage("painted");
    is(&b, GateState::Clear, "decided");
    assert!(judged(&b).decision.is_some());
}

/// The zero of a level is in what is read one way round and judged as it was shown: a spot check, a control at neutral. From a travel
/// it cancels, if the same level showed both ends. So a zero that pairs showed, or that nobody states, puts the first in doubt and not
/// the second.
#[test]
fn a_zero_is_in_what_was_read_one_way_and_not_in_a_travel() {
    let text = plan_text(Way::Angles)
        .replace("hinge_dihedral = 5.0\n", "hinge_dihedral = 5.0\nneutral = 3.0\n")
        .replace("[[spot]]\nname = \"gap\"", "[[spot]]\nname = \"door\"\nquantity = \"angle\"\nlower = -3\nupper = 3\n[[spot]]\nname = \"gap\"");
    let mut b = Build::new(Way::Angles);
    b.plan = Plan::parse(&text).unwrap();
    b.entries.clear();
    b.happens(What::Started { plan: text, program: "test".to_owned() });
    let mut rng = Rng::new(9);
    b.stage("jig");
    b.measure("jig", &mut rng);
    let closed = OpenItem { item: "brace".to_owned(), action: OpenAction::Closed, reason: None };
    b.happens(What::OpenItem(closed));
    b.stage("close");
    b.measure("close", &mut rng);
    is(&b, GateState::Clear, "a level in order");
    let in_doubt = |b: &Build| -> Vec<String> {
        let things = judged(b).gate.obligations.into_iter().filter(|o| o.kind != K::Instrument);
        let unmet = things
            .filter(|o| o.state != S::Within)
            .inspect(|o| assert_eq!(o.state, S::Doubtful, "{}", o.words));
        unmet.map(|o| o.about).collect()
    };
    let mut off = b.clone();
    for entry in &mut off.entries {
        if let What::Reading(r) = &mut entry.what
            && r.instrument.as_deref() == Some("level")
        {
            shows(r, r.value + 1.0);
        }
    }
    assert_eq!(in_doubt(&off), ["door", "neutral of left aileron"]);
    let mut silent = b.clone();
    silent.plan.instruments.iter_mut().filter(|i| i.name == "level").for_each(|i| i.accuracy = None);
    assert_eq!(in_doubt(&silent), ["door", "neutral of left aileron"]);
    let mut other = silent.plan.instruments.iter().find(|i| i.name == "level").cloned().unwrap();
    other.name = "another level".to_owned();
    b.plan.instruments.push(other);
    for entry in &mut b.entries {
        if let What::Reading(r) = &mut entry.what
            && r.point.kind().word() == "travel-up"
        {
            r.instrument = Some("another level".to_owned());
        }
    }
    assert_eq!(in_doubt(&b), ["travel up of left aileron"]);
}
