//! What an instrument gave when it measured the same thing again: the zeros of its reversal pairs within a round, and
//! repeated seatings.

use crate::estimate::measure;
use crate::history::Freshness;
use numerics::repeats::{Agreement, Repeat};
use record::Point;
use record::plan::Plan;
use record::point::Judgement;
use std::collections::BTreeMap;

/// Below this probability, an instrument repeats worse than it claims.
pub(super) const WORSE: f64 = 0.05;

/// Repeats of each instrument that read the stations, by its name.
pub fn of<'f>(
    plan: &Plan,
    points: impl Iterator<Item = (&'f Point, &'f Freshness)>,
) -> BTreeMap<String, Agreement> {
    let mut out: BTreeMap<String, Agreement> = BTreeMap::new();
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
            out.entry(name).or_default().join(measured.repeats);
        }
    }
    for ((name, _), zeros) in zeros {
        out.entry(name).or_default().add(zeros.iter().copied());
    }
    out
}
