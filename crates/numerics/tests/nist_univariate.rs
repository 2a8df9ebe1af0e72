//! The nine univariate sets of the NIST Statistical Reference Datasets. Read as decimals, every set keeps all its digits; read as
//! `f64` first, the digits lost in reading (and only those) are gone.

mod common;

use common::{Reference, lre};
use numerics::uni::{summary, summary_f64};

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
