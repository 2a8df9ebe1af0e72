//! What may never turn a hold into a clear: a tighter limit, a new one, a worse instrument, withdrawing a reading
//! that was not the reason. And what may change nothing: the order of readings, and other parts of the plan.

use crate::whole::{Build, Way, plan_text};
use crate::wing::shows;
use assess::view::Verdict;
use assess::{Assessment, Chain, assess};
use proptest::prelude::*;
use record::{Entry, GateState, Plan, Point, What};
use std::collections::BTreeMap;

fn judged(build: &Build) -> Assessment {
    assess(&build.plan, &build.entries, &Chain::Whole)
}

/// The state of each obligation, by name.
fn states(a: &Assessment) -> BTreeMap<String, Verdict> {
    a.gate.obligations.iter().map(|o| (format!("{:?} {}", o.kind, o.about), o.state)).collect()
}

/// A wing on which one point reads wrong, by that part of what must be noticed.
fn off(way: Way, seed: u64, which: usize, part: f64) -> (Build, Point) {
    let mut build = Build::clear(way, seed);
    let points = build.required();
    let point = points[which % points.len()].clone();
    let by = part * point.kind().row().spoilers.apart / 8.0;
    for entry in &mut build.entries {
        if let What::Reading(r) = &mut entry.what
            && r.point == point
        {
            shows(r, r.value + r.facing.map_or(1.0, record::Facing::sign) * by);
        }
    }
    (build, point)
}

/// The same log under another plan.
fn under(build: &Build, change: impl Fn(String) -> String) -> Build {
    let mut other = build.clone();
    if let What::Started { plan, .. } = &mut other.entries[0].what {
        *plan = change(plan.clone());
        other.plan = Plan::parse(plan).unwrap();
    }
    other
}

const TIGHTER: [(&str, &str); 12] = [
    ("\nsetting = 0.5", "\nsetting = 0.2"),
    ("\nwashout = 0.3", "\nwashout = 0.15"),
    ("\nstation = 0.3", "\nstation = 0.15"),
    ("\nstraightness = 1.5", "\nstraightness = 0.6"),
    ("\nlevel = 0.15", "\nlevel = { lower = -0.15, upper = 0.08 }"),
    ("\nsquare = 0.2", "\nsquare = 0.1"),
    ("\nspacing = 2.0", "\nspacing = { lower = -0.7, upper = 2.0 }"),
    ("\nclearance = 0.05", "\nclearance = 0.12"),
    ("\ntolerance = 0.3", "\ntolerance = 0.15"),
    ("\ntolerance = 5", "\ntolerance = 1"),
    ("\nlower = 8.0\nupper = 11.0", "\nlower = 8.8\nupper = 9.8"),
    ("\nyaw = 0.1", "\nyaw = 0.03\noffset = 3"),
];

/// An instrument's accuracy and repeatability made twice as large.
fn worse(text: String) -> String {
    let twice = |line: &str| match line.split_once(" = ") {
        Some((key @ ("accuracy" | "repeatability"), value)) => {
            format!("{key} = {:?}", 2.0 * value.parse::<f64>().unwrap())
        }
        _ => line.to_owned(),
    };
    text.lines().map(twice).collect::<Vec<_>>().join("\n")
}

fn way() -> impl Strategy<Value = Way> {
    prop::sample::select(Way::ALL.to_vec())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn nothing_stricter_or_less_certain_meets_more(
        way in way(), seed in 0u64..100, which in 0usize..1000, part in -1.5f64..1.5, limit in 0usize..12,
    ) {
        let (build, point) = off(way, seed, which, part);
        let before = states(&judged(&build));
        let (from, to) = TIGHTER[limit];
        let stricter = [
            under(&build, |text| text.replace(from, to)),
            under(&build, worse),
            under(&build, |text| text.replace("[tolerance]", "[rule]\nlevel = 0.99\n[tolerance]")),
        ];
        for (i, other) in stricter.iter().enumerate() {
            // A contradiction may become smaller if more is allowed for: that is doubt, not a limit.
            for (about, state) in states(&judged(other)) {
                let was = before.get(&about).copied();
                let more = state == Verdict::Within && was.is_some_and(|s| s != Verdict::Within);
                prop_assert!(!more || was == Some(Verdict::Doubtful), "{i}: {about} by {point} was {was:?}");
            }
        }
    }

    #[test]
    fn withdrawing_a_reading_that_is_not_the_reason_never_clears(
        way in way(), seed in 0u64..100, which in 0usize..1000, part in 0.2f64..1.5, other in 0usize..1000,
    ) {
        let (mut build, point) = off(way, seed, which, part);
        prop_assume!(judged(&build).gate.state == GateState::Hold);
        let others: Vec<u64> = build
            .entries
            .iter()
            .filter(|e| matches!(&e.what, What::Reading(r) if r.point.kind() != point.kind()))
            .map(|e| e.seq)
            .collect();
        let seq = others[other % others.len()];
        build.happens(What::Withdrawn { seq, reason: "slipped".to_owned() });
        let a = judged(&build);
        prop_assert_eq!(a.gate.state, GateState::Hold, "entry {} withdrawn, {} off", seq, point);
    }

    #[test]
    fn neither_order_nor_other_parts_of_the_plan_change_a_verdict(
        way in way(), seed in 0u64..100, which in 0usize..1000, part in -1.5f64..1.5, turn in 1usize..60,
    ) {
        let (build, _) = off(way, seed, which, part);
        let before = states(&judged(&build));
        // The readings of the closing stage, begun at another place of the walk.
        let mut other = build.clone();
        let start = other.entries.iter().rposition(|e| matches!(e.what, What::Stage(_))).unwrap() + 1;
        let walk = &mut other.entries[start..];
        // A pair stays together, as it was read.
        let cut = (turn..walk.len()).find(|i| point_of(&walk[i - 1]) != point_of(&walk[*i])).unwrap_or(0);
        walk.rotate_left(cut);
        let times: Vec<(u64, record::At)> = build.entries.iter().map(|e| (e.seq, e.at)).collect();
        for (entry, (seq, at)) in other.entries.iter_mut().zip(times) {
            (entry.seq, entry.at) = (seq, at);
        }
        prop_assert_eq!(&states(&judged(&other)), &before);
        let besides = "[[spot]]\nname = \"besides\"\nquantity = \"length\"\n[[instrument]]\nname = \"another\"\n\
                       kind = \"tape\"\nresolution = 1.0\naccuracy = 5.0\n[[stage]]\nname = \"jig\"";
        let wider = under(&build, |text| {
            let text = text.replace("\"spot@*\"", "\"spot@bolt\", \"spot@gap\"");
            text.replacen("[[stage]]\nname = \"jig\"", besides, 1)
        });
        prop_assert_eq!(&states(&judged(&wider)), &before);
    }
}

fn point_of(entry: &Entry) -> Option<&Point> {
    if let What::Reading(r) = &entry.what { Some(&r.point) } else { None }
}

/// The plan has every limit that is tightened above, so that each test tries something.
#[test]
fn every_limit_is_there_to_be_tightened() {
    let all: String = Way::ALL.map(plan_text).concat();
    for (from, _) in TIGHTER {
        assert!(all.contains(from), "{from}");
    }
    assert_ne!(worse(all.clone()), all);
}
