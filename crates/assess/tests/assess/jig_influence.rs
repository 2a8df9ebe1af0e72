//! Influences compared with finite differences of the incidence itself, and with shapes known in closed form.

use crate::jig::on_incidence;
use crate::wing;
use assess::advice::influence::{Outermost, carrying, of_supports, on_spar};
use quantity::{Degrees, Millimetres};
use record::plan::{Adjust, Clockwise, Direction, Plan, Support, Travel};

fn support(name: &str, spar: &str, span: f64) -> Support {
    let reach = Millimetres::new(20.0);
    Support {
        name: name.into(),
        span: Millimetres::new(span),
        spar: spar.into(),
        direction: Direction::Up,
        travel: Travel { minus: reach, plus: reach },
        adjust: Adjust::Screw { per_turn: Millimetres::new(1.25), clockwise: Clockwise::Along },
    }
}

/// A tapered wing on two supports under each spar.
fn four() -> Plan {
    let mut plan = wing::plan(12);
    plan.spars[1].aft_tip = Millimetres::new(750.0);
    plan.supports = vec![
        support("root front", "front", 150.0),
        support("root rear", "rear", 250.0),
        support("tip front", "front", 3700.0),
        support("tip rear", "rear", 3600.0),
    ];
    plan
}

/// The same with a third support under each spar, where the spar bends.
fn six() -> Plan {
    let mut plan = four();
    plan.supports.push(support("middle front", "front", 1800.0));
    plan.supports.push(support("middle rear", "rear", 2100.0));
    plan
}

fn all(plan: &Plan) -> Vec<usize> {
    (0..plan.supports.len()).collect()
}

/// The incidence in degrees at a span after moves (mm, one per support), not linearised.
fn incidence_after(plan: &Plan, span: f64, height_angle: f64, moves: &[f64]) -> f64 {
    let Outermost { front, rear, apart } = carrying(plan, span).unwrap();
    let rise = |spar: &str| -> f64 {
        on_spar(plan, spar, Direction::Up, &all(plan), &[span])[0].iter().zip(moves).map(|(a, m)| a * m).sum()
    };
    let before = plan.design_incidence(Millimetres::new(span)).value() + height_angle;
    (before.to_radians().sin() + (rise(&front.name) - rise(&rear.name)) / apart).asin().to_degrees()
        - height_angle
}

#[test]
fn derivatives_agree_with_central_differences() {
    for mut plan in [four(), six()] {
        let height_angle = |span: f64| 3.0 + span / 4000.0;
        plan.stations.iter_mut().for_each(|s| s.height_angle = Degrees::new(height_angle(s.span.value())));
        for incidence in [-4.0, 0.0, 6.0] {
            plan.stations.iter_mut().for_each(|s| s.incidence = Degrees::new(incidence));
            for span in [0.0, 150.0, 777.0, 2000.0, 3650.0, 4000.0] {
                let all: Vec<usize> = (0..plan.supports.len()).collect();
                for (s, derivative) in of_supports(&plan, &all, &[span])[0].iter().enumerate() {
                    let h = 0.01;
                    let at = |x: f64| {
                        let mut moves = vec![0.0; plan.supports.len()];
                        moves[s] = x;
                        incidence_after(&plan, span, height_angle(span), &moves)
                    };
                    // Central differences err by h^2/6 times the third derivative, here below 1e-9.
                    let difference = (at(h) - at(-h)) / (2.0 * h);
                    assert!((derivative - difference).abs() < 1e-8, "{span} {s}: {derivative} {difference}");
                }
            }
        }
    }
}

#[test]
fn a_straight_spar_turns_about_its_other_support() {
    let plan = four();
    // Raising the front spar's tip support by 1 mm lifts it by (y - 150)/3550 mm; the spars stand 600 mm apart at the
    // root and 450 at the tip.
    let row = on_incidence(&plan, 4000.0);
    let by_hand = ((4000.0 - 150.0) / 3550.0 / 450.0_f64).to_degrees();
    assert!((row[2] - by_hand).abs() < 1e-12, "{row:?}");
    assert!(row[0] < 0.0, "the root support tips the other end down: {row:?}");
    let at_support = on_incidence(&plan, 150.0);
    assert!(at_support[2].abs() < 1e-12);
    assert!((carrying(&plan, 0.0).unwrap().apart - 600.0).abs() < 1e-9);
}

#[test]
fn lifting_the_whole_wing_does_not_turn_it() {
    for plan in [four(), six()] {
        for span in [0.0, 1234.0, 4000.0] {
            let sum: f64 = on_incidence(&plan, span).iter().sum();
            assert!(sum.abs() < 1e-12);
        }
    }
}

#[test]
fn other_directions_and_single_spars_do_nothing() {
    let mut plan = four();
    plan.supports[1].direction = Direction::Aft;
    assert_eq!(on_incidence(&plan, 2000.0)[1], 0.0);
    assert_eq!(on_spar(&plan, "rear", Direction::Aft, &all(&plan), &[2000.0])[0], vec![0.0, 1.0, 0.0, 0.0]);
    plan.supports.retain(|s| s.spar == "front");
    assert!(carrying(&plan, 0.0).is_none());
    assert!(on_incidence(&plan, 0.0).iter().all(|g| *g == 0.0));
}
