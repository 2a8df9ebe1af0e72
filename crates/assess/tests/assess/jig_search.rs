//! The search compared with full enumeration on small cases, its promises, and its cost.

use crate::wing;
use assess::advice::belief::Belief;
use assess::advice::rows::{Goal, Target};
use assess::advice::search::Task;
use numerics::rng::Rng;
use quantity::Millimetres;
use record::Limits;
use record::plan::{Adjust, Clockwise, Direction, Plan, Support, Travel};

const BOTH: Limits<f64> = Limits { lower: Some(-0.3), upper: Some(0.3) };

/// A wing with this many supports, alternately under the front and the rear spar.
fn plan(supports: usize) -> Plan {
    let mut plan = wing::plan(12);
    let posts = supports.div_ceil(2);
    plan.supports = (0..supports)
        .map(|i| Support {
            name: format!("P{i}"),
            span: Millimetres::new(4000.0 * (i / 2) as f64 / (posts.max(2) - 1) as f64),
            spar: ["front", "rear"][i % 2].to_owned(),
            direction: Direction::Up,
            travel: Travel { minus: Millimetres::new(20.0), plus: Millimetres::new(20.0) },
            adjust: Adjust::Screw { per_turn: Millimetres::new(1.25), clockwise: Clockwise::Along },
        })
        .collect();
    plan
}

/// Stations with random deviations; some need only be kept from going outside.
fn targets(plan: &Plan, belief: &Belief, rng: &mut Rng, count: usize) -> Vec<Target> {
    let spans: Vec<f64> = (0..count).map(|i| 4000.0 * i as f64 / (count - 1) as f64).collect();
    let places = belief.field.places(plan, &spans);
    let (level, twist, bow) = (0.2 * rng.normal(), 0.4 * rng.normal(), 0.2 * rng.normal());
    (0..count)
        .map(|i| {
            let eta = spans[i] / 4000.0;
            let value = level + twist * eta + bow * 4.0 * eta * (1.0 - eta) + 0.05 * rng.normal();
            let goal = if i % 5 == 4 { Goal::Guard } else { Goal::Aim };
            Target::new(&format!("S{i}"), value, 0.03, BOTH, goal, belief.way(&places[i]))
        })
        .collect()
}

/// Every combination of amounts.
fn every(amounts: &[Vec<f64>]) -> Vec<Vec<f64>> {
    amounts.iter().fold(vec![vec![]], |all, list| {
        all.iter().flat_map(|head| list.iter().map(move |a| [head.as_slice(), &[*a]].concat())).collect()
    })
}

/// The largest ratio to reckon with after moves, among those aimed at.
fn worst(task: &Task<'_>, moves: &[f64]) -> f64 {
    let spread = task.belief.spread(moves);
    let aimed = task.targets.iter().filter(|t| t.goal == Goal::Aim);
    aimed.map(|t| t.at_worst(moves, &spread)).fold(f64::NEG_INFINITY, f64::max)
}

#[test]
fn it_comes_near_full_enumeration() {
    let mut rng = Rng::new(20_310_406);
    let (mut cases, mut fewer) = (0, 0);
    for number in 0..60 {
        let supports = 2 + number % 3;
        let plan = plan(supports);
        let belief = Belief::prior(&plan);
        let targets = targets(&plan, &belief, &mut rng, 6);
        let amounts: Vec<Vec<f64>> = (0..supports)
            .map(|_| {
                let step = 0.4 + rng.uniform();
                let (down, up) = ((rng.bits() % 5) as i32, (rng.bits() % 5) as i32);
                (-down..=up).map(|k| f64::from(k) * step).collect()
            })
            .collect();
        let task =
            Task { belief: &belief, targets: &targets, amounts: &amounts, made: &vec![0.0; amounts.len()] };
        let Some(found) = task.search() else { continue };
        cases += 1;
        assert!(task.put_outside(&found).is_empty(), "case {number}: {found:?}");
        for (m, list) in found.iter().zip(&amounts) {
            assert!(list.contains(m), "case {number}: {m} is no real amount");
        }
        let allowed = every(&amounts).into_iter().filter(|m| task.put_outside(m).is_empty());
        let best = allowed.map(|m| worst(&task, &m)).fold(f64::INFINITY, f64::min);
        // A tenth is given up for fewer supports, and a fifth of how much nearer the others come to their limits.
        assert!(worst(&task, &found) <= best + 0.3 + 1e-6, "case {number}: {found:?} against {best}");
        fewer += usize::from(found.iter().filter(|m| **m != 0.0).count() < supports);
    }
    assert!(cases > 50 && fewer > 20, "{cases} {fewer}");
}

#[test]
fn what_is_good_is_left_alone() {
    let plan = plan(4);
    let belief = Belief::prior(&plan);
    let way = belief.way(&belief.field.places(&plan, &[4000.0])[0]);
    let target = Target::new("S1", 0.006, 0.03, BOTH, Goal::Aim, way);
    let amounts = vec![(-20..=20).map(|k| f64::from(k) * 0.15).collect(); 4];
    let found =
        Task { belief: &belief, targets: &[target], amounts: &amounts, made: &[0.0; 4] }.search().unwrap();
    assert_eq!(found, vec![0.0; 4]);
}

#[test]
fn a_value_near_its_limit_stops_the_move() {
    let plan = plan(4);
    let belief = Belief::prior(&plan);
    let places = belief.field.places(&plan, &[3900.0, 4000.0]);
    let target = |what: &str, value: f64, goal, i: usize| {
        Target::new(what, value, 0.03, BOTH, goal, belief.way(&places[i]))
    };
    // The tip is outside one way, and a rib beside it is almost outside the other way.
    let targets = [target("tip", 0.8, Goal::Aim, 1), target("rib", -0.25, Goal::Guard, 0)];
    let amounts = vec![(-100..=100).map(|k| f64::from(k) * 0.15625).collect(); 4];
    let task =
        Task { belief: &belief, targets: &targets, amounts: &amounts, made: &vec![0.0; amounts.len()] };
    let found = task.search().unwrap();
    assert!(task.put_outside(&found).is_empty(), "{found:?}");
    assert!(targets[1].after(&found) <= 1.0 && targets[0].after(&found) > 2.0, "{found:?}");
}

#[test]
fn equal_tasks_give_equal_moves() {
    let plan = plan(8);
    let belief = Belief::prior(&plan);
    let amounts = vec![(-96..=96).map(|k| f64::from(k) * 0.15625).collect(); 8];
    let search = || {
        let targets = targets(&plan, &belief, &mut Rng::new(5), 14);
        Task { belief: &belief, targets: &targets, amounts: &amounts, made: &vec![0.0; amounts.len()] }
            .search()
    };
    assert_eq!(search(), search());
}

/// Sizes beyond any jig. Counted in work, not in time: either the test ends in seconds or the bound is gone.
#[test]
fn many_stations_and_many_supports_are_no_burden() {
    for (stations, supports) in [(14, 16), (10_000, 8), (100, 24)] {
        let plan = plan(supports);
        let belief = Belief::prior(&plan);
        let targets = targets(&plan, &belief, &mut Rng::new(9), stations);
        let amounts = vec![(-96..=96).map(|k| f64::from(k) * 0.15625).collect(); supports];
        let task =
            Task { belief: &belief, targets: &targets, amounts: &amounts, made: &vec![0.0; amounts.len()] };
        let still = worst(&task, &vec![0.0; supports]);
        let found = task.search().unwrap();
        assert!(
            worst(&task, &found) <= still && task.put_outside(&found).is_empty(),
            "{stations}: {found:?}"
        );
    }
}
