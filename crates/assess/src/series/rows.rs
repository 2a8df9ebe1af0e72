//! Values over the wings: mean, spread, control limits, trend.

use super::ALPHA;
use super::view::{Chart, LikelyTrend, Outlier};
use numerics::individuals::individuals;
use numerics::{dist, trend};
use quantity::shown::K95;

/// With fewer wings than this, the limits still move (common practice, no source).
const SETTLED: usize = 20;

/// A value of one wing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Of {
    /// The wing, by its position in the list.
    pub wing: usize,
    pub value: f64,
    /// Its standard uncertainty.
    pub u: f64,
}

/// A lower bound for the spread of a mean.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Least {
    /// What the wings show, unless all are equal.
    Nothing,
    /// The uncertainty of the readings.
    Readings,
}

/// What values in wing order say together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    pub n: usize,
    pub mean: f64,
    pub sd: Option<f64>,
    pub least: f64,
    pub most: f64,
    pub u: f64,
    pub half95: f64,
    /// Probability that wings with a mean of zero show this much; `None` for one value.
    pub p: Option<f64>,
}

impl Sample {
    /// From at least one value. The interval of the mean comes from the spread over the wings, with `least` as a
    /// lower bound on the standard uncertainty: coarse displays can give the same value repeatedly.
    pub fn of(values: &[Of], least: Least) -> Option<Self> {
        let count = values.len();
        if count == 0 {
            return None;
        }
        let n = count as f64;
        let mean = values.iter().map(|v| v.value).sum::<f64>() / n;
        let squares: f64 = values.iter().map(|v| (v.value - mean) * (v.value - mean)).sum();
        let u = libm::sqrt(values.iter().map(|v| v.u * v.u).sum::<f64>() / n);
        let sd = (count > 1).then(|| libm::sqrt(squares / (n - 1.0)));
        let spread = match (sd, least) {
            (Some(sd), Least::Nothing) if sd > 0.0 => sd,
            (Some(sd), _) => sd.max(u),
            (None, _) => u,
        } / libm::sqrt(n);
        let (half95, p) = match sd {
            None => (K95 * u, None),
            Some(_) => {
                let p = if spread > 0.0 { 2.0 * dist::t_sf((mean / spread).abs(), n - 1.0) } else { 1.0 };
                (dist::t_quantile(0.975, n - 1.0) * spread, Some(p))
            }
        };
        Some(Self {
            n: count,
            mean,
            sd,
            least: values.iter().map(|v| v.value).fold(f64::INFINITY, f64::min),
            most: values.iter().map(|v| v.value).fold(f64::NEG_INFINITY, f64::max),
            u,
            half95,
            p,
        })
    }
}

/// Control limits, and the values outside them.
#[derive(Default)]
pub struct Charted {
    pub chart: Option<Chart>,
    pub outliers: Vec<Outlier>,
}

/// Control limits of values in wing order; `name` names each wing.
pub fn chart(values: &[Of], name: impl Fn(usize) -> String) -> Charted {
    let plain: Vec<f64> = values.iter().map(|v| v.value).collect();
    let Some(found) = individuals(&plain) else { return Charted::default() };
    let chart = Chart {
        lower: found.lower,
        upper: found.upper,
        moving_range: found.moving_range,
        range_upper: found.range_upper,
        provisional: values.len() < SETTLED,
    };
    let mut outliers = Vec::new();
    for (i, v) in values.iter().enumerate() {
        let beyond = v.value < chart.lower || v.value > chart.upper;
        let step = i > 0 && (v.value - plain[i - 1]).abs() > chart.range_upper;
        if beyond || step {
            outliers.push(Outlier { log: name(v.wing), value: v.value, step: !beyond });
        }
    }
    Charted { chart: Some(chart), outliers }
}

/// A trend over `x`; `tested` is how many trends are tested together.
pub fn likely(x: &[f64], values: &[Of], tested: usize) -> Option<LikelyTrend> {
    let y: Vec<f64> = values.iter().map(|v| v.value).collect();
    let found = trend::trend(x, &y)?;
    let real = found.p < ALPHA / tested.max(1) as f64;
    Some(LikelyTrend { per_wing: found.slope, u: found.u, p: found.p, real })
}
