//! Decisions that hold or freeze the gate: tolerances without a reading, loosened ones, the sign-off, a later plan, a
//! later torque.

use crate::spoilt::judged;
use crate::whole;
use crate::whole::{Build, Way};
use assess::view::Verdict;
use record::{GateState, OpenAction, OpenItem, Point, What};
use std::collections::BTreeSet;

/// Nothing is measured: every tolerance holds, and none is left out.
#[test]
fn tolerances_without_a_reading_hold_one_by_one() {
    let mut b = Build::new(Way::Angles);
    b.stage("jig");
    b.stage("close");
    let a = judged(&b);
    let kinds: BTreeSet<_> = a.gate.obligations.iter().map(|o| o.kind.word()).collect();
    for kind in [
        "level",
        "cross",
        "setting",
        "washout",
        "neighbour",
        "station",
        "straightness",
        "spacing",
        "square",
        "clearance",
        "spot",
    ] {
        assert!(kinds.contains(kind), "{kind} is not even on the list: {kinds:?}");
        let met = |o: &&assess::view::Obligation| o.kind.word() == kind && o.state == Verdict::Within;
        assert_eq!(a.gate.obligations.iter().find(met), None);
    }
}

/// A loosened tolerance counts only after a person carried it past.
#[test]
fn a_loosened_tolerance_is_doubtful_until_it_is_carried_past() {
    let mut b = Build::clear(Way::Angles, 3);
    let plan = whole::plan_text(Way::Angles).replace("station = 0.3", "station = 0.4");
    b.plan = record::Plan::parse(&plan).unwrap();
    b.happens(What::Replanned { plan, reason: "maker's letter".to_owned() });
    let a = judged(&b);
    assert_eq!(a.plan_changes.len(), 1);
    assert!(a.plan_changes[0].looser);
    let item = a.plan_changes[0].words();
    assert_eq!(item, "looser: tolerance.station 0.3 -> 0.4");
    let carry =
        |action| What::OpenItem(OpenItem { item: item.clone(), action, reason: Some("agreed".to_owned()) });
    b.happens(carry(OpenAction::Closed));
    assert_eq!(judged(&b).gate.state, GateState::Hold, "it cannot be closed");
    b.happens(carry(OpenAction::Carried));
    assert_eq!(judged(&b).gate.state, GateState::Clear);
    let tight = whole::plan_text(Way::Angles);
    let mut back = Build::clear(Way::Angles, 3);
    let loose = tight.replace("station = 0.3", "station = 0.4");
    back.happens(What::Replanned { plan: loose, reason: "maker".to_owned() });
    back.happens(What::Replanned { plan: tight, reason: "taken back".to_owned() });
    assert_eq!(judged(&back).gate.state, GateState::Clear, "taken back, it is not open");
}

/// The decision stays as it was once a stage after the closing one has begun.
#[test]
fn the_decision_freezes() {
    let mut b = Build::clear(Way::Angles, 3);
    let text = whole::plan_text(Way::Angles).replace("name = \"close\"", "name = \"close\"\ncloses = true")
        + "[[stage]]\nname = \"painted\"\ndisturbs = [\"incidence@*\"]\n";
    b.plan = record::Plan::parse(&text).unwrap();
    assert_eq!(judged(&b).gate.state, GateState::Clear);
    b.stage("painted");
    let a = judged(&b);
    assert_eq!(a.gate.state, GateState::Clear, "{:#?}", a.gate.reasons);
    assert!(a.doubts.iter().any(|d| d.words.contains("since the decision")));
    let seq = b.entries.iter().find(|e| matches!(e.what, What::Reading(_))).unwrap().seq;
    b.happens(What::Withdrawn { seq, reason: "later".to_owned() });
    assert_eq!(judged(&b).gate.state, GateState::Clear);
}

/// A plan that is replaced after the decision does not change the decision: it was made under the plan then in force.
#[test]
fn a_later_plan_does_not_reopen_the_decision() {
    let mut b = Build::clear(Way::Angles, 3);
    let text = whole::plan_text(Way::Angles).replace("name = \"close\"", "name = \"close\"\ncloses = true")
        + "[[stage]]\nname = \"painted\"\ndisturbs = [\"incidence@*\"]\n";
    b.plan = record::Plan::parse(&text).unwrap();
    b.entries[0].what = What::Started { plan: text.clone(), program: "test".to_owned() };
    b.stage("painted");
    let decided = judged(&b).decision.unwrap();
    assert_eq!((decided.stage.as_str(), decided.before.as_str()), ("close", "painted"));
    assert_eq!(decided.on.entry + 1, b.entries.last().unwrap().seq);
    for later in [
        text.replace("station = 0.3", "station = 0.0001"),
        text.replace("closes = true\n", ""),
        text.replace("straightness = 1.5\n", ""),
    ] {
        b.plan = record::Plan::parse(&later).unwrap();
        b.happens(What::Replanned { plan: later, reason: "the maker's next issue".to_owned() });
        let a = judged(&b);
        assert_eq!(a.gate.state, GateState::Clear, "{:#?}", a.gate.reasons);
        assert_eq!(a.decision.as_ref(), Some(&decided));
    }
}

/// Three torques of one bolt: the last counts, without a mean.
#[test]
fn the_last_torque_counts() {
    let point: Point = "spot@bolt".parse().unwrap();
    let with = |values: &[f64]| {
        let mut b = Build::clear(Way::Angles, 3);
        for value in values {
            let r = b.reading(&point, *value, None);
            b.happens(What::Reading(r));
        }
        let a = judged(&b);
        let bolt = a.points.iter().find(|p| p.point == point).unwrap().clone();
        (bolt.value.unwrap(), bolt.verdict.unwrap(), a.gate.state)
    };
    assert_eq!(with(&[5.0, 2.0, 15.0]), (15.0, assess::Verdict::Outside, GateState::Hold));
    assert_eq!(with(&[15.0, 9.5]), (9.5, assess::Verdict::Within, GateState::Clear));
}
