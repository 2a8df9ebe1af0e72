//! Large, hostile and broken texts are refused with a message, quickly, without a panic.
#![expect(clippy::panic, reason = "a plan read by mistake ends the test")]

use crate::plans::spoiled;
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use record::Plan;
use record::plan::PlanErrors;

/// The mistakes in a text that must not be accepted as a plan.
#[track_caller]
fn mistakes(text: &str) -> PlanErrors {
    match Plan::parse(text) {
        Ok(_) => panic!("this was read as a plan:\n{text}"),
        Err(errors) => errors,
    }
}

fn long_plan(stations: usize, more: &str) -> String {
    let mut text = "format = 1\n[wing]\nname = \"long\"\nside = \"right\"\n".to_owned();
    for i in 0..stations {
        text += &format!("[[station]]\nname = \"S{i}\"\nspan = {i}\nchord = 10\nincidence = 0\n");
    }
    text + more
}

#[test]
fn a_plan_of_five_thousand_stations_on_two_spars_is_read() {
    let spars = "[[spar]]\nname = \"front\"\naft_root = 3\n[[spar]]\nname = \"rear\"\naft_root = 7\n";
    let stages = "[[stage]]\nname = \"all\"\nrequires = [\"incidence@*\", \"height@*\"]\n";
    let plan = Plan::parse(&long_plan(5000, &format!("{spars}{stages}"))).unwrap();
    assert_eq!(plan.stages[0].requires.len(), 15_000);
}

#[test]
fn too_few_stations_and_too_many_points_are_refused() {
    for stations in [0, 1] {
        let shown = mistakes(&long_plan(stations, "")).to_string();
        assert!(shown.contains(&format!("at least two stations; the plan has {stations}")), "{shown}");
    }
    let shown = mistakes(&long_plan(10_001, "")).to_string();
    assert!(shown.contains("at most 10000"), "{shown}");
    let spars: String = (0..2000).map(|i| format!("[[spar]]\nname = \"P{i}\"\naft_root = 3\n")).collect();
    let shown = mistakes(&long_plan(5000, &spars)).to_string();
    assert!(shown.contains("has 40010000 points"), "{shown}");
    let patterns: Vec<String> = (0..5_000).map(|i| format!("\"*S{i}\"")).collect();
    let stage = format!("[[stage]]\nname = \"all\"\nrequires = [{}]\n", patterns.join(","));
    let shown = mistakes(&long_plan(5000, &stage)).to_string();
    assert!(shown.contains("too many patterns"), "{shown}");
}

#[test]
fn many_mistakes_are_counted_and_a_few_shown() {
    let text = long_plan(5000, "").replace("chord = 10", "chord = -10");
    let errors = mistakes(&text);
    assert_eq!((errors.errors().len(), errors.more()), (20, 4980));
    assert!(errors.to_string().ends_with("and 4980 more"));
    let keys: String = (0..200_000).map(|i| format!("k{i} = 1\n")).collect();
    assert_eq!(mistakes(&format!("format = 1\n{keys}")).errors().len(), 20);
}

#[test]
fn noise_and_oversize_texts_are_refused() {
    let noise: String =
        (0..1_000_000_u32).map(|i| char::from((i.wrapping_mul(2_654_435_761) >> 24) as u8)).collect();
    let printable: String = noise.chars().map(|c| if c.is_control() { '=' } else { c }).collect();
    let long_key = format!("format = 1\n{} = 1", "x".repeat(3 << 20));
    let deep_list = format!("format = 1\nx = {}{}", "[".repeat(50_000), "]".repeat(50_000));
    let deep_keys = format!("format = 1\n{}x = 1", "a.".repeat(500_000));
    let deep_tables = format!("format = 1\nx = {}", "{x = ".repeat(50_000));
    for (text, words) in [
        (noise.as_str(), "not text"),
        (&printable, ""),
        ("", "the plan is empty"),
        (" \r\n\t\n", "the plan is empty"),
        ("\0\0\0", "not text"),
        (&"x".repeat(5 << 20), "at most 4 MiB"),
        ("[[[[[[", ""),
        ("format = 1", "lacks `[wing]`"),
        (&long_key, "has no key `xxx"),
        (&deep_list, ""),
        (&deep_keys, ""),
        (&deep_tables, ""),
    ] {
        let shown = mistakes(text).to_string();
        assert!(shown.contains(words) && shown.len() < 20_000, "{words}: {shown}");
    }
}

/// A plan with any part cut out or inserted is read or refused, without a panic; the refusal points into the text.
#[test]
fn a_damaged_plan_is_read_or_refused() {
    let config = Config { cases: 1500, failure_persistence: None, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::from_seed(RngAlgorithm::ChaCha, &[11; 32]));
    let insert = prop::sample::select(vec![
        "",
        "\"",
        "'",
        "[",
        "]",
        "{",
        "}",
        "=",
        "\n",
        ",",
        "-",
        "1e999",
        "nan",
        "°",
        "#",
        "[[station]]\n",
        "*",
        "@",
        "0x",
        "\\",
        "\u{202e}",
        "\t",
        "\r\n",
        "true",
        "\"\"\"",
        "[wing]\n",
        "span = -1\n",
    ]);
    let whole = spoiled("level = 0.95", "level = 0.975");
    let strategy = (0..whole.len(), 0_usize..30, insert);
    runner
        .run(&strategy, |(at, cut, put)| {
            let start = (0..=at).rev().find(|n| whole.is_char_boundary(*n)).unwrap_or(0);
            let end = (start + cut..=whole.len()).find(|n| whole.is_char_boundary(*n)).unwrap_or(whole.len());
            let text = format!("{}{put}{}", &whole[..start], &whole[end..]);
            if let Err(errors) = Plan::parse(&text) {
                prop_assert!(!errors.errors().is_empty());
                for error in errors.errors() {
                    prop_assert!(error.line <= text.lines().count() + 1, "{}", error);
                    prop_assert!(!error.what.to_string().is_empty());
                }
            }
            Ok(())
        })
        .unwrap();
}
