//! What must make no difference: the order of readings, a constant on all angles, the side of the wing.

use crate::wing::{Log, plan};
use assess::view::Twist;
use assess::{Assessment, Chain, assess};
use proptest::prelude::*;
use record::plan::Side;
use record::{Facing, What};

fn profile(errors: &[f64], order: &[usize], constant: f64, side: Side) -> Assessment {
    let mut plan = plan(errors.len());
    plan.wing.side = side;
    let mut log = Log::new();
    log.stage("ready to skin");
    for &i in order {
        let station = &plan.stations[i];
        log.angle(&station.name, Facing::Forward, station.incidence.value() + errors[i] + constant);
    }
    assess(&plan, &log.entries, &Chain::Whole)
}

fn twist(a: &Assessment) -> &Twist {
    a.twist.as_ref().unwrap()
}

fn errors_and_order() -> impl Strategy<Value = (Vec<f64>, Vec<usize>)> {
    (3usize..14).prop_flat_map(|n| {
        let order: Vec<usize> = (0..n).collect();
        (prop::collection::vec(-0.6f64..0.6, n), Just(order).prop_shuffle())
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]

    #[test]
    fn the_order_of_readings_does_not_matter((errors, order) in errors_and_order()) {
        let straight: Vec<usize> = (0..errors.len()).collect();
        let one = profile(&errors, &straight, 0.0, Side::Left);
        let other = profile(&errors, &order, 0.0, Side::Left);
        prop_assert_eq!(twist(&one), twist(&other));
        prop_assert_eq!(&one.gate.state, &other.gate.state);
    }

    #[test]
    fn a_constant_on_all_angles_changes_the_setting_only((errors, order) in errors_and_order(), c in -3.0f64..3.0) {
        let one = profile(&errors, &order, 0.0, Side::Left);
        let other = profile(&errors, &order, c, Side::Left);
        let (a, b) = (twist(&one), twist(&other));
        prop_assert!((b.setting.judged().unwrap().value - a.setting.judged().unwrap().value - c).abs() < 1e-9);
        prop_assert!((a.setting.judged().unwrap().u - b.setting.judged().unwrap().u).abs() < 1e-9);
        prop_assert!((a.washout_error.judged().unwrap().value - b.washout_error.judged().unwrap().value).abs() < 1e-9);
        for (s, t) in a.stations.iter().zip(&b.stations) {
            prop_assert!((s.twist_error_deg.unwrap() - t.twist_error_deg.unwrap()).abs() < 1e-9);
            prop_assert!((s.u_deg.unwrap() - t.u_deg.unwrap()).abs() < 1e-9);
        }
    }

    #[test]
    fn a_mirrored_wing_gets_the_same_verdicts((errors, order) in errors_and_order()) {
        let left = profile(&errors, &order, 0.0, Side::Left);
        let right = profile(&errors, &order, 0.0, Side::Right);
        prop_assert_eq!(twist(&left), twist(&right));
        prop_assert_eq!(&left.gate, &right.gate);
    }

    #[test]
    fn another_seating_never_makes_a_point_less_certain(value in -5.0f64..5.0, more in 1usize..6) {
        let plan = plan(4);
        let mut log = Log::new();
        log.stage("ready to skin");
        let mut before = f64::INFINITY;
        for _ in 0..more {
            log.angle("S2", Facing::Forward, value);
            let a = assess(&plan, &log.entries, &Chain::Whole);
            let u = a.points.iter().find(|p| p.point.to_string() == "incidence@S2").unwrap().u.unwrap();
            prop_assert!(u <= before + 1e-15, "{} after {}", u, before);
            before = u;
        }
        log.angle("S2", Facing::Aft, -value);
        let a = assess(&plan, &log.entries, &Chain::Whole);
        let u = a.points.iter().find(|p| p.point.to_string() == "incidence@S2").unwrap().u.unwrap();
        prop_assert!(u <= before, "the pair has no shared zero: {} after {}", u, before);
    }

    #[test]
    fn another_station_never_makes_the_twist_less_certain((errors, _) in errors_and_order()) {
        // With order one and no scatter (readings exactly on a line) more stations only help, from five on, where
        // scatter shows little.
        let mut plan = plan(errors.len());
        plan.rule.max_order = Some(1);
        let mut log = Log::new();
        log.stage("ready to skin");
        let mut before = f64::INFINITY;
        for station in &plan.stations {
            log.angle(&station.name, Facing::Forward, station.incidence.value());
            let a = assess(&plan, &log.entries, &Chain::Whole);
            if let Some(setting) = a.twist.as_ref().and_then(|t| t.setting.judged()) {
                prop_assert!(setting.u <= before * (1.0 + 1e-9), "{} after {before}", setting.u);
                before = setting.u;
            }
        }
        prop_assert!(before.is_finite());
    }
}

#[test]
fn noise_of_any_kind_never_stops_the_assessment() {
    let plan = plan(5);
    let mut log = Log::new();
    for seq in [0, 1, 2, 99, u64::MAX] {
        log.happens(What::Withdrawn { seq, reason: String::new() });
    }
    log.stage("no such stage");
    log.angle("no such station", Facing::Aft, f64::MAX);
    log.angle("S1", Facing::Forward, f64::MAX);
    log.angle("S2", Facing::Forward, f64::MIN);
    let a = assess(&plan, &log.entries, &Chain::Whole);
    assert_eq!(a.gate.state, record::GateState::Hold);
}
