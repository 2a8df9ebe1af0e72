//! Taking readings, told in the window's own words.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test stops where something is missing")]

mod common;

use assess::view::PointState;
use common::Bench;
use common::hand::{Window, choose, go, press, press_stage, readings, types, window};
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable as _;
use record::{Facing, What};
use window::{Action, Screen};

#[test]
fn a_typed_reading_is_taken_and_the_next_point_comes_up() {
    let mut w = window(Bench::empty());
    press_stage(&mut w, "jig empty");
    let first = w.state().face.point().unwrap().clone();
    assert_eq!(Some(&first), w.state().wing().assessment.wanted.first());
    types(&mut w, "0.05");
    w.get_by_label_contains("0.05");
    press(&mut w, Key::Enter);
    assert_eq!(readings(&w), vec![(first.to_string(), 0.05, Some(Facing::Forward))]);
    // The other facing of the same point is asked for; N passes it over.
    assert_eq!(w.state().face.point(), Some(&first));
    types(&mut w, "n");
    assert_ne!(w.state().face.point(), Some(&first));
}

#[test]
fn the_facing_is_turned_by_a_key_and_goes_with_the_reading() {
    let mut w = window(Bench::empty());
    press_stage(&mut w, "jig empty");
    w.get_by_label_contains("Facing forward");
    types(&mut w, "r");
    w.get_by_label_contains("Facing aft");
    types(&mut w, "-0.1");
    press(&mut w, Key::Enter);
    assert_eq!(readings(&w).first().map(|r| (r.1, r.2)), Some((-0.1, Some(Facing::Aft))));
}

#[test]
fn after_the_first_of_a_pair_the_other_facing_is_asked_for_in_large_letters() {
    let mut w = window(Bench::empty());
    press_stage(&mut w, "jig empty");
    let order: Vec<String> = w.state().wing().assessment.wanted.iter().map(ToString::to_string).collect();
    let take = |w: &mut Window, value: &str| {
        types(w, value);
        press(w, Key::Enter);
    };
    let here = |w: &Window| w.state().face.point().unwrap().to_string();
    let prompt = |w: &Window, facing: &str| {
        let words = format!("Turn it end for end: facing {facing}");
        w.query_by_label(&words).map(|n| n.rect().height())
    };
    assert_eq!(prompt(&w, "aft"), None);
    take(&mut w, "0.05");
    assert_eq!(here(&w), order[0]);
    // A twelfth of the window and more: letters that carry across the shop.
    assert!(prompt(&w, "aft").is_some_and(|high| high > 60.0), "{:?}", prompt(&w, "aft"));
    take(&mut w, "-0.05");
    assert_eq!(readings(&w)[1], (order[0].clone(), -0.05, Some(Facing::Aft)));
    // The next point begins facing forward again.
    assert_eq!(here(&w), order[1]);
    assert_eq!(prompt(&w, "aft"), None);
    w.get_by_label("Facing forward  (R)");
    // R turns it by hand, and then the pair is completed the other way about.
    types(&mut w, "r");
    take(&mut w, "0.02");
    assert_eq!(here(&w), order[1]);
    assert!(prompt(&w, "forward").is_some());
    // Passed over, the next point begins as this one did; without pairs no other facing is asked for.
    types(&mut w, "n");
    assert_eq!(here(&w), order[2]);
    w.get_by_label("Facing aft  (R)");
    w.get_by_label("Ask both ways").click();
    w.run_steps(2);
    take(&mut w, "0.03");
    assert_eq!(here(&w), order[3]);
}

#[test]
fn until_the_instrument_is_turned_its_value_is_the_one_taken_and_is_not_taken_for_the_other_facing() {
    let mut w = window(Bench::empty());
    press_stage(&mut w, "jig empty");
    let stands = |w: &mut Window, shown: f64, taken: bool| {
        w.state_mut().shows(Some(window::live::Value {
            shown,
            kind: quantity::Kind::Angle,
            resolution: 0.01,
            cross_shown: None,
            settled: 1.0,
            ready: true,
            taken,
        }));
        w.run_steps(2);
    };
    stands(&mut w, 0.35, false);
    press(&mut w, Key::Space);
    stands(&mut w, 0.35, true);
    w.get_by_label("Turn it end for end: facing aft");
    w.get_by_label_contains("lower the outboard end, settled");
    // A foot switch that bounces makes no pair.
    press(&mut w, Key::Space);
    w.get_by_label("Take  (Space)").click();
    w.run_steps(2);
    assert_eq!(readings(&w).len(), 1);
    w.get_by_label_contains("has not moved since the last reading");
    stands(&mut w, -0.31, false);
    w.get_by_label_contains("0.31°");
    press(&mut w, Key::Space);
    assert_eq!(readings(&w)[1].2, Some(Facing::Aft));
}

#[test]
fn the_temperature_of_the_part_goes_with_a_live_reading_where_it_is_given_and_only_there() {
    let mut w = window(Bench::empty());
    choose(&mut w, "level@root-post");
    let take = |w: &mut Window| {
        w.state_mut().angle(0.21, 1.0);
        w.run_steps(2);
        press(w, Key::Space);
        let asked = w.state().asked.last().cloned();
        let Some(Action::TakeLive { temperature, .. }) = asked else { panic!("{asked:?}") };
        temperature
    };
    assert_eq!(take(&mut w), None);
    w.get_by_label("part at").focus();
    w.run_steps(2);
    w.get_by_label("part at").type_text("23 °C");
    w.run_steps(2);
    press(&mut w, Key::Escape);
    assert_eq!(take(&mut w).as_deref(), Some("23 °C"));
}

#[test]
fn a_comma_is_refused_with_a_hint_and_nothing_is_taken() {
    let mut w = window(Bench::empty());
    types(&mut w, "0,35");
    w.get_by_label_contains("a comma is not taken");
    press(&mut w, Key::Enter);
    assert!(readings(&w).is_empty());
    press(&mut w, Key::Escape);
    assert!(w.query_by_label_contains("a comma is not taken").is_none());
}

#[test]
fn a_settled_value_is_taken_by_the_space_key_and_an_unsettled_one_needs_a_second_key() {
    let mut w = window(Bench::empty());
    choose(&mut w, "level@root-post");
    w.state_mut().angle(0.21, 0.4);
    w.run_steps(2);
    w.get_by_label_contains("settling");
    press(&mut w, Key::Space);
    assert!(readings(&w).is_empty());
    w.get_by_label_contains("has not settled yet");
    w.state_mut().angle(0.22, 1.0);
    w.run_steps(2);
    w.get_by_label_contains("lower the outboard end, settled");
    press(&mut w, Key::Space);
    assert_eq!(readings(&w), vec![("level@root-post".to_owned(), 0.22, Some(Facing::Forward))]);
    choose(&mut w, "level@root-post");
    w.state_mut().angle(0.3, 0.2);
    w.run_steps(2);
    w.key_press_modifiers(Modifiers::SHIFT, Key::Space);
    w.run_steps(3);
    let last = w.state().wing().entries.last().cloned().unwrap();
    assert!(matches!(last.what, What::Reading(r) if r.unsettled && r.value == 0.3));
}

#[test]
fn hands_free_takes_each_settled_value_once_and_walks_on() {
    let mut w = window(Bench::empty());
    press_stage(&mut w, "jig empty");
    let order: Vec<String> = w.state().wing().assessment.wanted.iter().map(ToString::to_string).collect();
    types(&mut w, "h");
    for (n, value) in [0.05, 0.07, -0.02].into_iter().enumerate() {
        w.state_mut().angle(value, 0.3);
        w.run_steps(3);
        w.state_mut().angle(value, 1.0);
        w.run_steps(6);
        assert_eq!(readings(&w).len(), n + 1, "one reading for one settling");
    }
    let taken: Vec<(String, Option<Facing>)> = readings(&w).into_iter().map(|r| (r.0, r.2)).collect();
    let (forward, aft) = (Some(Facing::Forward), Some(Facing::Aft));
    let pair = |n: usize, facing| (order[n].clone(), facing);
    assert_eq!(taken, [pair(0, forward), pair(0, aft), pair(1, forward)]);
}

#[test]
fn levelling_says_the_turns_to_go_and_they_fall_as_the_value_does() {
    let mut w = window(Bench::empty());
    go(&mut w, Screen::Level);
    choose(&mut w, "cross@root-post");
    let turns = |w: &mut Window, degrees: f64| {
        w.state_mut().angle(degrees, 1.0);
        w.run_steps(2);
        let post = w.state().wing().plan.posts.iter().find(|p| p.name == "root-post").unwrap();
        let advice = assess::advice::foot_advice(post, 0.0, degrees);
        for m in &advice.moves {
            w.get_by_label(&format!("{}: {}", m.foot, window::words::turns(m.signed())));
        }
        advice.moves.iter().map(|m| m.mm.abs()).sum::<f64>()
    };
    let (far, near) = (turns(&mut w, 0.8), turns(&mut w, 0.3));
    assert!(far > near && near > 0.0);
    w.get_by_label_contains("bubble: along the span not measured, fore and aft 0.30 degrees");
}

#[test]
fn the_last_reading_is_withdrawn_with_a_reason() {
    let mut w = window(Bench::empty());
    choose(&mut w, "level@root-post");
    types(&mut w, "0.5");
    press(&mut w, Key::Enter);
    press(&mut w, Key::Backspace);
    w.get_by_label_contains("Withdraw a reading");
    types(&mut w, "slipped");
    press(&mut w, Key::Enter);
    let last = w.state().wing().entries.last().cloned().unwrap();
    assert!(matches!(last.what, What::Withdrawn { reason, .. } if reason == "slipped"));
    let view =
        w.state().wing().assessment.points.iter().find(|p| p.point.to_string() == "level@root-post").cloned();
    assert_eq!(view.map(|v| v.state), Some(PointState::Missing));
}

#[test]
fn a_lost_port_is_said_at_once() {
    let mut w = window(Bench::empty());
    w.state_mut().shows(None);
    w.state_mut().model.wing.as_mut().unwrap().live.port = window::live::Port::Lost("bench port".to_owned());
    w.run_steps(2);
    w.get_by_label_contains("gone; taken up again when it is back");
}

#[test]
fn an_angle_on_the_port_is_not_taken_for_a_length() {
    let mut w = window(Bench::empty());
    let first = w.state().wing().plan.stations[0].name.clone();
    choose(&mut w, &format!("spacing@{first}"));
    w.state_mut().angle(0.4, 1.0);
    w.run_steps(2);
    press(&mut w, Key::Space);
    w.get_by_label_contains("measures something else");
    types(&mut w, "h");
    w.state_mut().angle(0.4, 0.2);
    w.run_steps(2);
    w.state_mut().angle(0.4, 1.0);
    w.run_steps(4);
    assert!(!w.state().asked.iter().any(|a| matches!(a, Action::TakeLive { .. })));
}
