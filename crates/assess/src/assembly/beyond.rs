//! Zeros that reversal pairs showed beyond what their instrument claims. A pair removes its zero; a reading one way
//! round with such an instrument proves nothing, whatever its file says.

use super::Taken;
use crate::estimate::{Zero, measure};
use crate::history::{Distrust, Fold, Freshness, Used, ZeroShown};
use crate::parts::Values;
use numerics::dist;
use quantity::Kind;
use record::Point;
use record::plan::Plan;

/// The zeros that pairs showed, as some readings need them.
pub struct Shown<'a> {
    fold: &'a Fold<'a>,
    taken: &'a Taken<'a>,
    /// Of the readings themselves.
    own: Vec<Pair>,
    /// Of the whole log, as far as any of the readings could be in doubt for them.
    log: Vec<&'a Pair>,
    /// Standard deviations by which a zero is surely not smaller.
    sure: f64,
}

/// The zero that one pair showed.
pub struct Pair {
    point: Point,
    instrument: String,
    /// The last entry of the pair.
    entry: u64,
    /// In degrees.
    zero: Zero,
}

impl Pair {
    /// A lower bound of the size of that zero, in degrees.
    fn least(&self, sure: f64) -> f64 {
        self.zero.value.abs() - sure * self.zero.u
    }
}

/// The zeros that every round kept of the log showed, even if the wing was disturbed since: that does not change an
/// instrument.
pub fn of_log(plan: &Plan, fold: &Fold<'_>) -> Vec<Pair> {
    let all = fold.points.iter().filter(|(point, _)| point.kind().reverses());
    all.flat_map(|(point, now)| pairs(plan, point, now, zero(plan, point, &now.used))).collect()
}

fn zero(plan: &Plan, point: &Point, used: &[Used]) -> Option<Zero> {
    measure(plan, point, used)?.zero
}

/// The pairs of a point, oldest first, the last of which showed the zero `now`.
fn pairs(plan: &Plan, point: &Point, readings: &Freshness, now: Option<Zero>) -> Vec<Pair> {
    let earlier = readings.earlier.iter().map(|used| (used, zero(plan, point, used)));
    let pair = |(used, zero): (&Vec<Used>, Option<Zero>)| {
        let last = used.last()?;
        let instrument = last.reading.instrument.clone()?;
        Some(Pair { point: point.clone(), instrument, entry: last.seq, zero: zero? })
    };
    earlier.chain([(&readings.used, now)]).filter_map(pair).collect()
}

impl<'a> Shown<'a> {
    /// Uses the pairs of the readings `taken` and all `of_log`. `level` is the probability below which one more test
    /// raises a doubt.
    pub fn of(
        plan: &Plan,
        fold: &'a Fold<'a>,
        of_log: &'a [Pair],
        taken: &'a Taken<'a>,
        values: &Values,
        level: f64,
    ) -> Self {
        let sure = -dist::normal_quantile(level);
        let own = taken.iter().filter(|(point, _)| point.kind().reverses()).flat_map(|(point, readings)| {
            // The zero of what has a value is known already.
            let now = values.get(point).map_or_else(|| zero(plan, point, &readings.used), |value| value.zero);
            pairs(plan, point, readings, now)
        });
        let facts = taken.values().flat_map(|f| &f.used).filter_map(|used| used.facts.as_deref());
        let finest = facts.filter_map(|i| i.accuracy).fold(f64::INFINITY, f64::min);
        let log = of_log.iter().filter(|pair| pair.least(sure) > finest).collect();
        Self { fold, taken, own: own.collect(), log, sure }
    }

    /// The doubt about readings taken one way round: a pair of their instrument, with no passed check between.
    pub fn against(&self, plan: &Plan, readings: &Freshness) -> Option<Distrust> {
        let fold = self.fold;
        let scale = plan.shown_in.scale(Kind::Angle);
        readings.used.iter().find_map(|used| {
            let facts = used.facts.as_deref()?;
            let accuracy = facts.accuracy?;
            let beyond = |pair: &&Pair| {
                let mut names = fold.instruments.under_any_name(&facts.name);
                pair.least(self.sure) > accuracy
                    && names
                        .find(|(name, _)| pair.instrument == *name)
                        .is_some_and(|(_, known)| !known.passed_between(pair.entry, used.seq))
            };
            let other = |pair: &&Pair| self.taken.get(&pair.point).copied() != fold.points.get(&pair.point);
            let later = || self.log.iter().copied().filter(beyond).find(other);
            let pair = self.own.iter().find(beyond).or_else(later)?;
            Some(Distrust::ZeroBeyond {
                instrument: facts.name.clone(),
                entry: pair.entry,
                zero: ZeroShown { zero: pair.zero.value, accuracy, scale },
            })
        })
    }
}
