//! Zeros that reversal pairs showed beyond what their instrument claims. A pair removes its zero; a reading one way
//! round with such an instrument proves nothing, whatever its file says.

use super::Taken;
use crate::estimate::measure;
use crate::history::{Distrust, Fold, Freshness, Used, ZeroShown};
use crate::parts::Values;
use numerics::dist;
use quantity::Kind;
use record::plan::Plan;

/// The zeros that the pairs of a log showed.
pub struct Shown(Vec<Pair>);

struct Pair {
    instrument: String,
    /// The last entry of the pair.
    entry: u64,
    /// In degrees.
    zero: f64,
    /// A lower bound of the size of that zero, in degrees, allowing for the chance of one more test.
    least: f64,
}

impl Shown {
    /// Uses every round kept of the log and of the readings `taken`, even if the wing was disturbed since: that does
    /// not change an instrument. `level` is the probability below which one more test raises a doubt.
    pub fn of(plan: &Plan, fold: &Fold<'_>, taken: &Taken<'_>, values: &Values, level: f64) -> Self {
        let sure = -dist::normal_quantile(level);
        let mut shown = Vec::new();
        let zero = |point, used: &[Used]| measure(plan, point, used)?.zero;
        let later = fold.points.iter().filter(|(point, now)| taken.get(point) != Some(now));
        let all = taken.iter().map(|(point, readings)| (*point, *readings)).chain(later);
        for (point, readings) in all.filter(|(point, _)| point.kind().reverses()) {
            // The zero of what counts is known already.
            let known = values.get(point).filter(|_| taken.get(point) == Some(&readings));
            let now = known.map_or_else(|| zero(point, &readings.used), |value| value.zero);
            let earlier = readings.earlier.iter().map(|used| (used, zero(point, used)));
            for (used, zero) in earlier.chain([(&readings.used, now)]) {
                if let (Some(zero), Some(last)) = (zero, used.last())
                    && let Some(instrument) = last.reading.instrument.clone()
                {
                    let least = zero.value.abs() - sure * zero.u;
                    shown.push(Pair { instrument, entry: last.seq, zero: zero.value, least });
                }
            }
        }
        Self(shown)
    }

    /// The doubt about readings taken one way round: a pair of their instrument, with no passed check between.
    pub fn against(&self, plan: &Plan, fold: &Fold<'_>, readings: &Freshness) -> Option<Distrust> {
        let scale = plan.shown_in.scale(Kind::Angle);
        readings.used.iter().find_map(|used| {
            let facts = used.facts.as_deref()?;
            let accuracy = facts.accuracy?;
            let beyond = |pair: &&Pair| {
                let mut names = fold.instruments.under_any_name(&facts.name);
                let of_it = names.find(|(name, _)| pair.instrument == *name);
                pair.least > accuracy
                    && of_it.is_some_and(|(_, known)| !known.passed_between(pair.entry, used.seq))
            };
            let pair = self.0.iter().find(beyond)?;
            Some(Distrust::ZeroBeyond {
                instrument: facts.name.clone(),
                entry: pair.entry,
                zero: ZeroShown { zero: pair.zero, accuracy, scale },
            })
        })
    }
}
