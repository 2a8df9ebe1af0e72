//! What the order of entries decides: what a stage had when it was left, what an instrument was found to be before and after, which
//! stage a thing rests on.

use crate::whole::{Build, Way, checked, plan_text};
use crate::wing::shows;
use assess::view::{ObligationKind as K, Verdict as S};
use assess::{Assessment, Chain, assess};
use numerics::rng::Rng;
use record::{Facing, GateState, Instrument, OpenAction, OpenItem, Plan, StageBegun, What};

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

/// Nothing holds but that instrument.
#[track_caller]
fn only_holds(b: &Build, instrument: &str) {
    let unmet = judged(b).gate.obligations.into_iter().filter(|o| o.state != S::Within);
    let unmet: Vec<_> = unmet.map(|o| (o.kind, o.about)).collect();
    assert_eq!(unmet, [(K::Instrument, instrument.to_owned())]);
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

/// Reads everything that closing requires again; what the level would read is read with another instrument.
fn read_again_with(b: &mut Build, other: Instrument) {
    let name = other.name.clone();
    b.happens(What::Instrument(other));
    b.round += 1;
    let from = b.entries.len();
    b.measure("close", &mut Rng::new(5));
    for entry in &mut b.entries[from..] {
        if let What::Reading(r) = &mut entry.what
            && r.instrument.as_deref() == Some("level")
        {
            r.instrument = Some(name.clone());
        }
    }
}

fn level(b: &Build, name: &str, number: Option<&str>, accuracy: f64) -> Instrument {
    let level = b.plan.instruments.iter().find(|i| i.name == "level").unwrap();
    Instrument {
        name: name.to_owned(),
        number: number.map(str::to_owned),
        accuracy: Some(accuracy),
        ..level.clone()
    }
}

/// A level that failed its check is entered a second time under another name. Its number says that it is the same level, so its
/// check counts, whatever it is called; a smaller error claimed with the new name holds as it does with the old one.
#[test]
fn another_name_makes_no_other_instrument() {
    let read_with = |number: Option<&str>, accuracy: f64, failed: bool| {
        let mut b = Build::clear(Way::Angles, 3);
        let numbered = level(&b, "level", Some("1973"), 0.02);
        *b.plan.instruments.iter_mut().find(|i| i.name == "level").unwrap() = numbered;
        if failed {
            b.happens(checked(false));
        }
        let other = level(&b, "the new level", number, accuracy);
        read_again_with(&mut b, other);
        b
    };
    for other in [None, Some("2001")] {
        only_holds(&read_with(other, 0.02, true), "level");
        clear(&read_with(other, 0.01, false), "another level, a better one");
    }
    let same = Some("1973");
    clear(&read_with(same, 0.02, false), "the same level, in order");
    let a =
        holds(&read_with(same, 0.02, true), "the same level", "the number of level, which failed its check");
    let it =
        a.gate.obligations.iter().find(|o| o.kind == K::Instrument && o.about == "the new level").unwrap();
    assert_eq!(it.state, S::Doubtful, "{}", it.words);
    holds(&read_with(same, 0.01, false), "said to be better", "instrument.level.accuracy 0.02 -> 0.01");
}

/// A level that failed its check is put away and everything read again with another one. What the first one read neither narrows
/// the uncertainty, nor contradicts the second: the same values follow as if it had been withdrawn. Only the level itself is left to be mended.
#[test]
fn what_a_failed_level_read_counts_for_nothing_beside_another() {
    for off in [0.0, 1.0] {
        let mut b = Build::clear(Way::Angles, 3);
        let bent = "incidence@S3".parse().unwrap();
        for entry in &mut b.entries {
            if let What::Reading(r) = &mut entry.what
                && r.point == bent
            {
                shows(r, r.value + off * r.facing.map_or(1.0, Facing::sign));
            }
        }
        let failed = b.happens(checked(false));
        let other = level(&b, "the new level", Some("2001"), 0.02);
        read_again_with(&mut b, other);
        only_holds(&b, "level");
        let settles = judged(&b).gate.reasons[0].settles.clone().unwrap();
        assert!(settles.contains("or withdraw all that it read"), "{settles}");
        let shown = |b: &Build| serde_json::to_value(judged(b).twist.unwrap().stations).unwrap();
        let before = shown(&b);
        let mut withdrawn = b.clone();
        for seq in
            b.entries.iter().filter(|e| e.seq < failed && matches!(e.what, What::Reading(_))).map(|e| e.seq)
        {
            withdrawn.happens(What::Withdrawn { seq, reason: "the level had failed".to_owned() });
        }
        assert_eq!(before, shown(&withdrawn), "{off}");
        let owed = judged(&withdrawn).gate.obligations;
        assert!(!owed.iter().any(|o| o.kind == K::Instrument && o.about == "level"));
    }
}

/// A third reading settles what two readings of one gauge contradict. Between two gauges it settles nothing: the one in use does
/// not become right by repeating itself. Withdrawing the other one's reading does.
#[test]
fn a_gauge_does_not_outvote_another_by_repeating_itself() {
    for (point, off) in [("bore@B2", 0.3), ("spacing@S3", 1.5), ("diagonal@D1", 0.8), ("spot@gap", 0.4)] {
        for other in ["gauge", "another gauge"] {
            let mut b = Build::clear(Way::Angles, 3);
            let point = point.parse().unwrap();
            let good = b.readings(&point, &mut Rng::new(5)).remove(0);
            let mut read = |value: f64, instrument: &str| {
                b.round += 1;
                let instrument = Some(instrument.to_owned());
                let text = value.to_string();
                let reading = record::Reading { value, text, round: b.round, instrument, ..good.clone() };
                b.happens(What::Reading(reading))
            };
            let wrong = read(good.value + off, other);
            read(good.value, "gauge");
            read(good.value, "gauge");
            let gauge = b.plan.instruments.iter().find(|i| i.name == "gauge").cloned().unwrap();
            b.plan.instruments.push(Instrument { name: "another gauge".to_owned(), ..gauge });
            if other == "gauge" {
                clear(&b, "the third reading of one gauge");
                continue;
            }
            holds(&b, &point.to_string(), "contradict each other");
            b.happens(What::Withdrawn { seq: wrong, reason: "misread".to_owned() });
            clear(&b, "withdrawn");
        }
    }
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
                shows(r, r.value + 0.8 * r.facing.map_or(1.0, Facing::sign));
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
