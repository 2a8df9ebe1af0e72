//! Stories at 800x480: every event is sent to a place found by its accessible name, or by a key.

use crate::common::hand::{
    self, ctrl, entries, field, is_on, press, readings, says, small, tap, tap_text, types,
};
use crate::common::{Bench, live, states};
use bench::Live;
use egui::Key;
use egui_kittest::kittest::NodeT as _;
use record::{Facing, What};
use window::model::Person;
use window::{Action, Screen};

fn walking() -> Bench {
    Bench::case("two-post", |s| s.action == "take" && s.what.starts_with("incidence@S7"))
}

fn at(w: &mut hand::Window, point: &str) {
    w.state_mut().face.choose(point.parse().unwrap());
    w.run_steps(2);
}

#[test]
fn letters_find_points_and_space_does_nothing_unless_a_settled_value_is_shown() {
    let mut w = small(walking());
    for screen in Screen::ALL.into_iter().filter(|s| !matches!(s, Screen::Start | Screen::Setup)) {
        for state in [live::moving(0.1), live::settled(0.1)] {
            w.state_mut().live(state.clone());
            w.state_mut().face.go(screen);
            w.run_steps(2);
            let before = entries(&w);
            for c in 'a'..='z' {
                types(&mut w, &c.to_string());
                press(&mut w, Key::Escape);
                if screen == Screen::Level {
                    w.state_mut().face.go(screen);
                    w.run_steps(1);
                }
            }
            press(&mut w, Key::Backspace);
            if !matches!((screen, &state), (Screen::Measure | Screen::Level, Live::Settled { .. })) {
                press(&mut w, Key::Space);
            }
            assert_eq!(entries(&w), before, "on {screen:?} with {state:?}");
        }
    }
    // On the start screen too, and with a button in focus.
    let mut w = small(Bench::at_start());
    press(&mut w, Key::Tab);
    types(&mut w, "qwertzuiop ");
    press(&mut w, Key::Space);
    assert!(
        w.state().asked.iter().all(|a| matches!(a, Action::ListFolder { .. } | Action::DismissNotice)),
        "{:?}",
        w.state().asked
    );
}

#[test]
fn a_pair_is_taken_with_the_foot_switch_and_the_facing_is_kept_for_the_next_station() {
    let mut w = small(walking());
    w.state_mut().settled(0.71);
    at(&mut w, "incidence@S7");
    assert_eq!(w.state().face.facing(), Facing::Forward);
    press(&mut w, Key::Space);
    assert_eq!(readings(&w).last().unwrap(), &("incidence@S7".to_owned(), 0.71, Some(Facing::Forward)));
    says(&w, "Turn it end for end");
    assert!(w.state().asked.contains(&Action::Tone), "no tone was asked for");
    assert_eq!(w.state().face.facing(), Facing::Aft);
    // The same rest gives no second reading: the bench says it was taken.
    w.state_mut().live(live::taken(0.71));
    let before = entries(&w);
    press(&mut w, Key::Space);
    press(&mut w, Key::Enter);
    assert_eq!(entries(&w), before);
    w.state_mut().settled(-0.47);
    w.run_steps(2);
    tap(&mut w, "Take");
    assert_eq!(readings(&w).last().unwrap(), &("incidence@S7".to_owned(), -0.47, Some(Facing::Aft)));
    assert_eq!(w.state().face.point().unwrap().to_string(), "incidence@S8");
    says(&w, "Next S8, still aft");
    // What was taken is shown at the point to which it was written.
    says(&w, "S7 facing aft");
}

#[test]
fn take_is_off_while_it_moves_without_a_signal_and_for_another_instrument() {
    let mut w = small(walking());
    at(&mut w, "incidence@S7");
    let states = [
        Live::None,
        Live::Waiting { fault: None },
        live::moving(0.1),
        live::settling(0.1, 0.9),
        live::taken(0.1),
        live::lost(3, 0.1),
        live::wrong(),
    ];
    let before = entries(&w);
    for state in states {
        w.state_mut().live(state.clone());
        w.run_steps(2);
        assert!(!is_on(&w, "Take"), "{state:?}");
        press(&mut w, Key::Space);
        let lost =
            matches!(state, Live::None | Live::Waiting { .. } | Live::Lost { .. } | Live::Wrong { .. });
        let figures = hand::said(&w).lines().any(|l| l.starts_with("0.10°"));
        assert!(!(lost && figures), "a figure of full size in {state:?}");
    }
    // A calliper where a level is wanted.
    w.state_mut().settled(0.1);
    w.state_mut().model.wing.as_mut().unwrap().live.instrument.as_mut().unwrap().kind =
        quantity::Kind::Length;
    w.run_steps(2);
    assert!(!is_on(&w, "Take"));
    press(&mut w, Key::Space);
    assert_eq!(entries(&w), before);
}

#[test]
fn a_digit_opens_the_keypad_and_a_wrong_number_is_reported() {
    let mut w = small(walking());
    at(&mut w, "incidence@S7");
    types(&mut w, "0.7x");
    press(&mut w, Key::Enter);
    says(&w, "typed: 0.7x");
    let before = entries(&w);
    press(&mut w, Key::Backspace);
    press(&mut w, Key::Enter);
    assert_eq!(entries(&w), before + 1, "{}", hand::said(&w));
    assert_eq!(readings(&w).last().unwrap().1, 0.7);
    // Esc changes nothing.
    types(&mut w, "5");
    press(&mut w, Key::Escape);
    assert_eq!(entries(&w), before + 1);
}

#[test]
fn undo_takes_back_ones_own_last_entry_of_any_kind_with_a_reason() {
    let mut w = small(walking());
    at(&mut w, "incidence@S7");
    types(&mut w, "0.7");
    press(&mut w, Key::Enter);
    w.state_mut().face.go(Screen::Gate);
    w.run_steps(2);
    ctrl(&mut w, Key::Z);
    says(&w, "Undo S7 forward +0.7");
    assert!(!is_on(&w, "Undo it"), "without a reason");
    tap(&mut w, "wrong facing");
    tap(&mut w, "Undo it");
    let last = w.state().wing().entries.last().unwrap().clone();
    assert!(matches!(&last.what, What::Withdrawn { reason, .. } if reason == "wrong facing"), "{last:?}");
    // Somebody else's entries are not taken back.
    w.state_mut().model.who = Person { name: "Oke".to_owned(), ..Person::default() };
    w.run_steps(2);
    ctrl(&mut w, Key::Z);
    assert!(!w.state().face.asks());
}

#[test]
fn another_reason_is_typed_on_the_keyboard_of_the_screen() {
    let mut w = small(walking());
    at(&mut w, "incidence@S7");
    types(&mut w, "0.7");
    press(&mut w, Key::Enter);
    tap(&mut w, "Undo");
    tap(&mut w, "other…");
    tap(&mut w, "Undo it");
    tap_text(&mut w, "wind");
    assert_eq!(field(&w), "wind");
    tap(&mut w, "Done");
    let last = w.state().wing().entries.last().unwrap().clone();
    assert!(matches!(&last.what, What::Withdrawn { reason, .. } if reason == "wind"), "{last:?}");
}

#[test]
fn from_a_name_to_a_signature_by_touch_alone() {
    let mut bench = Bench::empty();
    bench.model.who = Person::default();
    bench.model.people.clear();
    let mut w = small(bench);
    tap(&mut w, "More");
    tap(&mut w, "At the bench");
    tap(&mut w, "Add a name");
    tap_text(&mut w, "Ruel");
    tap(&mut w, "inspector");
    tap(&mut w, "Done");
    assert_eq!(w.state().model.who.name, "Ruel");
    tap(&mut w, "Measure");
    tap(&mut w, "Begin jig empty");
    tap(&mut w, "Begin jig empty");
    assert!(w.state().wing().assessment.stage.is_some(), "{}", hand::said(&w));
    let first = w.state().face.point().unwrap().to_string();
    tap(&mut w, "Type it");
    tap_text(&mut w, "0.1");
    tap(&mut w, "Done");
    assert_eq!(readings(&w).len(), 1, "{}", hand::said(&w));
    says(&w, "Turn it end for end");
    tap(&mut w, "Type it");
    tap_text(&mut w, "0.1");
    tap(&mut w, "Done");
    assert_eq!(readings(&w).len(), 2);
    assert!(readings(&w).iter().all(|r| r.0 == first));
    tap(&mut w, "Undo");
    tap(&mut w, "it slipped");
    tap(&mut w, "Undo it");
    tap(&mut w, "Moves");
    tap(&mut w, "Other support");
    let support = hand::buttons(&w).into_iter().map(|b| b.0).find(|n| n.starts_with("Support ")).unwrap();
    tap(&mut w, &support);
    tap_text(&mut w, "1/2");
    tap(&mut w, "Done");
    let moved = w.state().wing().entries.iter().any(|e| matches!(e.what, What::Move(_)));
    assert!(moved, "{}", hand::said(&w));
    tap(&mut w, "Gate");
    tap(&mut w, "Sign");
    tap(&mut w, "Sign it");
    let last = w.state().wing().entries.last().unwrap().clone();
    assert!(
        matches!(&last.what, What::Signed(s) if s.who == "Ruel" && s.capacity == "inspector"),
        "{last:?}"
    );
}

#[test]
fn from_a_name_to_a_signature_by_keys_alone() {
    let mut w = small(Bench::empty());
    press(&mut w, Key::Enter);
    hand::reads(&mut w);
    press(&mut w, Key::Enter);
    assert!(w.state().wing().assessment.stage.is_some(), "{}", hand::said(&w));
    types(&mut w, "0.1");
    press(&mut w, Key::Enter);
    types(&mut w, "0.1");
    press(&mut w, Key::Enter);
    assert_eq!(readings(&w).len(), 2, "{}", hand::said(&w));
    ctrl(&mut w, Key::Z);
    press(&mut w, Key::ArrowRight);
    press(&mut w, Key::Enter);
    assert!(matches!(w.state().wing().entries.last().unwrap().what, What::Withdrawn { .. }));
    types(&mut w, "tip");
    press(&mut w, Key::Enter);
    assert_eq!(w.state().face.point().unwrap().place(), "tip-post");
    press(&mut w, Key::F5);
    assert_eq!(w.state().face.screen(), Screen::Gate);
    for _ in 0..30 {
        press(&mut w, Key::Tab);
        let focused =
            w.root().children_recursive().find(|n| n.is_focused()).and_then(|n| n.accesskit_node().label());
        if focused.as_deref() == Some("Sign") {
            break;
        }
    }
    press(&mut w, Key::Enter);
    hand::reads(&mut w);
    press(&mut w, Key::Enter);
    let last = w.state().wing().entries.last().unwrap().clone();
    assert!(matches!(&last.what, What::Signed(_)), "{last:?}: {}", hand::said(&w));
}

#[test]
fn the_marks_tiles_and_list_of_the_gate_add_up_to_the_obligations() {
    for state in
        states::all().into_iter().filter(|s| ["gate", "gate-clear", "gate-decided"].contains(&s.name))
    {
        let gate = &state.model.wing.as_ref().unwrap().assessment.gate;
        let all = gate.obligations.len();
        let mut w = small(Bench::showing(&state.model));
        (state.go)(&mut w);
        let tiles = hand::buttons(&w).into_iter().filter_map(|b| {
            let (n, word) = b.0.split_once(' ')?;
            let known = ["outside", "cannot be judged", "doubtful", "undecided", "stale", "missing", "met"];
            known.contains(&word).then(|| n.parse::<usize>().ok()).flatten()
        });
        assert_eq!(tiles.sum::<usize>(), all, "{}", state.name);
        tap(&mut w, "Board");
        let said = hand::said(&w);
        let kinds = assess::view::ObligationKind::ALL.map(assess::view::ObligationKind::plural);
        let rows = said.lines().filter_map(|l| l.split_once(": ")).filter(|(name, _)| kinds.contains(name));
        assert_eq!(rows.map(|(_, marks)| marks.split(", ").count()).sum::<usize>(), all, "{}", state.name);
    }
}

#[test]
fn a_reading_that_could_not_be_written_is_still_there() {
    let mut w = small(walking());
    at(&mut w, "incidence@S7");
    types(&mut w, "0.7");
    // The log refuses: another program holds it.
    w.state_mut().session = None;
    press(&mut w, Key::Enter);
    w.state_mut().model.notice =
        Some(window::model::Notice { wrong: true, words: "Not written: the disk is full.".to_owned() });
    w.run_steps(3);
    assert_eq!(field(&w), "0.7", "{}", hand::said(&w));
    press(&mut w, Key::Escape);
    says(&w, "Not written: the disk is full.");
}

#[test]
fn a_wing_set_up_by_touch_has_a_jig_that_can_be_levelled() {
    let mut w = small(Bench::at_start());
    tap(&mut w, "Set up a wing");
    let mut filled = 0;
    for part in ["Wing", "Stations", "Spars", "Jig"] {
        tap(&mut w, part);
        loop {
            let waiting: Vec<String> = hand::buttons(&w)
                .into_iter()
                .filter(|b| b.1.left() < 700.0 && b.1.top() > 130.0 && b.1.bottom() < 400.0)
                .map(|b| b.0)
                .collect();
            for name in waiting {
                let number = match name.as_str() {
                    "Name of the wing" => {
                        tap(&mut w, &name);
                        tap_text(&mut w, "Test");
                        tap(&mut w, "Done");
                        filled += 1;
                        continue;
                    }
                    n if n.starts_with("S1 span") => "0",
                    n if n.contains("span") => "2000",
                    n if n.contains("chord") => "1000",
                    n if n.contains("incidence") => "2",
                    n if n.contains("aft at") => "250",
                    n if n.contains("feet") => "300",
                    n if n.contains("turn of a screw") => "1.5",
                    n if n.contains("Travel") => "20",
                    _ => continue,
                };
                tap(&mut w, &name);
                tap_text(&mut w, number);
                tap(&mut w, "Done");
                filled += 1;
            }
            if !is_on(&w, "Down") {
                break;
            }
            tap(&mut w, "Down");
        }
    }
    assert!(filled > 12, "{filled} fields");
    tap(&mut w, "Begin the log");
    let made = w.state().asked.iter().find_map(|a| match a {
        Action::NewLog { plan, .. } => Some(plan.clone()),
        _ => None,
    });
    let plan = record::Plan::parse(&made.unwrap()).unwrap();
    let post = plan.posts.first().unwrap();
    let exact = |deg| Some(assess::advice::TiltU { deg, u_deg: 0.0 });
    let lean = assess::advice::Lean { along: exact(0.4), across: exact(-0.3), made: vec![] };
    let advice = assess::advice::level_feet(post, &lean, quantity::Units::INSIDE);
    assert!(advice.reasons.is_empty(), "{:?}", advice.reasons);
    assert!(advice.level_left_deg.abs() < 0.05 && advice.cross_left_deg.abs() < 0.05);
}

/// A log and its copy have the wing's name in common: each is a row of its own.
#[test]
fn two_logs_of_one_wing_are_two_rows() {
    let mut bench = Bench::at_start();
    bench.model.recent = ["left", "copy"]
        .map(|file| window::model::LogRow {
            path: format!("/wings/{file}.jigtrue"),
            file: file.to_owned(),
            wing: "Bench piece".to_owned(),
            ..Default::default()
        })
        .to_vec();
    let w = hand::small(bench);
    let rows: Vec<String> =
        hand::buttons(&w).into_iter().map(|b| b.0).filter(|name| name.starts_with("Wing ")).collect();
    assert_eq!(rows, ["Wing Bench piece, left", "Wing Bench piece, copy"]);
}
