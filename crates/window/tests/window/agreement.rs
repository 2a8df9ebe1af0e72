//! The numbers in the window, in the terminal's JSON and on the sheet are the same, each to the places shown.
//!
//! The window's are read out of what it tells a screen reader, the sheet's out of the PDF by `pdftotext` (Debian:
//! poppler-utils); without it the sheet is left out, loudly. `JIGTRUE_PROGRAM=FILE` uses a program already built.

use crate::common::{Bench, hand};
use quantity::shown::WithU;
use serde_json::Value;
use std::path::Path;
use std::process::Command;
use stories::program::jigtrue;
use window::Screen;

/// What is compared: by name (`S4 measured`), the text without its unit.
type Told = Vec<(String, String)>;

fn ran(args: &[&std::ffi::OsStr]) -> String {
    let out = Command::new(jigtrue()).args(args).output().unwrap();
    // A verdict is not a failure.
    assert!(matches!(out.status.code(), Some(0 | 10 | 11)), "{}", String::from_utf8_lossy(&out.stderr));
    String::from_utf8(out.stdout).unwrap()
}

/// The text of a sheet in reading order.
fn sheet_text(pdf: &Path) -> Option<String> {
    let out = Command::new("pdftotext").arg("-raw").arg(pdf).arg("-").output().ok()?;
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    Some(String::from_utf8(out.stdout).unwrap())
}

fn plain(text: &str) -> String {
    let text = text.replace('\u{2212}', "-").replace(['°', '+'], "").replace('\u{2019}', "'");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The JSON's values of what the window shows, by the one rule for numbers.
fn as_the_window(json: &Value) -> Told {
    let mut told = Told::new();
    let limit = json["twist"]["band"][0].clone();
    for s in json["twist"]["stations"].as_array().into_iter().flatten() {
        let name = s["name"].as_str().unwrap();
        if let (Some(t), Some(u)) = (s["twist_error_deg"].as_f64(), s["u_deg"].as_f64()) {
            let both = WithU::of_u(t, u).against([limit["lower_deg"].as_f64(), limit["upper_deg"].as_f64()]);
            told.push((
                format!("{name} twist"),
                plain(&format!("{} {}", both.signed(), both.half().replace('±', "± "))),
            ));
            told.push((format!("{name} verdict"), s["verdict"].as_str().unwrap_or_default().to_owned()));
        }
    }
    told.push(("gate".to_owned(), json["gate"]["state"].as_str().unwrap().to_uppercase()));
    for o in json["gate"]["obligations"].as_array().into_iter().flatten() {
        told.push(("obligation".to_owned(), o["state"].as_str().unwrap().replace('_', " ")));
    }
    told.sort();
    told
}

/// What the window says: station by station on the profile, and each mark of the gate's board.
fn window_told(json: &Value, bench: Bench) -> Told {
    let mut w = hand::small(bench);
    let mut told = Told::new();
    w.state_mut().face.go(Screen::Profile);
    w.run_steps(2);
    // Which button goes towards the tip depends on the side from which the wing is seen: go to one end, then to the
    // other.
    let stations = json["twist"]["stations"].as_array().map_or(0, Vec::len);
    let steps = ["Station left", "Station right"].into_iter().flat_map(|b| std::iter::repeat_n(b, stations));
    for button in steps {
        let all = hand::said(&w);
        let line = all
            .lines()
            .find(|l| l.contains(", limit ") && l.contains(": "))
            .unwrap_or_else(|| panic!("{all}"));
        let (name, rest) = line.split_once(' ').unwrap();
        let (value, rest) = rest.split_once("°, limit ").unwrap();
        let verdict = rest.rsplit(": ").next().unwrap();
        told.push((format!("{name} twist"), plain(value)));
        told.push((format!("{name} verdict"), verdict.to_owned()));
        hand::tap(&mut w, button);
    }
    told.sort();
    told.dedup();
    w.state_mut().face.go(Screen::Gate);
    w.run_steps(2);
    let verdict = hand::said(&w).lines().find(|l| ["HOLD", "CLEAR"].contains(l)).unwrap().to_owned();
    told.push(("gate".to_owned(), verdict));
    hand::tap(&mut w, "Board");
    let kinds = assess::view::ObligationKind::ALL.map(assess::view::ObligationKind::plural);
    for line in hand::said(&w).lines() {
        if let Some((_, marks)) = line.split_once(": ").filter(|(name, _)| kinds.contains(name)) {
            let met = |m: &str| {
                if m == "within" { "met".to_owned() } else { m.replace("cannot be judged", "cannot judge") }
            };
            told.extend(marks.split(", ").map(|m| ("obligation".to_owned(), met(m))));
        }
    }
    told.sort();
    told
}

/// What of the JSON is not on the sheet, read in the sheet's order.
fn not_on_the_sheet(json: &Value, sheet: &str) -> Vec<String> {
    let running = plain(&sheet.replace('±', " "));
    let words: Vec<&str> = running.split(' ').collect();
    let mut lacking = Vec::new();
    // A row begins with its name; within a row's length its values follow in this order.
    let mut look = |name: &str, wanted: Vec<String>| {
        let name: Vec<&str> = name.split(' ').collect();
        let found = (0..words.len()).filter(|&i| words[i..].starts_with(&name)).any(|i| {
            let mut row = words[i + name.len()..].iter().take(24);
            wanted.iter().all(|w| row.any(|word| word == w))
        });
        if !found {
            lacking.push(format!("{}: {}", name.join(" "), wanted.join(" ")));
        }
    };
    let shown = |row: &Value, value: &str, u: &str| {
        let (value, u) = (row[value].as_f64()?, row[u].as_f64()?);
        Some(WithU::of_u(value, u).against([row["lower"].as_f64(), row["upper"].as_f64()]))
    };
    for s in json["twist"]["stations"].as_array().into_iter().flatten() {
        let measured = shown(s, "measured_deg", "measured_u_deg").map(|m| plain(&m.signed()));
        let error = shown(s, "twist_error_deg", "u_deg");
        let error = error.map(|e| [plain(&e.signed()), plain(&e.half().replace('±', ""))]);
        look(s["name"].as_str().unwrap(), measured.into_iter().chain(error.into_iter().flatten()).collect());
    }
    for part in ["setting", "washout_error"] {
        let row = &json["twist"][part];
        if let (Some(what), Some(value)) = (row["what"].as_str(), shown(row, "value", "u")) {
            look(what, vec![plain(&value.signed()), plain(&value.half().replace('±', ""))]);
        }
    }
    for reason in json["gate"]["reasons"].as_array().unwrap() {
        let found = reason["found"].as_str().map(|f| plain(&f.replace('±', " ")));
        let found = found.iter().flat_map(|f| f.split(' ')).map(str::to_owned).collect();
        look(&plain(&reason["what"].as_str().unwrap().replace('±', " ")), found);
    }
    let tally = [
        ("outside", "outside"),
        ("cannot be judged", "cannot_judge"),
        ("doubtful", "doubtful"),
        ("undecided", "undecided"),
        ("stale", "stale"),
        ("missing", "missing"),
        ("met", "met"),
    ];
    let all = json["gate"]["obligations"].as_array().unwrap();
    let count = |state: &str| all.iter().filter(|o| o["state"] == state).count();
    let tally = tally.map(|(word, state)| format!("{} {word}", count(state))).join(" ");
    if !running.contains(&tally) {
        lacking.push(tally);
    }
    let gate = json["gate"]["state"].as_str().unwrap().to_uppercase();
    let head: Vec<&str> = sheet.lines().take(8).collect();
    if !head.contains(&gate.as_str()) {
        lacking.push(format!("gate {gate}"));
    }
    lacking
}

struct Case {
    json: Value,
    window: Told,
    sheet: Option<String>,
}

fn case(name: &str) -> Case {
    let bench = Bench::whole(name);
    let log = bench.session.as_ref().unwrap().path().to_owned();
    let pdf = log.with_extension("agreement.pdf");
    let json: Value =
        serde_json::from_str(&ran(&["check".as_ref(), "--json".as_ref(), log.as_ref()])).unwrap();
    ran(&["sheet".as_ref(), log.as_ref(), "-o".as_ref(), pdf.as_ref()]);
    let sheet = sheet_text(&pdf);
    let window = window_told(&json, bench);
    Case { json, window, sheet }
}

#[test]
fn window_terminal_and_sheet_agree_for_every_shipped_case() {
    for shipped in session::demo::CASES {
        let name = shipped.name;
        let case = case(name);
        let wanted = as_the_window(&case.json);
        let told = wanted.len();
        assert!(told > 20, "{name}: only {told} numbers are compared");
        assert_eq!(case.window, wanted, "{name}");
        match &case.sheet {
            Some(sheet) => assert_eq!(not_on_the_sheet(&case.json, sheet), Vec::<String>::new(), "{name}"),
            None => eprintln!("SKIPPED, THE SHEET OF {name} WAS NOT READ: there is no pdftotext"),
        }
    }
}

/// Changes the JSON of a case in one place and checks that the comparison finds it: on the sheet, and in the window
/// if the window shows it.
fn finds(case: &Case, at: &str, change: impl Fn(&Value) -> Value) {
    let mut json = case.json.clone();
    let place = json.pointer_mut(at).unwrap_or_else(|| panic!("nothing is at {at}"));
    *place = change(place);
    let shows = at.contains("twist_error_deg") || at.ends_with("5/u_deg") || at.ends_with("state");
    assert_eq!(case.window != as_the_window(&json), shows, "the window: {at}");
    if let Some(sheet) = &case.sheet {
        assert!(!not_on_the_sheet(&json, sheet).is_empty(), "the sheet: {at}");
    }
}

/// The comparison itself is tested: each compared value, changed in its last shown place, is found.
#[test]
fn a_changed_number_is_found() {
    // Every station was measured there; in the case that holds, three were not, and washout error has no number.
    let whole = case("two-post");
    for at in [
        "/twist/stations/2/measured_deg",
        "/twist/stations/3/twist_error_deg",
        "/twist/stations/5/u_deg",
        "/twist/setting/value",
        "/twist/washout_error/u",
    ] {
        finds(&whole, at, |number| (number.as_f64().unwrap() + 0.01).into());
    }
    let holds = case("hold");
    for (at, other) in [
        ("/gate/state", "clear"),
        ("/gate/reasons/0/what", "a reason that nobody gave"),
        ("/gate/reasons/0/found", "+0.39 ±0.05°"),
    ] {
        finds(&holds, at, |_| other.into());
    }
}
