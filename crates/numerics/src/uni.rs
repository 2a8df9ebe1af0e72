//! Mean, standard deviation and lag-1 autocorrelation of one list of numbers, two passes in double-double.

use crate::dd::Dd;

/// What a list of numbers looks like.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Summary {
    /// How many there are.
    pub count: usize,
    /// Their mean.
    pub mean: f64,
    /// Standard deviation with n - 1; `None` for one number.
    pub sd: Option<f64>,
    /// Autocorrelation of neighbours (lag 1); `None` where all are equal.
    pub lag1: Option<f64>,
    /// The smallest.
    pub least: f64,
    /// The largest.
    pub greatest: f64,
}

/// Summarises the values; `None` where there are none.
pub fn summary(values: &[Dd]) -> Option<Summary> {
    let (first, count) = (values.first()?, values.len());
    #[expect(clippy::cast_precision_loss, reason = "row counts are far below 2^53")]
    let n = count as f64;
    let mean = values.iter().copied().sum::<Dd>() / Dd::new(n);
    let off = |v: Dd| v - mean;
    let squares: Dd = values.iter().map(|v| off(*v).square()).sum();
    let neighbours: Dd = values.windows(2).map(|w| off(w[0]) * off(w[1])).sum();
    let range = values
        .iter()
        .fold((first.to_f64(), first.to_f64()), |(l, g), v| (l.min(v.to_f64()), g.max(v.to_f64())));
    Some(Summary {
        count,
        mean: mean.to_f64(),
        sd: (count > 1).then(|| (squares / Dd::new(n - 1.0)).sqrt().to_f64()),
        lag1: (squares.to_f64() > 0.0).then(|| (neighbours / squares).to_f64()),
        least: range.0,
        greatest: range.1,
    })
}

/// [`summary`] of plain `f64` values.
pub fn summary_f64(values: &[f64]) -> Option<Summary> {
    let exact: Vec<Dd> = values.iter().map(|v| Dd::new(*v)).collect();
    summary(&exact)
}
