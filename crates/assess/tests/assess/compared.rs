//! Left against right: a difference proves no more than the weaker of the two wings, whichever is given first.
//!
//! The rules are those of one wing (a doubt changes the verdict wherever it is shown; what has no value is missing); that the answer may
//! not depend on the order follows from left less right being right less left with its sign turned.

use crate::wing::{Log, plan};
use assess::view::Comparison;
use assess::{Assessment, Broken, Chain, CompareError, Compared, Verdict, assess, compare_wings};
use proptest::prelude::*;
use quantity::{Degrees, Millimetres};
use record::plan::{Acceptance, Plan, Side};
use record::{InstrumentCheck, Limits, Point, PointKind, Rework, What};

/// A wing of six stations with a left-right tolerance, its plan open to change.
fn asked(side: Side) -> Plan {
    let mut plan = plan(6);
    plan.wing.side = side;
    plan.wing.name = format!("{} wing", side.word());
    plan.tolerances.left_right = Some(Limits::plus_minus(Degrees::new(0.4)));
    plan
}

/// The wing as designed but for `off`, in pairs.
fn log(plan: &Plan, off: &[f64]) -> Log {
    let mut log = Log::new();
    log.stage("ready to skin");
    for (s, off) in plan.stations.iter().zip(off) {
        log.pair(&s.name, s.incidence.value() + off, 0.1);
    }
    log
}

fn judge(plan: &Plan, log: &Log) -> Assessment {
    assess(plan, &log.entries, &Chain::Whole)
}

fn both_ways(left: (&Plan, &Log), right: (&Plan, &Log)) -> [Result<Comparison, CompareError>; 2] {
    let found = [judge(left.0, left.1), judge(right.0, right.1)];
    let [l, r] = [Compared { plan: left.0, found: &found[0] }, Compared { plan: right.0, found: &found[1] }];
    [compare_wings(l, r), compare_wings(r, l)]
}

const TRUE: [f64; 6] = [0.0; 6];

#[test]
fn two_good_wings_are_alike() {
    let (left, right) = (asked(Side::Left), asked(Side::Right));
    for found in both_ways((&left, &log(&left, &TRUE)), (&right, &log(&right, &TRUE))) {
        let found = found.unwrap();
        assert_eq!(found.verdict, Some(Verdict::Within), "{found:#?}");
        assert_eq!(found.stations.len(), 6);
    }
}

/// What spoils one wing.
type Spoiler = fn(&mut Plan, &mut Log);

/// A failed check, a due date gone by, a missing, stale, withdrawn or never read station: none leaves the pair within.
#[test]
fn what_proves_nothing_of_one_wing_proves_nothing_of_the_pair() {
    let spoilers: [(&str, Verdict, Spoiler); 8] = [
        ("check failed", Verdict::Doubtful, |_, log| {
            log.happens(What::InstrumentCheck(InstrumentCheck {
                instrument: "beam level".to_owned(),
                method: "reversal".to_owned(),
                found: 0.5,
                u: 0.01,
                passed: false,
            }));
        }),
        ("past due", Verdict::Doubtful, |plan, _| {
            plan.instruments[0].due = Some("2020-01-01".parse().unwrap())
        }),
        ("no accuracy, one way", Verdict::Doubtful, |plan, log| {
            plan.instruments[0].accuracy = None;
            log.entries
                .retain(|e| !matches!(&e.what, What::Reading(r) if r.facing == Some(record::Facing::Aft)));
        }),
        ("no instrument", Verdict::Doubtful, |_, log| {
            for e in &mut log.entries {
                if let What::Reading(r) = &mut e.what {
                    r.instrument = None;
                }
            }
        }),
        ("a station never read", Verdict::Missing, |_, log| {
            log.entries.retain(|e| !matches!(&e.what, What::Reading(r) if r.point.place() == "S3"));
        }),
        ("the tip never read", Verdict::Missing, |_, log| {
            log.entries.retain(|e| !matches!(&e.what, What::Reading(r) if r.point.place() == "S6"));
        }),
        ("worked on", Verdict::Stale, |_, log| {
            let points = vec![Point::at(PointKind::Incidence, "S3")];
            log.happens(What::Rework(Rework { points, what: "drilled off".to_owned() }));
        }),
        ("two left after", Verdict::Missing, |_, log| {
            let kept = ["S1", "S2"];
            log.entries.retain(|e| !matches!(&e.what, What::Reading(r) if !kept.contains(&r.point.place())));
        }),
    ];
    for (name, expected, spoil) in spoilers {
        // With tolerances of its own, and with that of the pair alone.
        for own in [true, false] {
            for side in [Side::Left, Side::Right] {
                let (mut left, mut right) = (asked(Side::Left), asked(Side::Right));
                let mut logs = [log(&left, &TRUE), log(&right, &TRUE)];
                let (plan, log) =
                    if side == Side::Left { (&mut left, &mut logs[0]) } else { (&mut right, &mut logs[1]) };
                spoil(plan, log);
                if !own {
                    for plan in [&mut left, &mut right] {
                        plan.tolerances.station = None;
                        plan.tolerances.washout = None;
                        plan.tolerances.setting = None;
                    }
                }
                for found in both_ways((&left, &logs[0]), (&right, &logs[1])) {
                    // With nothing in common there is no answer, and none is read as within.
                    let Ok(found) = found else { continue };
                    let verdict = found.verdict.unwrap();
                    assert!(
                        verdict != Verdict::Within && verdict != Verdict::Outside,
                        "{name} {own}: {found:#?}"
                    );
                    if own {
                        assert_eq!(verdict, expected.max(verdict), "{name}");
                    }
                    assert!(
                        !found.remarks.is_empty() || !found.not_compared.is_empty(),
                        "{name} says nothing"
                    );
                }
            }
        }
    }
}

/// A log that is not as it was written proves nothing, also where only the pair has a tolerance.
#[test]
fn nothing_is_within_beside_a_broken_log() {
    let [mut left, mut right] = [asked(Side::Left), asked(Side::Right)];
    for plan in [&mut left, &mut right] {
        plan.tolerances =
            record::plan::Tolerances { left_right: plan.tolerances.left_right, ..Default::default() };
    }
    let whole = judge(&left, &log(&left, &TRUE));
    let broken = Chain::Broken(Broken::new(std::io::Error::other("entry 4 is another"), Some(4)));
    let broken = assess(&right, &log(&right, &TRUE).entries, &broken);
    let [l, r] = [Compared { plan: &left, found: &whole }, Compared { plan: &right, found: &broken }];
    for found in [compare_wings(l, r), compare_wings(r, l)] {
        let found = found.unwrap();
        assert!(found.stations.iter().all(|s| s.difference.verdict == Some(Verdict::Doubtful)), "{found:#?}");
        assert_eq!(found.verdict, Some(Verdict::Doubtful));
    }
}

/// A tip station at another place is another station: a shorter wing is no pair, though both run from 0 to 1.
#[test]
fn stations_are_compared_at_the_same_span() {
    let (left, mut right) = (asked(Side::Left), asked(Side::Right));
    for s in &mut right.stations {
        s.span = Millimetres::new(s.span.value() * 0.8);
    }
    right.wing.tip = Millimetres::new(3200.0);
    for found in both_ways((&left, &log(&left, &TRUE)), (&right, &log(&right, &TRUE))) {
        let found = found.unwrap();
        let names: Vec<&str> = found.stations.iter().map(|s| s.name.as_str()).collect();
        // 0, and 3200 mm, which is S5 of the one and the tip of the other.
        assert_eq!(names.len(), 2, "{names:?}");
        assert!(found.parts.is_empty(), "{:?}", found.parts);
        assert_eq!(found.verdict, Some(Verdict::Missing));
        assert!(found.not_compared.iter().any(|n| n.contains("datums")), "{:?}", found.not_compared);
    }
}

/// Twist errors count from the setting at the root datum: from two different roots they have nothing in common.
#[test]
fn twist_from_another_root_is_not_compared() {
    let (left, mut right) = (asked(Side::Left), asked(Side::Right));
    right.wing.root = Millimetres::new(800.0);
    for found in both_ways((&left, &log(&left, &TRUE)), (&right, &log(&right, &TRUE))) {
        assert!(matches!(found, Err(CompareError::NothingInCommon)), "{found:?}");
    }
}

#[test]
fn what_the_two_plans_differ_in_is_said() {
    let (left, mut right) = (asked(Side::Left), asked(Side::Right));
    right.stations[3].incidence = Degrees::new(right.stations[3].incidence.value() + 0.3);
    right.tolerances.left_right = None;
    right.rule.acceptance = Acceptance::Simple;
    for found in both_ways((&left, &log(&left, &TRUE)), (&right, &log(&right, &TRUE))) {
        let found = found.unwrap();
        assert_eq!(found.verdict, Some(Verdict::Within));
        for words in ["S4: the two plans", "left-right tolerance", "rule of acceptance"] {
            assert!(found.remarks.iter().any(|r| r.contains(words)), "{words}: {:?}", found.remarks);
        }
    }
}

fn worst(found: &[Comparison; 2]) -> [Option<Verdict>; 2] {
    [found[0].verdict, found[1].verdict]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    /// Left less right is right less left turned round: the same verdict, and a tolerance or rule of the other plan only adds to it.
    #[test]
    fn the_order_of_two_wings_changes_no_verdict(
        off in proptest::array::uniform6(-0.6_f64..0.6),
        limits in proptest::array::uniform2((0.02_f64..0.9, 0.02_f64..0.9, any::<bool>())),
        levels in proptest::array::uniform2(prop_oneof![Just(0.95), Just(0.99)]),
        simple in any::<bool>(),
    ) {
        let (mut left, mut right) = (asked(Side::Left), asked(Side::Right));
        for (plan, (lower, upper, has)) in [&mut left, &mut right].into_iter().zip(limits) {
            let limits = Limits { lower: Some(Degrees::new(-lower)), upper: Some(Degrees::new(upper)) };
            plan.tolerances.left_right = has.then_some(limits);
        }
        (left.rule.level, right.rule.level) = (levels[0], levels[1]);
        if simple {
            right.rule.acceptance = Acceptance::Simple;
        }
        let logs = [log(&left, &TRUE), log(&right, &off)];
        let found = both_ways((&left, &logs[0]), (&right, &logs[1])).map(Result::unwrap);
        let [first, turned] = worst(&found);
        prop_assert_eq!(first, turned);
        for (a, b) in found[0].stations.iter().zip(&found[1].stations) {
            prop_assert!((a.difference.value + b.difference.value).abs() < 1e-12);
            prop_assert_eq!(a.difference.verdict, b.difference.verdict);
        }
        // By either plan alone it is no worse than by both.
        for one in [&left, &right] {
            let (mut l, mut r) = (left.clone(), right.clone());
            for plan in [&mut l, &mut r] {
                plan.rule = one.rule;
                plan.tolerances.left_right = one.tolerances.left_right;
            }
            let alone = both_ways((&l, &logs[0]), (&r, &logs[1])).map(Result::unwrap);
            prop_assert!(worst(&alone)[0].unwrap_or(Verdict::Within) <= first.unwrap_or(Verdict::Within).max(Verdict::Within));
        }
    }
}
