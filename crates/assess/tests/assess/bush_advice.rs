//! The advice for a shaft that binds, followed on a simulated wing, brings it within; or the advice says that it
//! cannot.

use crate::whole::{Build, Way};
use crate::wing::shows;
use assess::advice::{Advice, Remedy, advise};
use assess::view::Verdict;
use assess::{Assessment, Chain, assess};
use proptest::prelude::*;
use record::{Point, PointKind, What};

fn judged(build: &Build) -> Assessment {
    assess(&build.plan, &build.entries, &Chain::Whole)
}

fn advised(build: &Build, a: &Assessment) -> Advice {
    advise(&build.plan, &build.entries, a)
}

/// Moves a bush: changes what its centre reads by so much.
fn shift(build: &mut Build, bush: &str, aft: f64, up: f64) {
    for entry in &mut build.entries {
        if let What::Reading(r) = &mut entry.what {
            for (kind, by) in [(PointKind::BoreAft, aft), (PointKind::BoreUp, up)] {
                if r.point == Point::at(kind, bush) {
                    shows(r, r.value + by);
                }
            }
        }
    }
}

fn state(a: &Assessment) -> Verdict {
    a.gate.obligations.iter().find(|o| o.about == "tube").map(|o| o.state).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn the_advised_bush_frees_the_shaft(
        bush in 0usize..3, aft in -1.2f64..1.2, up in -1.2f64..1.2, seed in 0u64..50, level in 0usize..3,
    ) {
        let mut build = Build::clear(Way::Angles, seed);
        build.plan.rule.level = [0.95, 0.975, 0.99][level];
        shift(&mut build, ["B1", "B2", "B3"][bush], aft, up);
        let a = judged(&build);
        let advice = advised(&build, &a);
        let found = advice.findings.iter().find(|f| f.about == "tube");
        if state(&a) == Verdict::Within {
            prop_assert!(found.is_none(), "{:?}", found);
            return Ok(());
        }
        if let Remedy::Bush { bush, aft_mm, up_mm } = &found.unwrap().remedy {
            let mut moved = build.clone();
            shift(&mut moved, bush, *aft_mm, *up_mm);
            let now = judged(&moved);
            prop_assert_eq!(state(&now), Verdict::Within, "{:?} {:?}", found, now.bore_line);
            // Told to a hundredth of a millimetre, and made so.
            let mut told = build.clone();
            let hundredth = |mm: f64| (mm * 100.0).round() / 100.0;
            shift(&mut told, bush, hundredth(*aft_mm), hundredth(*up_mm));
            prop_assert_eq!(state(&judged(&told)), Verdict::Within, "as told: {:?}", found);
            // Half as far is not enough, so it is no needless move.
            let mut half = build.clone();
            shift(&mut half, bush, aft_mm / 2.0, up_mm / 2.0);
            prop_assert!(judged(&half).bore_line.unwrap().clearance.value < now.bore_line.unwrap().clearance.value);
        } else {
            prop_assert_eq!(state(&a), Verdict::Undecided, "{:?}", found);
        }
    }
}

/// If the gauge is too coarse for the clearance wanted, the advice says what would free the shaft, and that this
/// could not be proven.
#[test]
fn a_move_that_cannot_be_proven_says_so() {
    let mut build = Build::clear(Way::Angles, 1);
    shift(&mut build, "B2", 1.0, 0.0);
    for entry in &mut build.entries {
        if let What::Reading(r) = &mut entry.what
            && r.instrument.as_deref() == Some("gauge")
        {
            r.scatter = Some(0.3);
        }
    }
    let a = judged(&build);
    let advice = advised(&build, &a);
    let found = advice.findings.iter().find(|f| f.about == "tube").unwrap();
    let words = found.mend.join("\n");
    assert!(words.contains("too near its limit to be proven"), "{words}");
}
