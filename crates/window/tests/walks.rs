//! Finding one's way, and what the window says, told in its own words.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test stops where something is missing")]

mod common;

use assess::Verdict;
use assess::view::PointState;
use common::Bench;
use common::hand::{Window, choose, go, press, tall, types, window};
use egui::Key;
use egui_kittest::kittest::Queryable as _;
use record::What;
use window::{Action, Screen};

#[test]
fn a_sign_off_is_signed_with_a_key_file_made_in_the_window() {
    let mut w = tall(Bench::whole("two-post"));
    go(&mut w, Screen::Gate);
    for (name, text) in [("As", "builder"), ("I state", "seen as it stands"), ("Key file", "mine.key")] {
        w.get_by_label(name).focus();
        w.run_steps(2);
        w.get_by_label(name).type_text(text);
        w.run_steps(2);
    }
    w.get_by_label("Make this key file").click();
    w.run_steps(3);
    let public = w.state().model.notice.clone().unwrap();
    assert!(!public.wrong, "{public:?}");
    w.get_by_label("Sign it").click();
    w.run_steps(3);
    let last = w.state().wing().entries.last().cloned().unwrap();
    let What::Signed(signed) = last.what else { panic!("{last:?}") };
    assert_eq!(signed.signature.map(|s| s.key), Some(public.words));
    let walked = session::log::Verified::of(w.state().session.as_ref().unwrap().path()).unwrap();
    assert_eq!(walked.signatures().all().iter().filter(|s| s.seal.is_keyed()).count(), 1);
}

#[test]
fn while_a_table_is_read_in_it_says_how_far_and_can_be_stopped() {
    let mut bench = Bench::whole("two-post");
    let import = |stopping| window::model::Import {
        table: "night.csv".to_owned(),
        lines: 40_960,
        share: 0.4,
        stopping,
    };
    bench.model.import = Some(import(false));
    let mut w = window(bench);
    w.get_by_label_contains("40960 lines");
    // Nothing is taken meanwhile.
    types(&mut w, "0.5");
    press(&mut w, Key::Enter);
    w.get_by_label("Stop it").click();
    w.run_steps(2);
    assert_eq!(w.state().asked, vec![Action::StopImport]);
    w.state_mut().model.import = Some(import(true));
    w.run_steps(2);
    w.get_by_label("It is being stopped.");
}

#[test]
fn a_stale_point_is_found_by_its_mark_and_says_why() {
    let mut w = window(Bench::whole("hold"));
    let stale = w
        .state()
        .wing()
        .assessment
        .points
        .iter()
        .find(|p| p.state == PointState::Stale && p.point.kind().word() == "incidence");
    let Some(stale) = stale.cloned() else { panic!("the case has a stale point") };
    choose(&mut w, &stale.point.to_string());
    go(&mut w, Screen::Measure);
    w.get_by_label(&format!("{}, stale", stale.point)).click();
    w.run_steps(2);
    assert_eq!(w.state().face.point().map(ToString::to_string), Some(stale.point.to_string()));
    w.get_by_label_contains(&stale.stale_because.unwrap());
}

#[test]
fn a_point_is_found_by_typing_its_name() {
    let mut w = window(Bench::whole("two-post"));
    let last = w.state().wing().plan.stations.last().unwrap().name.clone();
    types(&mut w, "/");
    types(&mut w, &format!("incidence@{last}"));
    press(&mut w, Key::Enter);
    assert_eq!(w.state().face.point().map(ToString::to_string), Some(format!("incidence@{last}")));
}

#[test]
fn arrows_move_along_the_wing_as_it_is_drawn() {
    let mut w = window(Bench::whole("two-post"));
    let stations: Vec<String> = w.state().wing().plan.stations.iter().map(|s| s.name.clone()).collect();
    choose(&mut w, &format!("incidence@{}", stations[1]));
    let left = w.state().wing().plan.wing.side == record::plan::Side::Left;
    let (out, back) =
        if left { (Key::ArrowLeft, Key::ArrowRight) } else { (Key::ArrowRight, Key::ArrowLeft) };
    press(&mut w, out);
    assert_eq!(w.state().face.point().unwrap().place(), stations[2]);
    press(&mut w, back);
    press(&mut w, back);
    assert_eq!(w.state().face.point().unwrap().place(), stations[0]);
}

#[test]
fn the_function_keys_walk_the_screens() {
    let mut w = window(Bench::whole("two-post"));
    for (screen, key) in Screen::OF_A_LOG {
        press(&mut w, key);
        assert_eq!(w.state().face.screen(), screen);
    }
}

#[test]
fn the_gate_gives_every_reason_and_signing_as_clear_is_not_to_be_had_while_it_holds() {
    let mut w = tall(Bench::whole("hold"));
    go(&mut w, Screen::Gate);
    let reasons = w.state().wing().assessment.gate.reasons.clone();
    assert!(!reasons.is_empty());
    for reason in &reasons {
        assert!(w.query_all_by_label(&reason.words).next().is_some(), "{}", reason.words);
    }
    let form = [("As", "builder"), ("I state", "seen as it stands")];
    for (name, text) in form {
        w.get_by_label(name).focus();
        w.run_steps(2);
        w.get_by_label(name).type_text(text);
        w.run_steps(2);
    }
    w.get_by_label("Sign it").click();
    w.run_steps(2);
    assert!(!w.state().asked.iter().any(|a| matches!(a, Action::Sign { .. })));
    w.get_by_label_contains("sign for what was seen").click();
    w.run_steps(2);
    w.get_by_label("Sign it").click();
    w.run_steps(3);
    assert!(w.state().asked.iter().any(|a| matches!(a, Action::Sign { as_seen: true, .. })));
    assert_eq!(w.state().wing().assessment.signatures.len(), 1);
}

#[test]
fn numbers_in_the_window_are_those_of_the_assessment() {
    for case in session::demo::CASES {
        let mut w = window(Bench::whole(case.name));
        let a = std::sync::Arc::clone(&w.state().wing().assessment);
        if let Some(twist) = &a.twist {
            go(&mut w, Screen::Profile);
            for judged in [&twist.washout_error, &twist.setting].into_iter().filter_map(|f| f.judged()) {
                assert!(
                    w.query_all_by_label(&window::words::judged(judged)).next().is_some(),
                    "{}",
                    judged.what
                );
            }
            for s in &twist.stations {
                if let (Some(t), Some(u)) = (s.twist_error_deg, s.u_deg) {
                    let words = window::words::with_u(t, u, "deg");
                    assert!(w.query_all_by_label(&words).next().is_some(), "{} {}", case.name, s.name);
                }
            }
        }
        go(&mut w, Screen::Gate);
        let n = a.gate.reasons.len();
        assert!(w.query_all_by_label_contains(a.gate.state.word()).next().is_some(), "{n}");
        let outside = a.points.iter().filter(|p| p.verdict == Some(Verdict::Outside)).count();
        assert!(outside <= a.points.len());
    }
}

#[test]
fn what_another_program_added_appears() {
    let mut w = window(Bench::empty());
    choose(&mut w, "level@root-post");
    let bench = w.state_mut();
    let path = bench.session.as_ref().unwrap().path().to_owned();
    let mut other = session::Session::open(&path).unwrap();
    other.set_who("inspector");
    other
        .take(session::Take {
            point: "level@root-post".to_owned(),
            text: "0.10".to_owned(),
            ..Default::default()
        })
        .unwrap();
    bench.show_session();
    w.run_steps(2);
    w.get_by_label_contains("level@root-post: 0.10°");
}

#[test]
fn a_new_wing_is_described_and_its_drawing_grows() {
    let mut w = tall(Bench::at_start());
    w.get_by_label("Describe a new wing").click();
    w.run_steps(3);
    w.get_by_label_contains("The drawing begins");
    let fill = |w: &mut Window, name: &str, text: &str| {
        w.get_by_label(name).focus();
        w.run_steps(2);
        w.get_by_label(name).type_text(text);
        w.run_steps(2);
    };
    for (name, text) in [
        ("Name", "Invented wing"),
        ("span of station 1", "300"),
        ("chord of station 1", "1400"),
        ("incidence of station 1", "2"),
        ("span of station 2", "3.9 m"),
        ("chord of station 2", "900"),
        ("incidence of station 2", "-0°30'"),
    ] {
        fill(&mut w, name, text);
    }
    w.get_by_label("drawing of the wing, 2 stations");
    w.get_by_label("5 evenly").click();
    w.run_steps(3);
    w.get_by_label("drawing of the wing, 5 stations");
    for (name, text) in [
        ("aft at the root of spar 1", "350"),
        ("aft at the tip of spar 1", "330"),
        ("span of post 1", "0"),
        ("half foot of post 1", "400"),
        ("span of post 2", "4000"),
        ("half foot of post 2", "400"),
        ("travel a turn", "1.5"),
        ("travel either way", "10"),
        ("washout error", "0.35"),
    ] {
        fill(&mut w, name, text);
    }
    w.get_by_label("Write the plan and open the log").click();
    w.run_steps(3);
    let asked = w.state().asked.iter().find_map(|a| match a {
        Action::NewLog { plan, name, .. } => Some((plan.clone(), name.clone())),
        _ => None,
    });
    let (plan, name) = asked.unwrap();
    assert_eq!(name, "invented-wing");
    let plan = record::Plan::parse(&plan).unwrap();
    assert_eq!(plan.stations.len(), 5);
    assert_eq!(plan.stations[4].incidence.value(), -0.5);
    assert_eq!(plan.stations[4].span.value(), 3900.0);
    assert_eq!(plan.tolerances.washout.and_then(|l| l.upper).map(|v| v.value()), Some(0.35));
    assert_eq!(plan.supports.len(), 2);
}

#[test]
fn the_cautions_are_shown_once() {
    let mut bench = Bench::at_start();
    bench.model.cautions_due = true;
    let mut w = window(bench);
    w.get_by_label("I have read this").click();
    w.run_steps(2);
    assert!(w.state().asked.contains(&Action::CautionsRead));
}

#[test]
fn an_error_is_a_sentence_in_the_window() {
    let mut bench = Bench::empty();
    let words = "the disk is full: the reading was not taken";
    bench.model.notice = Some(window::model::Notice { wrong: true, words: words.to_owned() });
    let mut w = window(bench);
    w.get_by_label(words);
    w.get_by_label("Close").click();
    w.run_steps(2);
    assert!(w.state().asked.contains(&Action::DismissNotice));
}

#[test]
fn an_idle_window_asks_for_no_frame() {
    for case in ["two-post", "hold"] {
        for screen in Screen::OF_A_LOG.map(|(s, _)| s) {
            for (width, height, scale) in
                [(900.0, 600.0, 1.0), (1280.0, 800.0, 1.0), (3840.0, 2160.0, 3.0), (700.0, 500.0, 1.5)]
            {
                let mut bench = Bench::whole(case);
                bench.face.set_looks(None, scale);
                let mut w = bench.harness(width, height);
                w.state_mut().face.go(screen);
                w.run_steps(8);
                let soon = w.output().viewport_output.values().map(|v| v.repaint_delay).min().unwrap();
                let at = format!("{case}, {screen:?} at {width}x{height}, {scale}");
                let why = w.ctx.repaint_causes();
                assert!(soon > std::time::Duration::from_secs(3600), "{at} repaints after {soon:?}: {why:?}");
            }
        }
    }
}

#[test]
fn finding_and_typing_lead_to_the_place_where_they_show() {
    let mut w = window(Bench::whole("two-post"));
    go(&mut w, Screen::Gate);
    types(&mut w, "/");
    assert_eq!(w.state().face.screen(), Screen::Measure);
    press(&mut w, Key::Escape);
    go(&mut w, Screen::Level);
    types(&mut w, "0.2");
    assert_eq!(w.state().face.screen(), Screen::Measure);
    w.get_by_label_contains("0.2, Enter takes it");
}

/// A night at ten samples a second, and more, must not make the window slow. Most of the time allowed is for a slow machine.
#[test]
#[expect(clippy::disallowed_methods, reason = "a frame is timed")]
fn a_million_samples_stay_smooth() {
    let mut bench = Bench::whole("two-post");
    let mut trace = window::trace::Trace::of("level@root-post".parse().unwrap());
    for i in 0..1_000_000_u32 {
        trace.push(f64::from(i) * 0.1, 0.05 + f64::from(i % 977) * 1e-5);
    }
    trace.shifts.push((40_000.0, 0.03, "The level moved and stayed.".to_owned()));
    bench.model.wing.as_mut().unwrap().trace = Some(trace);
    let mut w = window(bench);
    go(&mut w, Screen::Watch);
    w.get_by_label("1000000 samples");
    w.get_by_label_contains("shifted by +0.030°");
    let before = std::time::Instant::now();
    w.run_steps(10);
    let frame = before.elapsed() / 10;
    eprintln!("a frame with a million samples: {frame:?}");
    assert!(frame < std::time::Duration::from_millis(150), "{frame:?}");
}
