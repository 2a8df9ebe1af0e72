//! What many wings teach, on simulated jigs: the next wing is true sooner.

use crate::jig::{Jig, Layout, Nature, SOFT, plan};
use crate::wing::Log;
use assess::Chain;
use assess::advice::{advise, advise_like};
use assess::series::stiffness::Stiffness;
use assess::series::{Gathering, Wing, WingLog};
use quantity::Millimetres;
use record::plan::Plan;
use record::{Facing, Move, What};

/// Wings of one kind in one jig: the same share of a twist arrives in all.
const ALIKE: Nature = Nature { torsion: (0.45, 0.55), ..SOFT };

fn walk(plan: &Plan, jig: &mut Jig, log: &mut Log) {
    log.round += 1;
    let zero = jig.zero();
    for (i, station) in plan.stations.iter().enumerate() {
        for facing in [Facing::Forward, Facing::Aft] {
            let shown = jig.shown(plan, i, facing.sign(), zero);
            log.angle(&station.name, facing, shown);
        }
    }
}

/// Measures, makes the advised moves and measures again; returns the largest true deviation over its tolerance that
/// is left.
fn one_round(plan: &Plan, seed: u64, like: Option<&Stiffness>) -> (Log, f64) {
    let mut jig = Jig::new(plan, ALIKE, seed);
    let mut log = Log::new();
    log.stage(&plan.stages[0].name);
    walk(plan, &mut jig, &mut log);
    let assessment = assess::assess(plan, &log.entries, &Chain::Whole);
    let advice = match like {
        None => advise(plan, &log.entries, &assessment),
        Some(like) => advise_like(plan, &log.entries, &assessment, like).expect("the same jig").advice,
    };
    for step in advice.steps {
        let support = plan.supports.iter().position(|s| s.name == step.support).expect("a support");
        jig.turn(plan, support, step.amount_mm);
        let made = Move::typed(&step.support, Millimetres::new(step.amount_mm), "as advised");
        log.happens(What::Move(made));
    }
    walk(plan, &mut jig, &mut log);
    (log, jig.true_worst(plan))
}

fn add(gathering: &mut Gathering, log: WingLog<'_>) {
    assert!(gathering.is_alike(log.name, log.plan));
    gathering.put(log.name, log.plan, Wing::of(log));
}

fn learned(plan: &Plan, seeds: std::ops::Range<u64>) -> Stiffness {
    let mut gathering = Gathering::default();
    let wings = seeds.end - seeds.start;
    for seed in seeds {
        let (log, _) = one_round(plan, seed, None);
        let name = format!("{seed}");
        add(&mut gathering, WingLog { name: &name, plan, entries: &log.entries, chain: &Chain::Whole });
    }
    let series = gathering.finish(None).expect("one kind of wing");
    assert_eq!(series.wings.len() as u64, wings);
    series.stiffness.expect("moves")
}

#[test]
fn the_next_wing_is_true_sooner() {
    let plan = plan(Layout::Ends);
    let like = learned(&plan, 1000..1024);
    println!("{} samples: {:?}", like.samples, like.share);
    assert!((like.share.mean - 0.5).abs() < 0.07, "{:?}", like.share);
    assert!(like.share.u < 0.15, "{:?}", like.share);
    let (mut with, mut without) = (0, 0);
    for seed in 0..60 {
        with += u32::from(one_round(&plan, 5000 + seed, Some(&like)).1 <= 1.0);
        without += u32::from(one_round(&plan, 5000 + seed, None).1 <= 1.0);
    }
    println!("true after one round, of 60: {with} with earlier wings, {without} without");
    assert!(with >= without + 6, "{with} with earlier wings, {without} without");
}

#[test]
fn a_single_wing_changes_little() {
    let plan = plan(Layout::Ends);
    let one = learned(&plan, 1001..1002);
    assert!(one.share.mean > 0.55, "one wing is no rule: {:?}", one.share);
    assert!(one.share.u > 0.14, "{:?}", one.share);
}

#[test]
fn wings_that_were_never_moved_teach_no_stiffness() {
    let plan = plan(Layout::Ends);
    let mut gathering = Gathering::default();
    for seed in 0..3 {
        let mut jig = Jig::new(&plan, ALIKE, seed);
        let mut log = Log::new();
        log.stage(&plan.stages[0].name);
        walk(&plan, &mut jig, &mut log);
        let name = format!("{seed}");
        add(
            &mut gathering,
            WingLog { name: &name, plan: &plan, entries: &log.entries, chain: &Chain::Whole },
        );
    }
    assert!(gathering.finish(None).expect("one kind").stiffness.is_none());
}

/// A figure that a wing lacks moves no row.
#[test]
fn a_wing_without_a_figure_moves_no_row_whatever_order_the_logs_are_named_in() {
    let plan = crate::wing::plan(5);
    let log = |left_out: &str| {
        let mut log = Log::new();
        log.stage(&plan.stages[0].name);
        for station in plan.stations.iter().filter(|s| s.name != left_out) {
            log.angle(&station.name, Facing::Forward, station.incidence.value());
        }
        log
    };
    let (first, second) = (log("S2"), log("none"));
    let series = |logs: [(&str, &Log); 2]| {
        let mut gathering = Gathering::default();
        for (name, log) in logs {
            add(&mut gathering, WingLog { name, plan: &plan, entries: &log.entries, chain: &Chain::Whole });
        }
        gathering.finish(None).expect("one kind")
    };
    let named = series([("a", &first), ("b", &second)]);
    assert!(named.figures.iter().any(|f| f.about == "S2" && f.lacking.len() == 1), "{named:#?}");
    assert_eq!(named, series([("b", &second), ("a", &first)]));
}
