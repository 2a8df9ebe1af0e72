//! What differs between two plans, and which differences are looser.
#![expect(clippy::panic, reason = "a plan refused ends the test")]

use crate::plans::WHOLE;
use record::Plan;
use record::plan::{PlanChange, PlanText, changes};

/// `WHOLE` with stages, record-only points and an instrument with a date.
fn old() -> String {
    WHOLE.replacen("format = 1\n", "format = 1\nrecord_only = [\"spacing@S1\"]\n", 1)
        + "\n[[stage]]\nname = \"first\"\nrequires = [\"incidence@*\"]\ndisturbs = [\"incidence@*\"]\nopen = [\"a bolt\"]\n\
           [[stage]]\nname = \"second\"\n\
           [[rework]]\nof = [\"bore@B1\"]\nstales = [\"bore-*@*\"]\n\
           [[instrument]]\nname = \"new level\"\nkind = \"inclinometer\"\nresolution = 0.1\naccuracy = 0.2\ndue = 2031-01-01\n"
}

fn read(text: &str) -> Plan {
    Plan::parse(text).unwrap_or_else(|e| panic!("{e}\n{text}"))
}

fn between(old: &str, new: &str) -> Vec<PlanChange> {
    let (before, after) = (read(old), read(new));
    changes(&PlanText { text: old, plan: &before }, &PlanText { text: new, plan: &after })
}

/// Each kind of loosening is found under its key, and the reverse change is not a loosening.
#[test]
fn every_kind_of_loosening_is_found_and_its_reverse_is_none() {
    let old = old();
    for (from, to, said) in [
        ("setting = \"0.5 deg\"", "setting = \"0.6 deg\"", "tolerance.setting 0.5 deg -> 0.6 deg"),
        ("setting = \"0.5 deg\"\n", "", "tolerance.setting 0.5 deg -> not there"),
        (
            "washout = { upper = 0.35 }",
            "washout = { upper = 0.36 }",
            "tolerance.washout { upper = 0.35 } -> { upper = 0.36 }",
        ),
        ("straightness = \"1/16 in\"", "straightness = 2", "tolerance.straightness 1/16 in -> 2"),
        ("spacing = 2\n", "spacing = 20\n", "tolerance.spacing 2 -> 20"),
        ("acceptance = \"guarded\"", "acceptance = \"simple\"", "rule.acceptance guarded -> simple"),
        ("max_order = 3", "max_order = 2", "rule.max_order 3 -> 2"),
        ("requires = [\"incidence@*\"]", "requires = [\"incidence@S1\"]", "stage.first.requires"),
        ("disturbs = [\"incidence@*\"]\n", "", "stage.first.disturbs"),
        ("open = [\"a bolt\"]\n", "", "stage.first.open"),
        ("[[stage]]\nname = \"second\"\n", "", "stage.second in the plan -> not there"),
        ("open = [\"a bolt\"]\n", "open = [\"a bolt\"]\ncloses = true\n", "closing stage second -> first"),
        (
            "record_only = [\"spacing@S1\"]",
            "record_only = [\"spacing@*\"]",
            "record_only [spacing@S1] -> [spacing@*]",
        ),
        ("accuracy = 0.2", "accuracy = 0.1", "instrument.new level.accuracy 0.2 -> 0.1"),
        ("due = 2031-01-01", "due = 2032-01-01", "instrument.new level.due 2031-01-01 -> 2032-01-01"),
        ("[[rework]]\nof = [\"bore@B1\"]\nstales = [\"bore-*@*\"]\n", "", "rework"),
        ("clearance = 0.05\n", "", "shaft.clearance"),
    ] {
        assert!(old.contains(from), "`{from}` is not in the test's plan");
        let new = old.replacen(from, to, 1);
        let found = between(&old, &new);
        let looser: Vec<String> = found.iter().filter(|c| c.looser).map(ToString::to_string).collect();
        assert!(looser.iter().any(|words| words.starts_with(said)), "{from} to {to}: {found:?}");
        let back = between(&new, &old);
        assert!(back.iter().all(|c| !c.looser), "{to} back to {from}: {back:?}");
        assert!(!back.is_empty());
    }
}

/// By another design a rib that was outside is within, without a wider limit: somebody says why, as for a limit. Going back is
/// another design as well. What the old plan does not judge cannot pass more easily.
#[test]
fn another_design_is_looser_both_ways() {
    let old = old();
    for (from, to, said) in [
        ("incidence = \"2°\"", "incidence = \"2.1°\"", "design angle as it was -> another for S1"),
        ("height_angle = -0.2", "height_angle = 0.2", "design angle as it was -> another for S1"),
        ("span = \"1.5 m\"", "span = \"1.49 m\"", "design place as it was -> another for S2"),
        ("tip = \"1.5 m\"", "tip = \"1.4 m\"", "root or tip datum as it was -> another for the wing"),
        ("aft_tip = 600", "aft_tip = 610", "place of a spar as it was -> another for rear"),
        ("weight = 0.0151", "weight = 0.02", "line along a spar as it was -> another for front"),
        ("span = 1400", "span = 1300", "place of a bush as it was -> another for B2"),
    ] {
        assert!(old.contains(from), "`{from}` is not in the test's plan");
        let new = old.replacen(from, to, 1);
        for found in [between(&old, &new), between(&new, &old)] {
            let looser: Vec<String> = found.iter().filter(|c| c.looser).map(ToString::to_string).collect();
            assert_eq!(looser, [said], "{from}: {found:?}");
        }
    }
    let thinner = old.replacen("diameter = 30", "diameter = 29", 1);
    let looser = |old: &str, new: &str| between(old, new).iter().any(|c| c.looser);
    assert!(looser(&old, &thinner) && !looser(&thinner, &old));
    let unjudged = old.replacen("clearance = 0.05\n", "", 1);
    assert!(!looser(&unjudged, &unjudged.replacen("diameter = 30", "diameter = 29", 1)));
}

#[test]
fn other_changes_are_listed_and_the_same_plan_has_none() {
    let old = old();
    assert!(between(&old, &old).is_empty());
    for (from, to, key) in [
        ("chord = 1000", "chord = 1001", "station.S1.chord"),
        ("diameter = 30", "diameter = 30.1", "shaft.diameter"),
        ("setting = \"0.5 deg\"", "setting = \"0.4 deg\"", "tolerance.setting"),
        ("note = \"one of each\"", "note = \"another\"", "wing.note"),
        ("travel = 5\n", "travel = 6\n", "support.tip front.travel"),
        ("accuracy = 0.2", "accuracy = 0.3", "instrument.new level.accuracy"),
    ] {
        let found = between(&old, &old.replacen(from, to, 1));
        let keys: Vec<(&str, bool)> = found.iter().map(|c| (c.key.as_str(), c.looser)).collect();
        assert_eq!(keys, [(key, false)], "{from}");
    }
    let wider = "station = { lower = \"-0°20'\", upper = \"0°40'\" }";
    let found = between(&old, &old.replacen(wider, "station = 1", 1));
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].open_item(), "looser: tolerance.station { lower = -0°20', upper = 0°40' } -> 1");
}
