//! A plan in other units: no screen shows a number in the base unit.

use crate::common::{Bench, hand, live, paint, states};
use bench::{DeviceView, Live, Shown};
use egui::Key;
use quantity::Kind;
use record::{Point, What};
use session::demo::{CASES, Case};
use window::Screen;

pub const IMPERIAL: &str = "[units]\nlength = \"in\"\nangle = \"deg-min\"\ntorque = \"in-lb\"\nforce = \"lbf\"\ntemperature = \"°F\"\n\n";

/// A shipped case with its plan in these units; its readings are those of its instruments, as shipped.
pub fn case(name: &str, units: &str) -> Bench {
    let shipped = CASES.iter().find(|c| c.name == name).unwrap();
    let (head, rest) = shipped.plan.split_once("format = 1\n").unwrap();
    let plan: &'static str = format!("{head}format = 1\n\n{units}{rest}").leak();
    Bench::played(&Case { plan, ..*shipped }, |_| false)
}

/// Where a number has one of these units.
fn in_units(text: &str, units: &[&str]) -> Option<String> {
    let letters: Vec<char> = text.chars().collect();
    for unit in units {
        let own: Vec<char> = unit.chars().collect();
        for at in 1..letters.len() {
            let ends =
                letters.get(at + own.len()).is_none_or(|c| !(c.is_alphanumeric() || "·/-°".contains(*c)));
            let before = if letters[at - 1] == ' ' && at > 1 { letters[at - 2] } else { letters[at - 1] };
            if letters[at..].starts_with(&own) && ends && before.is_ascii_digit() {
                return Some(format!("`{unit}` in `{text}`"));
            }
        }
    }
    None
}

/// Everything said and painted in a state of the window.
fn texts(w: &mut hand::Window) -> Vec<String> {
    let mut all: Vec<String> = hand::said(w).lines().map(str::to_owned).collect();
    let mut bench = std::mem::replace(w.state_mut(), Bench::at_start());
    all.extend(paint::of(1280.0, 800.0, 2, |ui| bench.frame(ui)).into_iter().filter_map(|p| p.text));
    *w.state_mut() = bench;
    all
}

/// The points whose kinds differ.
fn of_each_kind(w: &hand::Window) -> Vec<Point> {
    let mut out: Vec<Point> = Vec::new();
    for v in &w.state().wing().assessment.points {
        let quantity = w.state().wing().plan.quantity_of(&v.point);
        let same =
            |p: &&Point| p.kind() == v.point.kind() && w.state().wing().plan.quantity_of(p) == quantity;
        if out.iter().find(same).is_none() {
            out.push(v.point.clone());
        }
    }
    out
}

fn open_on(w: &mut hand::Window, screen: Screen) {
    while w.state().face.asks() {
        hand::press(w, Key::Escape);
    }
    w.state_mut().face.go(screen);
    w.run_steps(3);
}

/// Walks every screen and page that shows a number; returns where what is said.
fn walk(bench: Bench) -> Vec<(String, String)> {
    let mut all = Vec::new();
    let mut w = hand::sized(bench, 1280.0, 800.0);
    let mut look = |w: &mut hand::Window, at: &str| {
        all.extend(texts(w).into_iter().map(|text| (at.to_owned(), text)));
    };
    for screen in Screen::ALL {
        open_on(&mut w, screen);
        look(&mut w, &format!("{screen:?}"));
    }
    for point in of_each_kind(&w) {
        let Some(kind) = w.state().wing().plan.quantity_of(&point) else { continue };
        for screen in [Screen::Measure, Screen::History] {
            open_on(&mut w, screen);
            w.state_mut().face.choose(point.clone());
            w.run_steps(2);
            look(&mut w, &format!("{screen:?} at {point}"));
        }
        open_on(&mut w, Screen::Measure);
        for state in ["settled", "lost"] {
            show(&mut w, kind, state);
            look(&mut w, &format!("{state} at {point}"));
        }
        w.state_mut().model.wing.as_mut().unwrap().live = bench::View::default();
        w.run_steps(2);
        hand::ctrl(&mut w, Key::T);
        look(&mut w, &format!("the keypad at {point}"));
    }
    for index in 0..60 {
        open_on(&mut w, Screen::Shape);
        for _ in 0..index {
            hand::press(&mut w, Key::ArrowRight);
        }
        look(&mut w, &format!("Shape {index}"));
        if !hand::is_on(&w, "Next") {
            break;
        }
    }
    open_on(&mut w, Screen::Gate);
    if hand::is_on(&w, "Evidence") {
        hand::press(&mut w, Key::Enter);
        for _ in 0..400 {
            look(&mut w, "evidence");
            if !hand::is_on(&w, "Next") {
                break;
            }
            hand::tap(&mut w, "Next");
        }
    }
    open_on(&mut w, Screen::Moves);
    if hand::is_on(&w, "Other support") {
        hand::tap(&mut w, "Other support");
        look(&mut w, "supports");
    }
    open_on(&mut w, Screen::Measure);
    hand::ctrl(&mut w, Key::Z);
    look(&mut w, "Undo");
    all
}

/// What is wrong with what is said, each thing once.
fn faults(said: &[(String, String)], fault: impl Fn(&str) -> Option<String>) -> Vec<String> {
    // A unit offered on the keypad is not the unit of a number.
    let found = said.iter().filter_map(|(at, text)| Some(format!("{at}: {}", fault(text)?)));
    found.collect::<std::collections::BTreeSet<_>>().into_iter().collect()
}

/// Something comes over the port.
fn show(w: &mut hand::Window, kind: Kind, state: &str) {
    let shown = Shown { value: 12.7, kind, step: 0.1 };
    let value = if state == "lost" {
        Live::Lost { for_ms: 4000, last: Some(shown) }
    } else {
        Live::Settled { shown }
    };
    w.state_mut().live(value);
    let wing = w.state_mut().model.wing.as_mut().unwrap();
    wing.live.instrument = Some(DeviceView {
        name: "an instrument".to_owned(),
        kind,
        resolution: 0.1,
        two_axes: false,
        can_zero: false,
    });
    w.run_steps(2);
}

#[test]
fn a_plan_in_inches_and_pounds_shows_nothing_in_millimetres_and_newtons() {
    let inside = ["mm", "N·m", "°C", "N"];
    for name in ["two-post", "hold", "rigged"] {
        // `mm/m` is a slope, not a length.
        let wrong = faults(&walk(case(name, IMPERIAL)), |text| in_units(text, &inside));
        assert!(wrong.is_empty(), "{name}, {} faults:\n{}", wrong.len(), wrong.join("\n"));
    }
}

#[test]
fn a_plan_without_units_shows_nothing_in_inches_and_pounds() {
    for name in ["two-post", "rigged"] {
        let said = walk(case(name, ""));
        let imperial = ["in", "in-lb", "ft-lb", "lbf", "°F", "\u{2033}"];
        let wrong = faults(&said, |text| in_units(text, &imperial));
        assert!(wrong.is_empty(), "{name}, {} faults:\n{}", wrong.len(), wrong.join("\n"));
        if name == "two-post" {
            // The walk would find a number in the base unit, in a sentence and on the plate.
            let metric = faults(&said, |text| in_units(text, &["mm", "N·m"]));
            for screen in ["Measure", "evidence", "Shape", "History", "the keypad", "settled", "lost"] {
                assert!(metric.iter().any(|f| f.starts_with(screen)), "nothing in {screen}: {metric:#?}");
            }
        }
    }
}

#[test]
fn a_number_with_its_unit_is_found() {
    assert!(in_units("lower it 11.9 mm, then", &["mm"]).is_some());
    assert!(in_units("12.7 N·m", &["N·m"]).is_some());
    assert!(in_units("21°C", &["°C"]).is_some());
    assert!(in_units("4 in 3 s", &["in"]).is_some());
    assert!(in_units("5 mm/m and in the jig", &["mm", "in"]).is_none());
}

/// Angles of such a plan are in degrees and minutes, except on the plate: a display shows degrees.
#[test]
fn angles_are_in_degrees_and_minutes_where_they_are_judged() {
    let decimal = |text: &str| {
        let dot = text.char_indices().filter(|(i, c)| *c == '°' && *i > 0);
        let broken = dot.filter_map(|(i, _)| text.get(..i)).any(|before| {
            let number =
                before.rsplit(|c: char| !(c.is_ascii_digit() || c == '.')).next().unwrap_or_default();
            number.contains('.')
        });
        broken.then(|| text.to_owned())
    };
    let mut w = hand::sized(case("hold", IMPERIAL), 1280.0, 800.0);
    for screen in [Screen::Profile, Screen::Gate, Screen::Shape] {
        w.state_mut().face.go(screen);
        w.run_steps(3);
        let found: Vec<String> = texts(&mut w).iter().filter_map(|t| decimal(t)).collect();
        assert_eq!(found, Vec::<String>::new(), "on {screen:?}");
    }
    w.state_mut().live(live::settled(-0.47));
    w.state_mut().face.go(Screen::Measure);
    w.state_mut().face.choose("incidence@S7".parse().unwrap());
    w.run_steps(2);
    hand::says(&w, "\u{2212}0.47°, settled");
}

/// A typed number is in the unit that stands beside it: the instrument's own, or the plan's if none is named.
#[test]
fn a_typed_number_is_in_the_unit_beside_it() {
    let plan = format!("format = 1\n{IMPERIAL}{PLAN}");
    let mut w = hand::small(Bench::with_plan(&plan));
    w.state_mut().model.who.name = "Tam".to_owned();
    let typed = |w: &mut hand::Window, point: &str, unit: Option<&str>, text: &str| {
        w.state_mut().face.go(Screen::Measure);
        w.state_mut().face.choose(point.parse().unwrap());
        w.run_steps(2);
        hand::tap(w, "Type it");
        if let Some(unit) = unit {
            hand::tap(w, unit);
        }
        hand::tap_text(w, text);
        hand::tap(w, "Done");
        if hand::is_on(w, "Yes: record it") {
            hand::tap(w, "Yes: record it");
        }
        let all = &w.state().wing().entries;
        match &all.last().unwrap().what {
            What::Reading(r) if r.point.to_string() == point => r.clone(),
            other => panic!("{other:?}: {}", hand::said(w)),
        }
    };
    hand::tap(&mut w, "Begin fitted");
    hand::tap(&mut w, "Begin fitted");
    // No instrument measures a length here: the plan's unit.
    let r = typed(&mut w, "spot@gap", None, "0.5");
    assert!((r.value - 12.7).abs() < 1e-9, "{r:?}");
    hand::says(&w, "0.5 in, taken");
    // The wrench shows newton metres, and the plate what that is in the plan's unit.
    let r = typed(&mut w, "spot@bolt", None, "9");
    assert!((r.value - 9.0).abs() < 1e-9, "{r:?}");
    hand::says(&w, "80 in-lb, taken");
    hand::says(&w, "70 to 90 in-lb");
    let r = typed(&mut w, "spot@bolt", Some("in-lb"), "80");
    assert!((r.value - 80.0 * 0.112_984_829).abs() < 1e-6, "{r:?}");
    hand::says(&w, "80 in-lb, taken");
}

/// A plan with a bolt and a gap; its limits are invented.
const PLAN: &str = r#"[wing]
name = "a bench piece"
side = "left"
[[station]]
name = "S1"
span = 250
chord = 1500
incidence = 2.0
[[station]]
name = "S2"
span = 2000
chord = 1400
incidence = 1.0
[[spot]]
name = "bolt"
quantity = "torque"
lower = "70 in-lb"
upper = "90 in-lb"
[[spot]]
name = "gap"
quantity = "length"
lower = "0.4 in"
upper = "0.6 in"
[[instrument]]
name = "metric wrench"
kind = "torque-wrench"
unit = "N·m"
resolution = 0.1
accuracy = 0.1
repeatability = 0.05
[[stage]]
name = "fitted"
requires = ["spot@*"]
"#;

#[test]
fn every_state_that_is_looked_at_is_in_the_plans_units() {
    // The pictures are of plans without units.
    for state in states::all().into_iter().filter(|s| s.model.wing.is_some()) {
        let mut w = hand::sized(Bench::showing(&state.model), 1280.0, 800.0);
        (state.go)(&mut w);
        let found: Vec<String> =
            texts(&mut w).iter().filter_map(|t| in_units(t, &["in", "in-lb", "lbf", "°F"])).collect();
        assert_eq!(found, Vec::<String>::new(), "{}", state.name);
    }
}
