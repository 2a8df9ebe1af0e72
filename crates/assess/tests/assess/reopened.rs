//! The decision to close: what opens the question again, and what is said to whoever signs for it later.

use crate::whole::{Build, Way, checked, plan_text};
use assess::view::Verdict;
use assess::{Assessment, Chain, assess};
use numerics::rng::Rng;
use record::{GateState, OpenAction, OpenItem, Plan, StageBegun, What};

fn judged(b: &Build) -> Assessment {
    assess(&b.plan, &b.entries, &Chain::Whole)
}

/// A wing that was closed: two stages come after.
fn closed() -> Build {
    let mut b = Build::clear(Way::Angles, 3);
    let text = plan_text(Way::Angles).replace("name = \"close\"", "name = \"close\"\ncloses = true")
        + "[[stage]]\nname = \"painted\"\n[[stage]]\nname = \"hung\"\n";
    b.plan = Plan::parse(&text).unwrap();
    b.entries[0].what = What::Started { plan: text, program: "test".to_owned() };
    b.stage("painted");
    assert_eq!(judged(&b).gate.state, GateState::Clear);
    assert!(judged(&b).decision.is_some());
    b
}

fn back_to(b: &mut Build, name: &str) -> u64 {
    b.round += 1;
    let reason = Some("a skin was taken off".to_owned());
    b.happens(What::Stage(StageBegun { reason, ..StageBegun::new(name) }))
}

/// Whatever stage up to the closing one the build goes back to, the decision of before is no answer any more: the wing is open. It is
/// decided anew when a stage after the closing one begins again.
#[test]
fn the_question_is_open_again_where_the_build_goes_back() {
    for stage in ["jig", "close"] {
        let mut b = closed();
        let seq = back_to(&mut b, stage);
        let rework =
            record::Rework { points: vec!["incidence@S4".parse().unwrap()], what: "bent".to_owned() };
        b.happens(What::Rework(rework));
        let a = judged(&b);
        assert_eq!(a.gate.state, GateState::Hold, "back at {stage}");
        assert!(a.decision.is_none() && a.after.is_none(), "back at {stage}");
        let s4 = a.gate.obligations.iter().find(|o| o.kind.word() == "station" && o.about == "S4").unwrap();
        assert_eq!(s4.state, Verdict::Stale, "back at {stage}");
        let withdrawn = {
            let mut b = b.clone();
            b.happens(What::Withdrawn { seq, reason: "the wrong log".to_owned() });
            judged(&b)
        };
        assert!(withdrawn.decision.is_some(), "it did not go back to {stage}");
        if stage == "jig" {
            let closed = OpenItem { item: "brace".to_owned(), action: OpenAction::Closed, reason: None };
            b.happens(What::OpenItem(closed));
            back_to(&mut b, "close");
        }
        b.round += 1;
        b.measure("close", &mut Rng::new(8));
        let a = judged(&b);
        assert_eq!((a.gate.state, a.decision.is_none()), (GateState::Clear, true), "{:#?}", a.gate.reasons);
        let last = b.entries.len() as u64;
        b.stage("painted");
        assert_eq!(judged(&b).decision.map(|d| d.on.entry), Some(last), "decided anew");
        b.stage("hung");
        assert_eq!(judged(&b).decision.map(|d| d.on.entry), Some(last), "and not by every stage after");
    }
}

/// What is found out later of what the decision rested on changes no decision, and nobody signs it as clear.
#[test]
fn what_is_found_out_later_is_told_to_whoever_signs() {
    let reading = |b: &Build| b.entries.iter().rfind(|e| matches!(e.what, What::Reading(_))).unwrap().seq;
    let b = closed();
    let seq = reading(&b);
    let told: [(&str, What, GateState); 4] = [
        ("a check that fails", checked(false), GateState::Hold),
        ("a check that passes", checked(true), GateState::Clear),
        ("a reading withdrawn", What::Withdrawn { seq, reason: "misread".to_owned() }, GateState::Hold),
        ("a remark", What::Note { text: "hung up".to_owned() }, GateState::Clear),
    ];
    for (how, what, now) in told {
        let mut b = b.clone();
        b.happens(what);
        let a = judged(&b);
        assert_eq!(a.gate.state, GateState::Clear, "{how}: the decision stays");
        assert_eq!((a.to_sign().state, a.decision.as_ref().unwrap().now), (now, now), "{how}");
        let told = a.doubts.iter().any(|d| d.words.contains("does not stand by what is known since"));
        assert_eq!(told, now == GateState::Hold, "{how}: {:#?}", a.doubts);
    }
    // What is measured in a later stage is of a later state: the stages after the closing judge it.
    let mut b = b;
    b.round += 1;
    let bent = b.reading(&"incidence@S4".parse().unwrap(), 9.0, Some(record::Facing::Forward));
    b.happens(What::Reading(bent));
    assert_eq!(judged(&b).to_sign().state, GateState::Clear);
    // Before there is a decision, the gate itself is signed for.
    let open = Build::new(Way::Angles);
    assert_eq!(judged(&open).to_sign(), &judged(&open).gate);
}
