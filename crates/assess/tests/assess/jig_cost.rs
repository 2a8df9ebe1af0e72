//! What advice costs at the sizes a plan allows, in processor time, because the machine may be busy.

use crate::wing;
use crate::wing::Log;
use assess::advice::{Advice, advise};
use assess::{Chain, assess};
use numerics::rng::Rng;
use quantity::Millimetres;
use record::plan::{Adjust, Clockwise, Direction, Plan, Support, Travel};
use std::time::{Duration, Instant};

/// A wing on this many supports, alternately under the front and the rear spar.
fn plan(stations: usize, supports: usize) -> Plan {
    let mut plan = wing::plan(stations);
    let posts = supports.div_ceil(2);
    let support = |i: usize| Support {
        name: format!("P{i}"),
        span: Millimetres::new(4000.0 * (i / 2) as f64 / (posts.max(2) - 1) as f64),
        spar: ["front", "rear"][i % 2].to_owned(),
        direction: Direction::Up,
        travel: Travel { minus: Millimetres::new(15.0), plus: Millimetres::new(15.0) },
        adjust: Adjust::Screw { per_turn: Millimetres::new(1.25), clockwise: Clockwise::Along },
    };
    plan.supports = (0..supports).map(support).collect();
    let level = &mut plan.instruments[0];
    (level.resolution, level.accuracy, level.repeatability) = (0.01, Some(0.05), Some(0.02));
    plan
}

/// Processor time of this thread; the time of day if the system does not tell it.
fn spent() -> Duration {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok();
    let nanos = told.and_then(|text| text.split_whitespace().next()?.parse().ok());
    nanos.map_or_else(
        || {
            static BEGAN: std::sync::OnceLock<Instant> = std::sync::OnceLock::new();
            BEGAN.get_or_init(Instant::now).elapsed()
        },
        Duration::from_nanos,
    )
}

/// Advice for a twisted and bowed wing, and its cost.
fn advised(stations: usize, supports: usize) -> (Advice, Duration) {
    let plan = plan(stations, supports);
    let mut log = Log::new();
    log.stage(&plan.stages[0].name);
    log.round += 1;
    let mut rng = Rng::new(7);
    for station in &plan.stations {
        let eta = plan.eta(station.span);
        let off = 0.6 * eta - 0.3 + 0.4 * eta * (1.0 - eta) + 0.02 * rng.normal();
        log.pair(&station.name, station.incidence.value() + off, 0.03);
    }
    let assessment = assess(&plan, &log.entries, &Chain::Whole);
    let before = spent();
    let advice = advise(&plan, &log.entries, &assessment);
    (advice, spent().saturating_sub(before))
}

#[test]
fn sixteen_supports_cost_less_than_a_tenth_of_a_second() {
    let (advice, cost) = advised(14, 16);
    println!("14 stations, 16 supports: {cost:?}, {} moves", advice.steps.len());
    assert!(!advice.steps.is_empty() && cost < Duration::from_millis(100), "{cost:?}");
}

#[test]
fn ten_thousand_stations_cost_less_than_five_seconds() {
    let (advice, cost) = advised(10_000, 8);
    println!("10,000 stations, 8 supports: {cost:?}, {} moves", advice.steps.len());
    assert!(!advice.steps.is_empty() && cost < Duration::from_secs(5), "{cost:?}");
}
