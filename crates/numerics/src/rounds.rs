//! Combines several rounds over the same stations, and tests whether they agree.
//!
//! A reading of station i in round r is d = mu_i + c z + e, with e its own error, z the zero of the round's
//! instrument in standard uncertainties, and c how much it moves the reading (0 if a reversal pair removed it). The
//! best mu is generalised least squares with a free effect for every station. There are few zeros, so the stations
//! are eliminated first and the remaining system is only as large as the number of zeros. With equal sets of
//! readings, mu is the plain mean, its variance s^2/R plus the zero's u_z^2/R.

use crate::repeats::Agreement;

mod small;

/// One reading of one station in one round.
#[derive(Clone, Debug, PartialEq)]
pub struct Value {
    /// The station, counted from 0.
    pub station: usize,
    /// The round, counted from 0 in time order.
    pub round: usize,
    pub value: f64,
    /// Its independent standard uncertainty, above zero.
    pub own: f64,
    /// The part of `own` that repeats from round to round.
    pub lasting: f64,
    /// The zero that affects it, counted from 0; `None` for a reversal pair.
    pub zero: Option<Zero>,
}

/// A zero error that several readings share.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Zero {
    /// Which zero.
    pub which: usize,
    /// How much one standard uncertainty of the zero moves the reading.
    pub per_u: f64,
}

/// All rounds combined.
#[derive(Clone, Debug, PartialEq)]
pub struct Together {
    /// The value of each station; 0 for a station without a reading.
    pub values: Vec<f64>,
    /// Independent standard uncertainty of each.
    pub own: Vec<f64>,
    /// The shared parts: entry i of a part is how much station i moves with one standard uncertainty.
    pub shared: Vec<Vec<f64>>,
}

/// The two tests, and where the rounds differ.
#[derive(Clone, Debug, PartialEq)]
pub struct Agreements {
    /// Stations against each other, with each round free to be higher or lower as a whole: Q_i on (R - 1)(n - 1).
    pub stations: Agreement,
    /// The rounds as wholes against each other: Q_z on R - 1.
    pub wholes: Agreement,
    /// Each station's share of `stations.chi2`, with its degrees of freedom.
    pub by_station: Vec<Agreement>,
}

/// Combines all readings.
pub fn together(stations: usize, values: &[Value]) -> Together {
    let zeros = values.iter().filter_map(|v| v.zero).map(|z| z.which + 1).max().unwrap_or(0);
    let solved = small::Solved::of(stations, values, &vec![1.0; zeros], |v| v.zero);
    let mut most = vec![0.0_f64; stations];
    let mut lasting = vec![0.0_f64; stations];
    for v in values {
        most[v.station] = most[v.station].max(weight(v));
        lasting[v.station] = lasting[v.station].max(v.lasting);
    }
    let own = (0..stations).map(|i| {
        let all = solved.weights[i];
        if all == 0.0 {
            return 0.0;
        }
        // With one reading, its own uncertainty. With several, the independent part averages out and the repeating
        // part stays.
        let stays = lasting[i] * lasting[i] * (1.0 - most[i] / all);
        (1.0 / all + stays).sqrt()
    });
    Together { own: own.collect(), shared: solved.shared(), values: solved.stations }
}

/// A round with fewer stations than this is not a walk along the wing: its zero is taken from the instrument's file,
/// and it says nothing about the wing as a whole.
pub const WALK: usize = 3;

/// Tests whether the rounds agree.
pub fn agreements(stations: usize, values: &[Value]) -> Agreements {
    let rounds = values.iter().map(|v| v.round + 1).max().unwrap_or(0);
    let zeros = values.iter().filter_map(|v| v.zero).map(|z| z.which + 1).max().unwrap_or(0);
    let mut sizes = vec![0_usize; rounds];
    values.iter().for_each(|v| sizes[v.round] += 1);
    // The other walks are free against the last one.
    let last = (0..rounds).rev().find(|r| sizes[*r] >= WALK);
    let effect = |v: &Value| {
        if sizes[v.round] < WALK || Some(v.round) == last {
            v.zero.map(|z| Zero { which: rounds + z.which, per_u: z.per_u })
        } else {
            Some(Zero { which: v.round, per_u: 1.0 })
        }
    };
    let priors: Vec<f64> = (0..rounds + zeros).map(|e| f64::from(u8::from(e >= rounds))).collect();
    let each = small::Solved::of(stations, values, &priors, effect);
    let whole = small::Solved::of(stations, values, &vec![1.0; zeros], |v| v.zero);
    let (mut chi2, mut by_station) = (0.0, vec![Agreement::default(); stations]);
    for v in values {
        let square = each.residual(v, effect(v)) / v.own;
        chi2 += square * square;
        by_station[v.station].chi2 += square * square;
        by_station[v.station].dof += 1;
    }
    by_station.iter_mut().for_each(|s| s.dof = s.dof.saturating_sub(1));
    chi2 += each.effects[rounds..].iter().map(|z| z * z).sum::<f64>();
    let measured = each.weights.iter().filter(|w| **w > 0.0).count();
    let free = each.determined[..rounds].iter().filter(|d| **d).count();
    let dof = values.len().saturating_sub(measured + free);
    let total: f64 = values.iter().map(|v| (whole.residual(v, v.zero) / v.own).powi(2)).sum::<f64>()
        + whole.effects.iter().map(|z| z * z).sum::<f64>();
    Agreements {
        stations: Agreement { chi2, dof },
        wholes: Agreement { chi2: (total - chi2).max(0.0), dof: free },
        by_station,
    }
}

fn weight(v: &Value) -> f64 {
    1.0 / (v.own * v.own)
}
