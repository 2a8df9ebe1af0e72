//! The nine univariate sets of the NIST Statistical Reference Datasets. Read as decimals, every set keeps all its
//! digits; read as `f64` first, it loses the digits lost in reading, and no others.

use crate::common::{Reference, lre};
use numerics::Dd;

/// Summary statistics of a list of numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Summary {
    /// How many there are.
    count: usize,
    /// Their mean.
    mean: f64,
    /// Standard deviation with n - 1; `None` for one number.
    sd: Option<f64>,
    /// Autocorrelation of neighbours (lag 1); `None` if all are equal.
    lag1: Option<f64>,
    /// The smallest.
    least: f64,
    /// The largest.
    greatest: f64,
}

/// Summarises the values; `None` if there are none.
fn summary(values: &[Dd]) -> Option<Summary> {
    let (first, count) = (values.first()?, values.len());
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
fn summary_f64(values: &[f64]) -> Option<Summary> {
    let exact: Vec<Dd> = values.iter().map(|v| Dd::new(*v)).collect();
    summary(&exact)
}

macro_rules! sets {
    ($($name:ident, $file:literal, $floor:literal;)*) => {$(
        #[test]
        fn $name() {
            let reference = Reference::read(include_str!(concat!("data/nist/", $file, ".txt")));
            let values = reference.column(0);
            let fact = |name: &str| reference.fact(name)[0];
            let exact = summary(&values).unwrap();
            assert!(lre(exact.mean, fact("MEAN")) >= 15.0, "{exact:?}");
            assert!(lre(exact.sd.unwrap(), fact("SD")) >= 14.9, "{exact:?}");
            assert!(lre(exact.lag1.unwrap(), fact("R1")) >= 14.5, "{exact:?}");
            let plain: Vec<f64> = values.iter().map(|v| v.to_f64()).collect();
            let rounded = summary_f64(&plain).unwrap();
            assert!(lre(rounded.sd.unwrap(), fact("SD")) >= $floor, "{rounded:?}");
        }
    )*};
}

sets! {
    pi_digits, "PiDigits", 14.9;
    lottery, "Lottery", 14.9;
    lew, "Lew", 14.9;
    mavro, "Mavro", 13.0;
    michelso, "Michelso", 13.8;
    num_acc1, "NumAcc1", 14.9;
    num_acc2, "NumAcc2", 14.9;
    num_acc3, "NumAcc3", 9.4;
    num_acc4, "NumAcc4", 8.2;
}

#[test]
fn few_values() {
    assert_eq!(summary(&[]), None);
    let one = summary_f64(&[3.0]).unwrap();
    assert_eq!((one.count, one.mean, one.sd, one.lag1), (1, 3.0, None, None));
    let equal = summary_f64(&[2.0, 2.0]).unwrap();
    assert_eq!((equal.sd, equal.lag1, equal.least, equal.greatest), (Some(0.0), None, 2.0, 2.0));
}
