//! Deciding conformity of a value that has an uncertainty (JCGM 106:2012; default rule of ISO 14253-1).
//!
//! `Within` needs a probability of conformity of at least the level; `Outside` needs that probability of
//! non-conformity. While the uncertainty is small against the zone, this equals a guard band of k u at each limit,
//! with k the one-sided quantile. For a larger uncertainty both limits count, as they must.

use crate::dist;

/// The limits of a tolerance; one may be missing.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Limits {
    /// The lower limit.
    pub lower: Option<f64>,
    /// The upper limit.
    pub upper: Option<f64>,
}

/// The decision rule.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rule {
    /// Proven to this probability, between 0.5 and 1 (ISO 14253-1: 0.95).
    Guarded {
        /// The probability.
        level: f64,
    },
    /// By the value alone: at a limit, up to half of what is accepted is wrong.
    Simple,
}

/// The outcome.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Conforms.
    Within,
    /// Does not conform.
    Outside,
    /// Neither is proven.
    Undecided,
}

/// Why no decision is possible.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum DecideError {
    /// No limit at all.
    #[error("there is no limit to judge by")]
    NoLimits,
    /// The lower limit is above the upper one.
    #[error("the lower limit is above the upper limit")]
    LimitsCross,
    /// The level is not between 0.5 and 1.
    #[error("the level must be above 0.5 and below 1")]
    BadLevel,
    /// The value or a limit is not finite, the uncertainty is negative, or the degrees of freedom are not above zero.
    #[error("value, uncertainty and limits must be usable numbers")]
    BadNumber,
}

/// A range of values, ends included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Zone {
    pub from: f64,
    pub to: f64,
}

impl Zone {
    /// Whether a value lies in it.
    pub fn contains(self, value: f64) -> bool {
        (self.from..=self.to).contains(&value)
    }
}

/// A decision and its basis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Decision {
    pub verdict: Verdict,
    /// Probability that the true value is within the limits.
    pub probability: f64,
    /// The values that would be judged `Within`; an end is infinite if there is no limit on that side. `None` if no
    /// value would be: the uncertainty is too large for this tolerance.
    pub passing: Option<Zone>,
    /// The largest standard uncertainty at which some value could be `Within`; infinite with one limit or with
    /// `Simple`.
    pub coarsest: f64,
}

/// Decides about `value` with standard uncertainty `u` (Student's t where `dof` is given, else normal).
///
/// # Errors
/// See [`DecideError`].
pub fn decide(
    value: f64,
    u: f64,
    dof: Option<f64>,
    limits: Limits,
    rule: Rule,
) -> Result<Decision, DecideError> {
    check(value, u, dof, limits, rule)?;
    let probability = conformity(value, u, dof, limits);
    let verdict = by_probability(value, probability, limits, rule);
    let zone = limits.zone();
    let (passing, coarsest) = match rule {
        Rule::Simple => (Some(zone), f64::INFINITY),
        Rule::Guarded { level } => {
            (passing(u, dof, limits, level), 0.5 * (zone.to - zone.from) / dist::coverage_factor(level, dof))
        }
    };
    Ok(Decision { verdict, probability, passing, coarsest })
}

/// The verdict for a probability of conformity, however it was found.
pub fn by_probability(value: f64, probability: f64, limits: Limits, rule: Rule) -> Verdict {
    match rule {
        Rule::Simple if limits.zone().contains(value) => Verdict::Within,
        Rule::Simple => Verdict::Outside,
        Rule::Guarded { level } if probability >= level => Verdict::Within,
        Rule::Guarded { level } if 1.0 - probability >= level => Verdict::Outside,
        Rule::Guarded { .. } => Verdict::Undecided,
    }
}

/// Probability that the true value lies inside the limits.
pub fn conformity(value: f64, u: f64, dof: Option<f64>, limits: Limits) -> f64 {
    let Zone { from, to } = limits.zone();
    if u == 0.0 {
        return f64::from(u8::from(limits.zone().contains(value)));
    }
    // Tails are accurate where they are small, and so is their sum.
    let dof = dof.unwrap_or(f64::INFINITY);
    let below = dist::t_cdf((from - value) / u, dof);
    let above = dist::t_sf((to - value) / u, dof);
    (1.0 - below - above).max(0.0)
}

impl Limits {
    /// The range between the limits; an end is infinite where there is no limit.
    pub fn zone(self) -> Zone {
        Zone { from: self.lower.unwrap_or(f64::NEG_INFINITY), to: self.upper.unwrap_or(f64::INFINITY) }
    }
}

fn check(value: f64, u: f64, dof: Option<f64>, limits: Limits, rule: Rule) -> Result<(), DecideError> {
    let given = [Some(value), Some(u), limits.lower, limits.upper];
    if given.iter().flatten().any(|v| !v.is_finite())
        || u < 0.0
        || dof.is_some_and(|d| d.is_nan() || d <= 0.0)
    {
        return Err(DecideError::BadNumber);
    }
    match (limits.lower, limits.upper) {
        (None, None) => return Err(DecideError::NoLimits),
        (Some(l), Some(h)) if l > h => return Err(DecideError::LimitsCross),
        _ => {}
    }
    match rule {
        Rule::Guarded { level } if !(level > 0.5 && level < 1.0) => Err(DecideError::BadLevel),
        _ => Ok(()),
    }
}

/// The zone of values whose probability of conformity reaches the level.
fn passing(u: f64, dof: Option<f64>, limits: Limits, level: f64) -> Option<Zone> {
    let one_sided = u * dist::t_quantile(level, dof.unwrap_or(f64::INFINITY));
    match (limits.lower, limits.upper) {
        (Some(low), Some(high)) => {
            let middle = low + 0.5 * (high - low);
            let reaches = |v: f64| conformity(v, u, dof, limits) >= level;
            if !reaches(middle) {
                return None;
            }
            // The one-sided guard band is the smallest possible; search inwards from it, where both limits count.
            let (mut inside, mut outside) = (0.0, (high - middle - one_sided).max(0.0));
            if reaches(middle + outside) {
                inside = outside;
            }
            for _ in 0..100 {
                let half = 0.5 * (inside + outside);
                if half == inside || half == outside {
                    break;
                }
                if reaches(middle + half) { inside = half } else { outside = half }
            }
            Some(Zone { from: middle - inside, to: middle + inside })
        }
        (low, high) => Some(Zone {
            from: low.map_or(f64::NEG_INFINITY, |l| l + one_sided),
            to: high.map_or(f64::INFINITY, |h| h - one_sided),
        }),
    }
}
