//! Mistakes in a plan: the position of the mark, and the message.
#![expect(clippy::panic, reason = "a plan read by mistake ends the test")]

use crate::plans::{WHOLE, spoiled};
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

/// Spoils the whole plan in one place; the first mistake must be marked at `marked` and contain these words.
#[track_caller]
fn refused(from: &str, to: &str, marked: &str, words: &[&str]) {
    let errors = mistakes(&spoiled(from, to));
    let first = &errors.errors()[0];
    let shown = errors.to_string();
    let text = spoiled(from, to);
    let line = text.lines().nth(first.line - 1).unwrap_or_default();
    let at: String = line.chars().skip(first.column - 1).take(first.width).collect();
    assert_eq!(at, marked, "{shown}");
    for word in words {
        assert!(shown.contains(word), "wanted {word:?} in:\n{shown}");
    }
}

/// A log whose plan is spoilt so opens, with a remark.
#[track_caller]
fn accepted_once(from: &str, to: &str, words: &str) {
    let remarks = Plan::parse_logged(&spoiled(from, to)).map(|plan| plan.remarks).unwrap_or_default();
    assert!(remarks.iter().any(|remark| remark.contains(words)), "{remarks:?}");
}

#[test]
fn the_unspoilt_plan_is_accepted() {
    assert!(Plan::parse(WHOLE).is_ok());
}

#[test]
fn a_mistake_is_shown_with_a_mark_under_it() {
    let errors = mistakes(&spoiled("chord = 1000", "chrod = 1000")).to_string();
    let expected = "line 25, column 1: a [[station]] has no key `chrod`\n  | chrod = 1000\n  | ^^^^^\n  did you mean `chord`?";
    assert!(errors.contains(expected), "{errors}");
    assert!(errors.contains("a [[station]] lacks `chord`"), "{errors}");
    // The mark is under the comma, inside the quotes.
    let errors = mistakes(&spoiled("\"2°\"", "\"2,5\"")).to_string();
    assert!(errors.contains("  | incidence = \"2,5\"\n  |               ^^"), "{errors}");
}

#[test]
fn wrong_keys_and_words_are_refused() {
    refused("[[spar]]", "[[spra]]", "spra", &["a plan has no key `spra`", "did you mean `spar`?"]);
    refused(
        "fixture",
        "zebra",
        "zebra",
        &["known here: chord, fixture, height_angle, incidence, name, span"],
    );
    refused(
        "\"left\"",
        "\"lefty\"",
        "\"lefty\"",
        &["`side` must be one of \"left\", \"right\"", "did you mean \"left\"?"],
    );
    refused("\"left\"", "1", "1", &["must be one of"]);
    refused(
        "side = \"left\"\n",
        "",
        "[wing]",
        &["[wing] lacks `side`", "side = \"left\" or side = \"right\""],
    );
    refused(
        "\"torque\"",
        "\"torq\"",
        "\"torq\"",
        &["\"angle\", \"length\", \"torque\", \"temperature\", \"force\""],
    );
    refused("quantity = \"torque\"\n", "", "[[spot]]", &["a [[spot]] lacks `quantity`"]);
    refused("name = \"whole\"\n", "", "[wing]", &["[wing] lacks `name`"]);
    refused("[[bay]]", "[bay]", "[bay]", &["`bay` must be a list of tables, each headed [[bay]]"]);
    refused("[shaft]", "[[shaft]]", "[[shaft]]", &["`shaft` must be a table"]);
    refused("clockwise = \"raises\"", "clockwise = \"aft\"", "\"aft\"", &["\"raises\", \"lowers\""]);
    refused(
        ", clockwise = \"forward\"",
        "",
        "{ per_turn = \"1/16 in\" }",
        &["lacks `clockwise`", "clockwise = \"aft\""],
    );
}

#[test]
fn wrong_numbers_and_units_are_refused() {
    for (value, words) in [
        ("-3", "zero or more"),
        ("nan", "finite"),
        ("-inf", "finite"),
        ("1e300", "length goes from -100 m to 100 m"),
        ("0x10", "a number in mm, or a text with its unit"),
        ("true", "a number in mm, or a text with its unit"),
        ("[1]", "a number in mm, or a text with its unit"),
        ("\"2°\"", "a length is expected, but this is an angle"),
    ] {
        refused(
            "span = 0\nchord = 1000\nincidence = \"2°\"",
            &format!("span = {value}\nchord = 1\nincidence = 2"),
            value,
            &[words],
        );
    }
    refused("\"2°\"", "\"2 mm\"", "\"2 mm\"", &["an angle is expected, but this is a length"]);
    refused("\"2°\"", "95", "95", &["between -90° and 90°"]);
    refused("\"2°\"", "\"0°75'\"", "\"0°75'\"", &["go up to 59"]);
    refused("chord = 1000", "chord = 0", "0", &["above zero"]);
    refused("level = 0.95", "level = 0.9", "0.9", &["0.95, 0.975 or 0.99"]);
    refused("max_order = 3", "max_order = 5", "5", &["1, 2, 3 or 4"]);
    refused(
        "{ upper = 0.35 }",
        "{ upper = -0.5, lower = 0.35 }",
        "{ upper = -0.5, lower = 0.35 }",
        &["lower (0.35) must be below upper (-0.5)"],
    );
    refused("{ upper = 0.35 }", "{}", "{}", &["lower, upper or both"]);
    refused("\"0.5 deg\"", "-0.5", "-0.5", &["above zero"]);
    refused(
        "\"1/16 in\"\nspacing",
        "{ upper = 1 }\nspacing",
        "{ upper = 1 }",
        &["`straightness` must be a number in mm"],
    );
    refused("tension = 50\n", "", "[[line]]", &["lacks `tension`", "neither"]);
    refused("tension = 50", "tension = 0", "0", &["above zero"]);
    refused("expansion = 23.0e-6", "expansion = 23", "23", &["from 0 to 0.001"]);
    refused("scale = 0.001", "scale = -0.001", "-0.001", &["from 0 to 0.5"]);
    refused("resolution = \"0°06'\"", "resolution = 0", "0", &["above zero"]);
    refused("travel = 5", "travel = -5", "-5", &["zero or more"]);
    refused("[0.5, 0.1, \"0.2 mm\"]", "[]", "[]", &["thicknesses above zero"]);
    refused("[0.5, 0.1, \"0.2 mm\"]", "[0.0, 0.1]", "[0.0, 0.1]", &["thicknesses above zero"]);
    refused("travel = 5\n", "", "[[support]]", &["lacks `travel`"]);
    refused(
        "[0.5, 0.1, \"0.2 mm\"]",
        "[0.1]\nscrew = { per_turn = 1, clockwise = \"raises\" }",
        "[0.1]",
        &["not both"],
    );
    refused(
        "direction = \"up\"\n[[line]]",
        "direction = \"up\"\ntravel = 3\n[[line]]",
        "[[support]]",
        &["a screw or shims"],
    );
    refused("place = 1\n", "", "[[spot]]", &["lacks `place`"]);
    refused("2032-01-10\n", "\"2032-13-10\"\n", "\"2032-13-10\"", &["is not a date"]);
    refused("2032-01-10\n", "\"2030-01-10\"\n", "\"2030-01-10\"", &["on or after the day it was checked"]);
}

#[test]
fn wrong_names_are_refused() {
    refused("\"S2\"", "\"S1\"", "\"S1\"", &["already a station named `S1`"]);
    refused("\"rear\"\naft_root", "\"front\"\naft_root", "\"front\"", &["already a spar named `front`"]);
    refused("\"tip front\"", "\"fore\"", "\"fore\"", &["already a support or foot named `fore`"]);
    refused("[\"D1\", \"D2\"]", "[\"D1\", \"D1\"]", "\"D1\"", &["already a diagonal named `D1`"]);
    refused("\"ready\"", "\"bare\"", "\"bare\"", &["already a stage named `bare`"]);
    refused("\"CS1\"", "\"bolt 1\"", "\"bolt 1\"", &["already a spot check named `bolt 1`"]);
    refused("\"B1\"", "\"B2\"", "\"B2\"", &["already a bush named `B2`"]);
    for (from, to, words) in [
        ("\"S2\"", "\"s1\"", "the station `s1` differs from the station `S1` only in capitals"),
        ("\"CS1\"", "\"Bolt 1\"", "the spot check `Bolt 1` differs from the spot check `bolt 1`"),
        ("\"fore\"", "\"Tip front\"", "the support or foot `Tip front` differs"),
    ] {
        refused(from, to, to, &[words]);
        accepted_once(from, to, words);
    }
    for (name, words) in [
        ("\"S@2\"", "must not contain `@`"),
        ("\"S:2\"", "must not contain `:`"),
        ("\"S*\"", "must not contain `*`"),
        ("\"S\\n2\"", "one line"),
        ("\"S\\u001b2\"", "control characters"),
        ("\" S2\"", "begin or end with a space"),
        ("\"\"", "must not be empty"),
        ("2", "a text in quotes"),
    ] {
        refused("\"S2\"", name, name, &[words]);
    }
    refused(
        "\"S2\"",
        &format!("\"{}\"", "x".repeat(81)),
        &format!("\"{}\"", "x".repeat(81)),
        &["at most 80 characters"],
    );
}

#[test]
fn parts_that_do_not_fit_together_are_refused() {
    refused(
        "span = \"1.5 m\"\nchord",
        "span = 0\nchord",
        "[[station]]",
        &["all 2 stations are at the same span, 0 mm"],
    );
    refused("root = 0", "root = 1500", "1500", &["must be inboard of the tip datum"]);
    refused("spar = \"rear\"", "spar = \"raer\"", "\"raer\"", &["no spar `raer`", "did you mean \"rear\"?"]);
    refused("bore = 30.3", "bore = 30", "30", &["the bore of `B2` must be wider than the shaft, 30 mm"]);
    let third = "[[station]]\nname = \"S3\"\nspan = 1500\nchord = 9\nincidence = 0\n[[spar]]";
    refused("[[spar]]", third, "1500", &["`S2` and `S3` are both at 1500 mm"]);
    let near = third.replace("1500", "1500.0000001");
    let words = ["`S2` and `S3` are less than 0.1 mm apart", "give each rib one station"];
    refused("[[spar]]", &near, "1500.0000001", &words);
    accepted_once("[[spar]]", &near, "less than 0.1 mm apart");
    let line = "[[line]]\nspar = \"front\"\ndirection = \"aft\"\n[[bay]]";
    refused("[[bay]]", line, "\"front\"", &["already a line along a spar named `front`"]);
    let hole = "[[spot]]\nname = \"CS2\"\nquantity = \"length\"\nrow = \"top\"\nplace = 1\n[[instrument]]";
    refused("[[instrument]]", hole, "\"top\"", &["same place of a row", "top, place 1"]);
}

#[test]
fn patterns_that_match_nothing_are_refused() {
    refused(
        "\"spot@*\"",
        "\"spto@*\"",
        "\"spto@*\"",
        &["`spto@*` names no point", "did you mean `spot@bolt 1`?"],
    );
    refused("\"spot@*\"", "\"spot@rivet *\"", "\"spot@rivet *\"", &["spot points can be at bolt 1, CS1"]);
    refused("\"spot@*\"", "\"height@middle:*\"", "\"height@middle:*\"", &["height points can be at S1, S2"]);
    refused("\"spot@*\"", "\"incidence@S11\"", "\"incidence@S11\"", &["did you mean `incidence@S1`?"]);
    refused("\"spot@*\"", "\"S1\"", "\"S1\"", &["write what is measured, @, and where"]);
    let bare = "format = 1\n[wing]\nname = \"w\"\nside = \"left\"\n[[station]]\nname = \"A\"\nspan = 0\nchord = 1\nincidence = 0\n\
                [[station]]\nname = \"B\"\nspan = 1\nchord = 1\nincidence = 0\n[[stage]]\nname = \"s\"\nrequires = [\"bore@*\"]\n";
    let shown = mistakes(bare).to_string();
    assert!(
        shown.contains("`bore@*` names no point of this plan") && shown.contains("the plan has no place"),
        "{shown}"
    );
}

#[test]
fn a_text_that_is_not_toml_is_refused() {
    refused("span = 0\nchord", "span = 0,35\nchord", ",", &["write the decimal mark as a point"]);
    refused("span = 0\nchord", "span = 3.2 mm\nchord", "3.2 mm", &["span = \"3.2 mm\""]);
    refused("span = 0\nchord", "span = 5/64 in\nchord", "5/64 in", &["span = \"5/64 in\""]);
    refused("\"whole\"", "\"whole", "", &["put texts in quotes"]);
    refused("span = 0\nchord", "span =\nchord", "", &["write a value after span ="]);
    refused("note = \"one of each\"", "one of each", "o", &["key = value"]);
    refused("side = \"left\"", "side = \"left\"\nside = \"left\"", "side", &["duplicate key"]);
}

#[test]
fn other_formats_are_refused() {
    refused("format = 1", "", "", &["a plan lacks `format`", "write format = 1 at the top"]);
    refused("format = 1", "format = 0", "0", &["`format` must be 1"]);
    refused("format = 1", "format = \"one\"", "\"one\"", &["a whole number"]);
    let newer = mistakes(&spoiled("format = 1", "format = 2\nwonder = 3"));
    assert_eq!(newer.errors().len(), 1, "a newer form is not judged by this one: {newer}");
    assert!(newer.to_string().contains("written for a newer program"), "{newer}");
}

#[test]
fn several_mistakes_are_shown_at_once_in_the_order_of_the_text() {
    let text = WHOLE
        .replace("chord = 1000", "chord = 0")
        .replace("\"left\"", "\"up\"")
        .replace("max_order = 3", "max_order = 0");
    let lines: Vec<usize> = mistakes(&text).errors().iter().map(|e| e.line).collect();
    assert_eq!(lines, [4, 15, 25, 32]);
}

#[test]
fn a_long_line_is_shown_around_the_mistake_without_control_characters() {
    let long = format!("note = \"{}\" , side = \"left\"", "n".repeat(300));
    let shown = mistakes(&spoiled("note = \"one of each\"", &long)).to_string();
    assert!(shown.lines().all(|line| line.chars().count() <= 160), "{shown}");
    let shown = mistakes(&spoiled("\"left\"", "\"le\u{202e}ft\"")).to_string();
    assert!(!shown.contains('\u{202e}'), "{shown}");
}
