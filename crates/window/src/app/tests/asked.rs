//! A question is answered only by a button that could be read; a value that was left is not recorded.

use super::played::Played;
use bench::Live;
use eframe::egui::{Event, Key, Modifiers};
use record::{Facing, What};
use stories::jig::LEVEL;
use stories::jig::post::PLAN;
use window::Screen;

#[test]
fn a_questioned_value_is_recorded_by_no_second_tap_and_no_enter_and_can_be_left() {
    let mut p = Played::new(PLAN, "jig empty");
    p.holds(700);
    p.taps_twice("Take");
    p.t.says("Is it so?");
    assert_eq!(p.readings(), 0, "the second tap answered");
    for _ in 0..3 {
        p.presses(Key::Enter);
        p.presses(Key::Space);
    }
    assert_eq!(p.readings(), 0, "Enter alone answered");
    p.t.looks();
    p.t.taps("No: look again");
    assert_eq!(p.readings(), 0);
    // A value that was left can still be taken, and then it is meant.
    p.t.taps("Take");
    p.t.says("Is it so?");
    p.t.taps("Yes: record it");
    assert_eq!(p.readings(), 1, "{}", p.t.said());
    // The window never names a key of the terminal.
    assert!(!p.t.said().contains('!'), "{}", p.t.said());
}

#[test]
fn a_value_that_does_not_agree_can_be_left_and_no_terminal_key_is_named() {
    let mut p = Played::new(PLAN, "jig empty");
    p.t.w.state_mut().face.choose("cross@tip-post".parse().unwrap());
    p.holds(10);
    p.t.taps("Take");
    assert_eq!(p.readings(), 1);
    p.holds(60);
    p.t.w.state_mut().face.choose("cross@tip-post".parse().unwrap());
    p.t.taps("Face forward");
    p.taps_twice("Take");
    p.t.says("Was something moved?");
    assert_eq!(p.readings(), 1);
    let said = p.t.said();
    assert!(!said.contains("[Y/n") && !said.contains("m record") && !said.contains("n no"), "{said}");
    p.t.looks();
    p.t.taps("Leave it: look again");
    assert_eq!(p.readings(), 1, "what was left is recorded");
    assert!(p.t.log().live.question.is_none());
    assert!(p.t.is_on("Take"), "{}", p.t.said());
}

/// A pedal that is held down, or a key, takes one reading.
#[test]
fn a_key_that_is_held_down_takes_once() {
    let mut p = Played::new(PLAN, "jig empty");
    p.t.w.state_mut().face.choose("cross@tip-post".parse().unwrap());
    let space = || Event::Key {
        key: Key::Space,
        physical_key: None,
        pressed: true,
        repeat: false,
        modifiers: Modifiers::NONE,
    };
    for hundredths in [10, -10, 12, -12] {
        p.holds(hundredths);
        assert!(matches!(p.t.log().live.live, Live::Settled { .. }), "{:?}", p.t.log().live.live);
        for _ in 0..3 {
            p.t.w.event(space());
            p.t.w.step();
        }
        p.t.looks();
    }
    assert_eq!(p.readings(), 1);
}

/// A reading is written with the facing that Level shows, also between the start and the end of a move.
#[test]
fn a_reading_taken_in_the_middle_of_a_move_turns_nothing() {
    let mut p = Played::new(PLAN, "jig empty");
    p.t.w.state_mut().face.go(Screen::Level);
    p.t.w.state_mut().face.choose("cross@tip-post".parse().unwrap());
    p.t.looks();
    p.holds(60);
    p.t.taps("Take");
    p.holds(-40);
    p.t.taps("Take");
    assert_eq!(p.readings(), 2, "{}", p.t.said());
    p.holds(-55);
    // Enter starts a move as a tap does: one hand is on the screw.
    p.presses(Key::Enter);
    assert!(p.t.log().live.level.as_ref().unwrap().under_way(), "{}", p.t.said());
    p.t.says("nothing turned yet");
    // Knocked and back again: nothing was turned, and the value can be taken.
    p.sends(40, |n| 500 + i64::from(n) * 7);
    p.holds(-55);
    p.t.taps("Take");
    p.t.taps("Nothing was moved: a new round");
    assert_eq!(p.readings(), 3, "{}", p.t.said());
    let level = p.t.log().live.level.clone().unwrap();
    assert!(level.under_way(), "{}", p.t.said());
    p.t.says(&format!("facing {}", level.facing.word()));
    assert_eq!(
        p.t.w.state().face.facing(),
        level.facing,
        "the window turned the level and the bench did not"
    );
    // Nor is the next tilt begun without a word.
    assert!(!p.t.is_on("Next tilt"));
    p.presses(Key::ArrowRight);
    assert!(p.t.log().live.level.as_ref().unwrap().under_way(), "{}", p.t.said());
    p.t.says("limit ±0.1°");
}

/// A rest taken along the span says nothing about the tilt fore and aft: the level must be laid anew first.
#[test]
fn a_rest_taken_for_another_tilt_gives_no_advice() {
    let mut p = Played::new(PLAN, "jig empty");
    for (point, tilt) in [("cross@tip-post", "fore and aft"), ("level@tip-post", "along the span")] {
        p.t.w.state_mut().face.choose(point.parse().unwrap());
        p.t.looks();
        // One post, two tilts: the screen says which one is taken.
        assert!(p.t.labels().iter().any(|l| l == tilt), "{tilt}: {}", p.t.said());
        // Along the span the level's arrow points outboard, not forward.
        let faced = if tilt == "along the span" { "facing outboard" } else { "facing forward" };
        assert!(p.t.said().contains(faced), "{tilt}: {}", p.t.said());
    }
    for hundredths in [60, -44] {
        p.holds(hundredths);
        p.t.taps("Take");
    }
    assert_eq!(p.readings(), 2, "{}", p.t.said());
    p.t.taps("Level");
    p.holds(-44);
    p.t.says("Lay it fore and aft");
    assert!(p.t.log().live.level.as_ref().unwrap().turn.is_none(), "{}", p.t.said());
    assert!(!p.t.is_on("Take") && !p.t.is_on("Start a move"), "{}", p.t.said());
    // If the level was turned end for end only in the program, it is still the old rest.
    p.t.taps("Face forward");
    p.t.says("Lay it fore and aft");
    p.holds(30);
    assert!(p.t.is_on("Take"), "{}", p.t.said());
    assert!(p.t.log().live.level.as_ref().unwrap().turn.is_some(), "{}", p.t.said());
    // The next tilt is along the span again: the level must be laid anew before its rest counts for it.
    p.t.taps("Next tilt");
    p.t.says("Lay it along the span");
    assert!(p.t.log().live.level.as_ref().unwrap().turn.is_none(), "{}", p.t.said());
}

/// Hands free takes what is shown, where it is shown, at the point shown; and nothing elsewhere.
#[test]
fn hands_free_takes_only_at_the_point_shown() {
    let mut p = Played::new(PLAN, "jig empty");
    p.holds(7);
    p.t.taps("More");
    p.t.taps("Hands free");
    p.holds(-8);
    for screen in [Screen::Gate, Screen::Profile, Screen::History] {
        p.t.w.state_mut().face.go(screen);
        p.t.looks();
        p.holds(6);
        p.holds(-8);
    }
    assert_eq!(p.readings(), 0, "{:?}", p.t.log().entries.last());
    // A value that is there already is not taken just because the screen is shown.
    p.t.taps("Measure");
    p.holds(-8);
    assert_eq!(p.readings(), 0, "{:?}", p.t.log().entries.last());
    // The second point of the plan, facing aft: not what the bench would begin with.
    p.t.w.state_mut().face.choose("cross@tip-post".parse().unwrap());
    p.t.looks();
    p.t.taps("Face aft");
    for (hundredths, facing) in [(-5, Facing::Aft), (7, Facing::Forward)] {
        p.t.says(&format!("facing {}", facing.word()));
        p.sends(20, |n| 500 + i64::from(n) * 7);
        p.holds(hundredths);
        let last = p.t.log().entries.last().unwrap().clone();
        let What::Reading(r) = &last.what else { panic!("{last:?}\n{}", p.t.said()) };
        assert_eq!((r.point.to_string().as_str(), r.facing), ("cross@tip-post", Some(facing)));
        p.t.looks();
        p.t.looks();
    }
    assert_eq!(p.readings(), 2);
    // On to the next point that is wanted, as by a tap.
    assert_eq!(p.t.w.state().face.point().unwrap().to_string(), "level@tip-post");
    // With a page over it, what lies behind is not taken.
    p.t.taps("Type it");
    p.sends(20, |n| 500 + i64::from(n) * 7);
    p.holds(9);
    assert_eq!(p.readings(), 2);
}

/// An instrument with a button: a new press drops the question about the last value.
#[test]
fn hands_free_goes_on_after_a_press_that_was_questioned() {
    let mut p = Played::with(PLAN, "jig empty", &LEVEL.replace("hold_ms = 1000", "hold_ms = 0"));
    p.t.taps("More");
    p.t.taps("Hands free");
    p.t.taps("Measure");
    p.sends(1, |_| 700);
    p.t.looks();
    p.t.says("Is it so?");
    assert_eq!(p.readings(), 0);
    p.sends(1, |_| 5);
    p.t.looks();
    assert_eq!(p.readings(), 1, "{}", p.t.said());
    assert!(!p.t.said().contains("Is it so?"), "{}", p.t.said());
}
