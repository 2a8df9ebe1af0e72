//! The numbers in the window, in the terminal's JSON and on the sheet are the same, each to the places it shows.
//!
//! The window's are read out of what it tells a screen reader, the sheet's out of the PDF by `pdftotext` (Debian:
//! poppler-utils); without it the sheet is passed over, loudly. `JIGTRUE_PROGRAM=FILE` uses a program already built.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test stops where something is missing")]
#![allow(clippy::disallowed_methods, reason = "a story with a real program has files")]

mod common;

use common::Bench;
use egui_kittest::kittest::NodeT as _;
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
    // A verdict is no failure.
    assert!(matches!(out.status.code(), Some(0 | 10 | 11)), "{}", String::from_utf8_lossy(&out.stderr));
    String::from_utf8(out.stdout).unwrap()
}

/// The text of a sheet, line by line as it is laid out, and in reading order.
fn sheet_text(pdf: &Path) -> Option<(String, String)> {
    let text = |how: &str| {
        let out = Command::new("pdftotext").arg(how).arg(pdf).arg("-").output().ok()?;
        assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
        Some(String::from_utf8(out.stdout).unwrap())
    };
    Some((text("-layout")?, text("-raw")?))
}

fn plain(text: &str) -> String {
    let text = text.replace('\u{2212}', "-").replace(['°', '+'], "").replace('\u{2019}', "'");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// `value` with so many places, as both write it: never a negative zero.
fn to(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    if text.trim_start_matches(['-', '0', '.']).is_empty() { text.replace('-', "") } else { text }
}

/// Everything the window says on a screen, row by row from top to bottom.
fn said(bench: Bench, screen: Screen) -> (Bench, Vec<Vec<String>>) {
    let mut w = bench.harness(2600.0, 9000.0);
    w.run_steps(3);
    w.state_mut().face.go(screen);
    w.run_steps(4);
    let mut texts: Vec<(i32, i32, String)> = Vec::new();
    for node in w.root().children_recursive() {
        let at = node.accesskit_node();
        if let Some(text) = at.value().or_else(|| at.label()).filter(|t| !t.is_empty()) {
            let rect = node.rect();
            texts.push((rect.center().y.round() as i32, rect.left() as i32, text));
        }
    }
    texts.sort();
    let mut rows: Vec<(i32, Vec<String>)> = Vec::new();
    for (y, _, text) in texts {
        match rows.last_mut() {
            Some((at, row)) if y - *at <= 3 => row.push(plain(&text)),
            _ => rows.push((y, vec![plain(&text)])),
        }
    }
    let model = w.state().model.clone();
    (Bench::showing(&model), rows.into_iter().map(|(_, row)| row).collect())
}

/// What the JSON says, as the window rounds it: two places, and twice the uncertainty.
fn as_the_window(json: &Value) -> Told {
    let mut told = Told::new();
    let pair = |value: f64, u: f64| format!("{} ± {}", to(value, 2), to(2.0 * u, 2));
    let twist = &json["twist"];
    for s in twist["stations"].as_array().into_iter().flatten() {
        let name = s["name"].as_str().unwrap();
        let mut tell = |what: &str, text: String| told.push((format!("{name} {what}"), text));
        if let (Some(m), Some(u)) = (s["measured_deg"].as_f64(), s["measured_u_deg"].as_f64()) {
            tell("measured", pair(m, u));
        }
        if let (Some(t), Some(u)) = (s["twist_error_deg"].as_f64(), s["u_deg"].as_f64()) {
            tell("twist", pair(t, u));
        }
        if let Some(verdict) = s["verdict"].as_str() {
            tell("verdict", verdict.to_owned());
        }
    }
    for part in ["setting", "washout_error"] {
        if let (Some(v), Some(u)) = (twist[part]["value"].as_f64(), twist[part]["u"].as_f64()) {
            let what = twist[part]["what"].as_str().unwrap();
            told.push((what.to_owned(), pair(v, u)));
            told.push((
                format!("{what} verdict"),
                twist[part]["verdict"].as_str().unwrap_or_default().to_owned(),
            ));
        }
    }
    told.push(("gate".to_owned(), json["gate"]["state"].as_str().unwrap().to_owned()));
    for reason in json["gate"]["reasons"].as_array().unwrap() {
        told.push(("reason".to_owned(), plain(reason["words"].as_str().unwrap())));
    }
    told
}

/// What the window says.
fn window_told(json: &Value, bench: Bench) -> Told {
    let (bench, profile) = said(bench, Screen::Profile);
    let (_, gate) = said(bench, Screen::Gate);
    let mut told = Told::new();
    for s in json["twist"]["stations"].as_array().into_iter().flatten() {
        let name = s["name"].as_str().unwrap();
        // station, span, design, measured, measured twist, fitted twist, verdict: where a cell is empty it says nothing
        let row = profile.iter().find(|r| r.first().is_some_and(|c| c == name) && r.len() > 3);
        let row = row.unwrap_or_else(|| panic!("the window has no row for {name}"));
        let pairs: Vec<&String> = row.iter().filter(|c| c.contains('±')).collect();
        let mut tell = |what: &str, text: Option<&String>| {
            told.extend(text.map(|t| (format!("{name} {what}"), t.clone())));
        };
        let measured = s["measured_deg"].is_number();
        tell("measured", pairs.first().copied().filter(|_| measured));
        tell("twist", pairs.last().copied().filter(|_| s["twist_error_deg"].is_number()));
        let words = ["within", "outside", "undecided", "stale", "missing"];
        tell("verdict", row.iter().find(|c| words.contains(&c.as_str())));
    }
    for part in ["setting", "washout_error"] {
        if json["twist"][part]["value"].is_null() {
            continue;
        }
        if let Some(what) = json["twist"][part]["what"].as_str() {
            let row = profile.iter().find(|r| r.iter().any(|c| c == what)).unwrap();
            let at = row.iter().position(|c| c == what).unwrap();
            told.push((what.to_owned(), row[at + 1].clone()));
            // name, value, limits, then the verdict, as a sign with its name
            told.push((format!("{what} verdict"), row[at + 3].clone()));
        }
    }
    let first = gate.iter().flatten().find(|c| c.starts_with("Clear:") || c.starts_with("Hold:"));
    let state = first.and_then(|c| c.split(':').next()).unwrap_or_default().to_lowercase();
    told.push(("gate".to_owned(), state));
    let begins = gate.iter().position(|r| r.iter().any(|c| c.starts_with("What stands against it"))).unwrap();
    let ends = gate.iter().position(|r| r.iter().any(|c| c == "Points required")).unwrap();
    let said: Vec<&String> = gate[begins + 1..ends].iter().flatten().collect();
    for reason in json["gate"]["reasons"].as_array().unwrap() {
        let words = plain(reason["words"].as_str().unwrap());
        told.extend(said.iter().find(|c| ***c == words).map(|c| ("reason".to_owned(), (*c).clone())));
    }
    told
}

/// True if all of these stand in a line, in this order.
fn in_order(line: &str, wanted: &[String]) -> bool {
    let mut words = line.split_whitespace();
    wanted.iter().all(|w| words.any(|x| x.trim_start_matches('±') == w))
}

/// What of the JSON is not on the sheet.
fn not_on_the_sheet(json: &Value, layout: &str, raw: &str) -> Vec<String> {
    let lines: Vec<String> = layout.lines().map(plain).collect();
    let mut lacking = Vec::new();
    let mut look = |wanted: Vec<String>| {
        if !lines.iter().any(|l| l.starts_with(&wanted[0]) && in_order(l, &wanted)) {
            lacking.push(wanted.join(" "));
        }
    };
    let pair = |row: &Value, value: &str, u: &str| -> Vec<String> {
        let (Some(v), Some(u)) = (row[value].as_f64(), row[u].as_f64()) else { return Vec::new() };
        let shown = WithU::of_u(v, u).against([row["lower"].as_f64(), row["upper"].as_f64()]);
        vec![plain(&shown.signed()), plain(&shown.half().replace('±', ""))]
    };
    let verdict = |row: &Value| row["verdict"].as_str().map(str::to_owned);
    for s in json["twist"]["stations"].as_array().into_iter().flatten() {
        let mut wanted = vec![s["name"].as_str().unwrap().to_owned()];
        wanted.extend(pair(s, "measured_deg", "measured_u_deg"));
        wanted.extend(pair(s, "twist_error_deg", "u_deg"));
        wanted.extend(verdict(s));
        look(wanted);
    }
    for part in ["setting", "washout_error"] {
        let row = &json["twist"][part];
        if let Some(what) = row["what"].as_str().filter(|_| !row["value"].is_null()) {
            let mut wanted: Vec<String> = what.split(' ').map(str::to_owned).collect();
            wanted.extend(pair(row, "value", "u"));
            wanted.extend(verdict(row));
            look(wanted);
        }
    }
    let gate = json["gate"]["state"].as_str().unwrap().to_uppercase();
    let other = if gate == "CLEAR" { "closing gate HOLD" } else { "closing gate CLEAR" };
    if !layout.contains(&format!("closing gate {gate}")) || layout.contains(other) {
        lacking.push(format!("gate {gate}"));
    }
    let running = plain(raw);
    for reason in json["gate"]["reasons"].as_array().unwrap() {
        let words = plain(reason["words"].as_str().unwrap());
        if !running.contains(&words) {
            lacking.push(format!("reason: {words}"));
        }
    }
    lacking
}

struct Case {
    json: Value,
    window: Told,
    sheet: Option<(String, String)>,
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
        let told = wanted.iter().filter(|(what, _)| what != "reason").count();
        assert!(told > 20, "{name}: only {told} numbers are compared");
        assert_eq!(case.window, wanted, "{name}");
        match &case.sheet {
            Some((layout, raw)) => {
                assert_eq!(not_on_the_sheet(&case.json, layout, raw), Vec::<String>::new(), "{name}");
            }
            None => eprintln!("SKIPPED, THE SHEET OF {name} WAS NOT READ: there is no pdftotext"),
        }
    }
}

/// The comparison itself is tried: each thing compared, changed in its last shown place, is found.
#[test]
fn a_number_that_is_another_is_found() {
    let case = case("hold");
    let changes: [(&str, f64); 6] = [
        ("/twist/stations/2/measured_deg", 0.01),
        ("/twist/stations/4/measured_u_deg", 0.01),
        ("/twist/stations/3/twist_error_deg", 0.01),
        ("/twist/stations/5/u_deg", 0.01),
        ("/twist/setting/value", 0.01),
        ("/twist/setting/u", 0.01),
    ];
    let found = |json: &Value, what: &str| {
        assert_ne!(case.window, as_the_window(json), "the window: {what}");
        if let Some((layout, raw)) = &case.sheet {
            assert!(!not_on_the_sheet(json, layout, raw).is_empty(), "the sheet: {what}");
        }
    };
    for (at, by) in changes {
        let mut json = case.json.clone();
        let number = json.pointer_mut(at).unwrap();
        *number = (number.as_f64().unwrap() + by).into();
        found(&json, at);
    }
    for (at, other) in [
        ("/gate/state", "clear"),
        ("/gate/reasons/0/words", "a reason that nobody gave"),
        ("/twist/stations/1/verdict", "outside?"),
    ] {
        let mut json = case.json.clone();
        *json.pointer_mut(at).unwrap() = other.into();
        found(&json, at);
    }
}
