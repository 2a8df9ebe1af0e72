//! What the order of entries decides: what a stage had when it was left, what an instrument was found to be before and after, which
//! stage a thing rests on.

use crate::whole::{Build, Way, checked, plan_text};
use assess::view::{ObligationKind as K, Verdict as S};
use assess::{Assessment, Chain, assess};
use numerics::rng::Rng;
use record::{Facing, GateState, OpenAction, OpenItem, Plan, StageBegun, What};

fn judged(b: &Build) -> Assessment {
    assess(&b.plan, &b.entries, &Chain::Whole)
}

#[track_caller]
fn holds(b: &Build, how: &str, says: &str) -> Assessment {
    let a = judged(b);
    assert_eq!(a.gate.state, GateState::Hold, "{how}");
    assert!(a.gate.reasons.iter().any(|r| r.words.contains(says)), "{how}: {:#?}", a.gate.reasons);
    a
}

#[track_caller]
fn clear(b: &Build, how: &str) {
    let a = judged(b);
    assert_eq!(a.gate.state, GateState::Clear, "{how}: {:#?}", a.gate.reasons);
}

fn started(text: &str) -> Build {
    let mut b = Build::new(Way::Angles);
    b.plan = Plan::parse(text).unwrap();
    b.entries.clear();
    b.happens(What::Started { plan: text.to_owned(), program: "test".to_owned() });
    b
}

fn no_brace(b: &mut Build) {
    let closed = OpenItem { item: "brace".to_owned(), action: OpenAction::Closed, reason: None };
    b.happens(What::OpenItem(closed));
}

/// What a stage requires is read before the next one begins; read later it discharges only a stage that was left on purpose.
#[test]
fn a_point_read_after_its_stage_was_left_holds() {
    for (reason, wanted) in [(None, GateState::Hold), (Some("no light".to_owned()), GateState::Clear)] {
        let mut b = Build::new(Way::Angles);
        let mut rng = Rng::new(3);
        b.stage("jig");
        let late = "cross@root-post".parse().unwrap();
        for point in b.plan.stage("jig").unwrap().requires.clone() {
            for reading in b.readings(&point, &mut rng) {
                if point != late {
                    b.happens(What::Reading(reading));
                }
            }
        }
        no_brace(&mut b);
        b.round += 1;
        b.happens(What::Stage(StageBegun { reason, ..StageBegun::new("close") }));
        b.measure("close", &mut rng);
        let a = judged(&b);
        assert_eq!(a.gate.state, wanted, "{:#?}", a.gate.reasons);
        if wanted == GateState::Hold {
            let jig = a.gate.obligations.iter().find(|o| o.kind == K::Stage && o.about == "jig").unwrap();
            assert_eq!(jig.state, S::Missing);
            assert!(jig.words.contains("cross@root-post"), "{}", jig.words);
        }
    }
}

/// A reading proves nothing while the last check before it failed, or the next one after it.
#[test]
fn a_reading_between_a_failed_check_and_a_passed_one_holds() {
    let mut b = Build::clear(Way::Angles, 3);
    b.happens(checked(false));
    b.stage("close");
    b.measure("close", &mut Rng::new(5));
    holds(&b, "read after a failed check", "level failed its check");
    b.happens(checked(true));
    holds(&b, "mended afterwards", "level failed its check");
    b.stage("close");
    b.measure("close", &mut Rng::new(6));
    clear(&b, "read after it was mended");
    b.happens(checked(false));
    holds(&b, "failed again", "level failed its check");
}

/// Of all steps the worst is the one that counts.
#[test]
fn one_step_too_large_holds() {
    let only = plan_text(Way::Angles).replace("setting = 0.5\nwashout = 0.3\nstation = 0.3\n", "");
    for station in 1..=8 {
        let mut b = started(&only);
        let mut rng = Rng::new(9);
        b.stage("jig");
        b.measure("jig", &mut rng);
        no_brace(&mut b);
        b.stage("close");
        b.measure("close", &mut rng);
        clear(&b, "before");
        let bent = format!("incidence@S{station}").parse().unwrap();
        for entry in &mut b.entries {
            if let What::Reading(r) = &mut entry.what
                && r.point == bent
            {
                r.value += 0.8 * r.facing.map_or(1.0, Facing::sign);
            }
        }
        let a = holds(&b, "a rib that is bent", "");
        let steps = a.gate.obligations.iter().find(|o| o.kind == K::Neighbour).unwrap();
        assert_ne!(steps.state, S::Within, "S{station}: {}", steps.words);
    }
}

/// A station read as an angle first and by its spars in the closing stage rests on the spars alone; what was before may be stale.
#[test]
fn a_thing_rests_on_what_the_last_stage_requires_of_it() {
    let text = plan_text(Way::Heights)
        .replace(
            "requires = [\"level@*\", \"cross@*\"]",
            "requires = [\"level@*\", \"cross@*\", \"incidence@*\"]",
        )
        .replace("name = \"close\"\n", "name = \"close\"\ndisturbs = [\"incidence@*\"]\n");
    let mut b = started(&text);
    let mut rng = Rng::new(2);
    b.stage("jig");
    b.measure("jig", &mut rng);
    no_brace(&mut b);
    b.stage("close");
    b.measure("close", &mut rng);
    clear(&b, "angles of the stage before are stale, and nothing rests on them");
    let heights =
        |e: &record::Entry| matches!(&e.what, What::Reading(r) if r.point.to_string() == "height@rear:S4");
    let seq = b.entries.iter().find(|e| heights(e)).unwrap().seq;
    b.happens(What::Withdrawn { seq, reason: "misread".to_owned() });
    holds(&b, "a height is missing", "not measured");
}

/// An instrument that states no accuracy can be off by anything: what counts as it showed it proves nothing, and what counts by
/// its difference from others is as good as it was.
#[test]
fn what_an_instrument_of_no_stated_accuracy_showed_is_doubtful() {
    let accuracy = |kind: &str| {
        let aileron = "name = \"left aileron\"\n";
        let text = plan_text(Way::Angles).replace(aileron, &format!("{aileron}neutral = 0.5\n"));
        let at = text.find(&format!("kind = \"{kind}\"")).unwrap();
        let (before, after) = text.split_at(at);
        let line = after.lines().find(|l| l.starts_with("accuracy")).unwrap().to_owned() + "\n";
        before.to_owned() + &after.replacen(&line, "", 1)
    };
    for (kind, doubtful, met) in [
        ("caliper", vec!["S2", "gap", "tube", "distance of tail-left"], vec!["front", "bay"]),
        ("torque-wrench", vec!["bolt", "torque of spar bolt"], vec![]),
        ("tensiometer", vec!["tension of rudder left"], vec![]),
        ("inclinometer", vec!["neutral of left aileron"], vec!["S4", "root-post"]),
    ] {
        let mut b = started(&accuracy(kind));
        let mut rng = Rng::new(7);
        b.stage("jig");
        b.measure("jig", &mut rng);
        no_brace(&mut b);
        b.stage("close");
        b.measure("close", &mut rng);
        let a = holds(&b, kind, "states no accuracy");
        let of = |state: S| -> Vec<&str> {
            let judged = a.gate.obligations.iter().filter(|o| o.kind != K::Instrument && o.state == state);
            judged.map(|o| o.about.as_str()).collect()
        };
        for about in doubtful {
            assert!(of(S::Doubtful).contains(&about), "{kind}: {about} is not in {:?}", of(S::Doubtful));
        }
        for about in met {
            assert!(of(S::Within).contains(&about), "{kind}: {about} is not in {:?}", of(S::Within));
        }
    }
}
