//! What the gate shows besides the decision to close: the stages after it, and the wings from their jigs.

use crate::common::Bench;
use crate::common::hand::{self, has, is_on, press, said, says, tap, tap_text};
use egui::Key;
use record::What;
use window::{Action, Screen};

#[test]
fn the_stages_after_the_closing_are_shown_beside_the_decision_and_do_not_change_it() {
    for size in [(800.0, 480.0), (1280.0, 800.0)] {
        let mut w = hand::sized(Bench::closed(), size.0, size.1);
        w.state_mut().face.go(Screen::Gate);
        w.run_steps(3);
        says(&w, "Clear: ");
        says(&w, "decided at entry ");
        let after = w.state().wing().assessment.after.clone().unwrap();
        let met = after.count(assess::view::Verdict::Within);
        let all = after.obligations.len();
        assert!(met < all, "nothing is open after the closing");
        tap(&mut w, "Show after the closing");
        says(&w, &format!("After closing: {} of {all} not met", all - met));
        // The decision stays as it was.
        says(&w, "CLEAR");
        says(&w, "the decision to close stays as it was");
        let tiles: usize = hand::buttons(&w)
            .into_iter()
            .filter_map(|b| b.0.split_once(' ').and_then(|(n, _)| n.parse::<usize>().ok()))
            .sum();
        assert_eq!(tiles, all, "{}", said(&w));
        // Each has its evidence.
        press(&mut w, Key::Enter);
        says(&w, "Found: ");
        assert!(is_on(&w, "Measure it again"), "{}", said(&w));
        tap(&mut w, "Back");
        assert!(has(&w, "Show the closing gate"));
        tap(&mut w, "Show the closing gate");
        says(&w, "Clear: ");
        // Who signs is told what is signed: the decision, with what came after it.
        tap(&mut w, "Sign");
        says(&w, "Sign: the closing is clear");
        says(&w, &format!("after it {} of {all} not met", all - met));
        assert!(!said(&w).contains("the gate is clear"), "{}", said(&w));
    }
}

/// A decided obligation is shown as it was decided, also if the station was measured again and differs now.
#[test]
fn the_evidence_of_a_decision_stays_as_it_was_decided() {
    let mut bench = Bench::closed();
    bench.does(|s| Bench::readings(s, 3.0));
    let mut w = hand::small(bench);
    w.state_mut().face.go(Screen::Gate);
    w.run_steps(3);
    says(&w, "CLEAR");
    let names: Vec<String> = hand::buttons(&w).into_iter().map(|b| b.0).collect();
    assert!(names.iter().any(|n| n.starts_with("Evidence of ")), "{names:?}");
    for _ in 0..60 {
        let said = said(&w);
        assert!(said.contains("0 outside"), "the decision shows what came later: {said}");
        if said.contains("Evidence of twist, S3") {
            break;
        }
        press(&mut w, Key::ArrowDown);
    }
    let name =
        hand::buttons(&w).into_iter().map(|b| b.0).find(|n| n.starts_with("Evidence of twist, S3")).unwrap();
    tap(&mut w, &name);
    says(&w, "as it was when it was decided");
    // The scale would show the values of now.
    assert!(!has(&w, "scale") && !said(&w).contains("+3."), "{}", said(&w));
}

#[test]
fn a_wings_log_is_taken_up_by_touch_and_shown_with_its_evidence() {
    let mut w = hand::small(Bench::plane());
    w.state_mut().face.go(Screen::Gate);
    w.run_steps(3);
    tap(&mut w, "Show wings from their jigs");
    says(&w, "Wings from their jigs: 0 of 1 met");
    press(&mut w, Key::Enter);
    says(&w, "Its log: not taken up yet");
    says(&w, "Side: left");
    tap(&mut w, "Take up its log");
    let folder = w.state().model.folder.clone();
    w.state_mut().model.listing = Some(window::model::Listing {
        folder,
        files: vec![window::model::LogRow {
            path: "left.jigtrue".to_owned(),
            file: "left".to_owned(),
            ..Default::default()
        }],
        ..Default::default()
    });
    w.run_steps(2);
    tap(&mut w, "Open it");
    let taken =
        w.state().asked.iter().any(|a| matches!(a, Action::TakeUp { wing, .. } if wing == "left wing"));
    assert!(taken, "{:?}", w.state().asked);
    let last = w.state().wing().entries.last().unwrap().clone();
    assert!(matches!(last.what, What::Wing(_)), "{last:?}: {}", said(&w));
    let mut all = String::new();
    for _ in 0..4 {
        all.push_str(&said(&w));
        if !is_on(&w, "More lines") {
            break;
        }
        tap(&mut w, "More lines");
    }
    for told in [
        "Side: left",
        "Serial: 0042; drawing OT-20, issue C",
        "Its gate: CLEAR",
        "Signed: Ruel as inspector",
        "Its log now: ",
        "Head: entry ",
        "Taken up: #",
    ] {
        assert!(all.contains(told), "`{told}` is not said:\n{all}");
    }
    tap(&mut w, "Back");
    says(&w, "Wings from their jigs: 1 of 1 met");
    // It is the person's own entry, and can be taken back.
    hand::ctrl(&mut w, Key::Z);
    says(&w, "Undo taking up of left wing");
}

/// The twist since the jig stands in the evidence of the wing, each station with its limit.
#[test]
fn the_twist_since_the_jig_is_in_the_evidence_of_the_wing() {
    let bench = Bench::with_a_wing();
    let changes = bench.wing().assessment.wings[0].changes.clone();
    assert!(!changes.is_empty());
    let mut w = hand::small(bench);
    w.state_mut().face.go(Screen::Gate);
    w.run_steps(3);
    tap(&mut w, "Show wings from their jigs");
    // A wing has a row whether it is met or not.
    press(&mut w, Key::Enter);
    let mut all = String::new();
    for _ in 0..6 {
        all.push_str(&said(&w));
        if !is_on(&w, "More lines") {
            break;
        }
        press(&mut w, Key::PageDown);
    }
    assert!(all.contains("S3 from S1: ") && all.contains(" in the jig, "), "{all}");
    assert!(all.contains("limit "), "{all}");
}

/// Work outside the program is entered by touch, and makes stale what it affects.
#[test]
fn a_rework_is_entered_by_touch_and_can_be_taken_back() {
    let mut bench = Bench::whole("two-post");
    bench.model.who.name = "Tam".to_owned();
    let mut w = hand::small(bench);
    w.state_mut().face.choose("spot@BR3".parse().unwrap());
    w.state_mut().face.go(Screen::History);
    w.run_steps(3);
    tap(&mut w, "Reworked");
    says(&w, "What was done at BR3?");
    tap_text(&mut w, "tightened");
    tap(&mut w, "Done");
    let last = w.state().wing().entries.last().unwrap().clone();
    assert!(matches!(&last.what, What::Rework(r) if r.what == "tightened"), "{last:?}");
    w.state_mut().face.go(Screen::Gate);
    w.run_steps(3);
    says(&w, "HOLD");
    tap(&mut w, "1 stale");
    press(&mut w, Key::Enter);
    says(&w, "spot, BR3");
    hand::ctrl(&mut w, Key::Z);
    says(&w, "Undo rework, tightened");
    tap(&mut w, "read wrong");
    tap(&mut w, "Undo it");
    if hand::said(&w).contains("taken back?") {
        tap(&mut w, "Done");
    }
    w.state_mut().face.go(Screen::Gate);
    w.run_steps(3);
    says(&w, "CLEAR");
}

/// Every line of an evidence can be reached.
#[test]
fn every_entry_behind_an_obligation_can_be_reached() {
    for size in [(800.0, 480.0), (1280.0, 800.0)] {
        let mut w = hand::sized(Bench::whole("two-post"), size.0, size.1);
        w.state_mut().face.go(Screen::Gate);
        w.run_steps(3);
        let gate = w.state().wing().assessment.gate.clone();
        let most = gate.obligations.iter().max_by_key(|o| o.evidence.len()).unwrap();
        assert!(most.evidence.len() > 12, "no obligation rests on many entries");
        press(&mut w, Key::Enter);
        for _ in 0..gate.obligations.len() {
            if said(&w).contains(&most.words) {
                break;
            }
            tap(&mut w, "Next");
        }
        let mut all = String::new();
        for _ in 0..40 {
            all.push_str(&said(&w));
            all.push('\n');
            if !is_on(&w, "More lines") || all.contains("Instruments: ") {
                break;
            }
            tap(&mut w, "More lines");
        }
        for seq in &most.evidence {
            assert!(all.contains(&format!("#{seq}: ")), "entry {seq} is nowhere:\n{all}");
        }
    }
}
