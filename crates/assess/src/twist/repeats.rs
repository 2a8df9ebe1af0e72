//! What an instrument gave when it measured the same thing again: the zeros of its reversal pairs within a round, and
//! repeated seatings.

use crate::estimate::measure;
use crate::history::{Freshness, Used};
use numerics::repeats::{Repeat, Repeats};
use record::plan::Plan;
use record::point::Judgement;
use record::{Facing, Point};
use std::collections::BTreeMap;

/// Below this probability, an instrument repeats worse than it claims.
pub(super) const WORSE: f64 = 0.05;

/// Repeats of each instrument that read the stations, by its name.
pub fn of<'f>(
    plan: &Plan,
    points: impl Iterator<Item = (&'f Point, &'f Freshness)>,
) -> BTreeMap<String, Repeats> {
    let mut out: BTreeMap<String, Repeats> = BTreeMap::new();
    let mut zeros: BTreeMap<(String, u32), Vec<Repeat>> = BTreeMap::new();
    for (point, freshness) in points {
        if point.kind().row().judgement != Judgement::Twist {
            continue;
        }
        for round in freshness.earlier.iter().chain([&freshness.used]) {
            let Some(name) = round.last().and_then(|u| u.reading.instrument.clone()) else { continue };
            let Some(measured) = measure(plan, point, round) else { continue };
            if let (Some(zero), Some(last)) = (measured.zero, round.last()) {
                zeros
                    .entry((name.clone(), last.reading.round))
                    .or_default()
                    .push(Repeat { value: zero.value, sd: zero.u });
            }
            let step = measured.resolution * measured.resolution / 12.0;
            let sd = libm::sqrt(step + measured.seating * measured.seating);
            let repeats = out.entry(name).or_default();
            for facing in [None, Some(Facing::Forward), Some(Facing::Aft)] {
                let seatings = seatings(round, facing);
                repeats.add(seatings.map(|value| Repeat { value, sd }));
            }
        }
    }
    for ((name, _), zeros) in zeros {
        out.entry(name).or_default().add(zeros.iter().copied());
    }
    out
}

fn seatings(round: &[Used], facing: Option<Facing>) -> impl Iterator<Item = f64> + Clone {
    round.iter().filter(move |u| u.reading.facing == facing).map(|u| u.reading.value)
}
