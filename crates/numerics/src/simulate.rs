//! Propagation of distributions by seeded simulation (the method of JCGM 101:2008).

/// The spread of simulated results.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// Mean of the simulated results.
    pub mean: f64,
    /// Their standard deviation.
    pub sd: f64,
    /// 2.5 % of them are below.
    pub low: f64,
    /// 2.5 % of them are above.
    pub high: f64,
}

impl Spread {
    /// The spread of these results; `None` if there are fewer than two.
    pub fn of(mut results: Vec<f64>) -> Option<Self> {
        let count = results.len();
        if count < 2 {
            return None;
        }
        let n = count as f64;
        let mean = results.iter().sum::<f64>() / n;
        let square = results.iter().map(|r| (r - mean) * (r - mean)).sum::<f64>();
        let tail = count / 40;
        let (below, _, _) = results.select_nth_unstable_by(count - 1 - tail, f64::total_cmp);
        let low = if tail < below.len() {
            *below.select_nth_unstable_by(tail, f64::total_cmp).1
        } else {
            results[tail]
        };
        Some(Self { mean, sd: (square / (n - 1.0)).sqrt(), low, high: results[count - 1 - tail] })
    }
}
