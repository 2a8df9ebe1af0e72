//! Plans read, and mistakes shown where they stand.
#![allow(clippy::unwrap_used, reason = "a test stops where something is missing")]

use record::Plan;
use record::plan::{Acceptance, Adjust};

const DEMO: &str = include_str!("../../../demo-readings/two-post/plan.toml");

const SMALL: &str = r#"format = 1
[wing]
name = "small"
side = "left"
[[station]]
name = "S1"
span = 0
chord = 1000
incidence = "2°"
[[station]]
name = "S2"
span = "1.5 m"
chord = 1000
incidence = 1
[[stage]]
name = "ready"
requires = ["incidence@*"]
"#;

#[test]
fn the_shipped_plan_reads() {
    let plan = Plan::parse(DEMO).unwrap_or_else(|e| panic!("{e}"));
    assert!(plan.stations.len() >= 2);
    assert!(plan.supports.iter().any(|s| matches!(s.adjust, Adjust::Shims { .. })));
    assert_eq!(plan.rule.acceptance, Acceptance::Guarded);
    assert!(plan.stages.iter().all(|s| !s.requires.is_empty()));
}

#[test]
fn a_small_plan_needs_little() {
    let plan = Plan::parse(SMALL).unwrap();
    assert_eq!(plan.wing.tip.value(), 1500.0);
    assert_eq!(plan.stages[0].requires.len(), 2);
    assert!(plan.tolerances.station.is_none(), "no tolerance is invented");
}

/// Changes one thing in the small plan; the error must say these words.
#[track_caller]
fn refused(from: &str, to: &str, words: &[&str]) {
    assert!(SMALL.contains(from), "{from}");
    let text = SMALL.replacen(from, to, 1);
    let errors = Plan::parse(&text).unwrap_err().to_string();
    for word in words {
        assert!(errors.contains(word), "wanted `{word}` in:\n{errors}");
    }
}

#[test]
fn mistakes_are_shown_with_place_text_and_remedy() {
    refused("chord = 1000", "chrod = 1000", &["line 8, column 1", "`chrod`", "did you mean `chord`?"]);
    refused("chord = 1000", "chrod = 1000", &["chrod = 1000\n  | ^^^^^", "lacks `chord`"]);
    refused("span = 0", "span = -3", &["line 7, column 8", "zero or more"]);
    refused("span = 0", "span = nan", &["finite number"]);
    refused("span = 0", "span = inf", &["finite number"]);
    refused("\"1.5 m\"", "0", &["all 2 stations stand at the same span"]);
    refused("\"S2\"", "\"S1\"", &["already a station named `S1`"]);
    refused("\"S2\"", "\"S@2\"", &["must not hold `@`"]);
    refused("\"2°\"", "\"2 mm\"", &["incidence"]);
    refused("\"2°\"", "\"2,5\"", &["incidence", "comma"]);
    refused("\"left\"", "\"lefty\"", &["\"left\", \"right\""]);
    refused("format = 1", "format = 2", &["format 2", "newer program"]);
    refused("format = 1", "", &["lacks `format`"]);
    refused("\"incidence@*\"", "\"incidense@S1\"", &["names no point", "did you mean `incidence@S1`?"]);
    refused("[[stage]]", "[rule]\nlevel = 0.9\n[[stage]]", &["0.95, 0.975 or 0.99"]);
    refused(
        "[[stage]]",
        "[tolerance]\nstation = { lower = 0.3, upper = 0.1 }\n[[stage]]",
        &["must be below"],
    );
    refused("[[stage]]", "[tolerance]\nstaton = 0.3\n[[stage]]", &["did you mean `station`?"]);
    refused("name = \"small\"", "name = \"small", &["line 3"]);
}

#[test]
fn several_mistakes_are_shown_at_once() {
    let text = SMALL.replace("chord = 1000", "chord = 0").replace("\"left\"", "\"up\"");
    let errors = Plan::parse(&text).unwrap_err().0;
    assert_eq!(errors.iter().map(|e| e.line).collect::<Vec<_>>(), [4, 8, 13]);
}

#[test]
fn noise_and_size_are_refused_quickly() {
    let noise: String =
        (0..1_000_000u32).map(|i| char::from((i.wrapping_mul(2_654_435_761) >> 24) as u8)).collect();
    for text in [noise.as_str(), "", "\0\0\0", &"x".repeat(5 << 20), "[[[[[[", "format = 1"] {
        assert!(Plan::parse(text).is_err());
    }
    let deep = format!("format = 1\nx = {}{}", "[".repeat(50_000), "]".repeat(50_000));
    assert!(Plan::parse(&deep).is_err());
}

#[test]
fn five_thousand_stations_read_and_one_is_refused() {
    let mut text = "format = 1\n[wing]\nname = \"long\"\nside = \"right\"\n".to_owned();
    for i in 0..5000 {
        text += &format!("[[station]]\nname = \"S{i}\"\nspan = {i}\nchord = 10\nincidence = 0\n");
    }
    text += "[[stage]]\nname = \"all\"\nrequires = [\"incidence@*\"]\n";
    let plan = Plan::parse(&text).unwrap();
    assert_eq!(plan.stages[0].requires.len(), 5000);
    let one = SMALL.split("[[station]]\nname = \"S2\"").next().unwrap();
    assert!(Plan::parse(one).unwrap_err().to_string().contains("at least two stations; the plan has 1"));
}
