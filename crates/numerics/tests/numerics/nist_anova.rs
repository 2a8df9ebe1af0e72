//! The eleven one-way sets of the NIST Statistical Reference Datasets.
#![expect(clippy::unwrap_used, reason = "an analysis that fails fails the test")]

use crate::common::{Reference, lre};
use numerics::anova::one_way;

fn check(text: &str) {
    let reference = Reference::read(text);
    let mut groups = Vec::new();
    for row in &reference.rows {
        let group = row[0].to_f64() as usize;
        if groups.len() < group {
            groups.push(Vec::new());
        }
        groups[group - 1].push(row[1]);
    }
    let got = one_way(&groups).unwrap();
    let (between, within) = (reference.fact("BETWEEN"), reference.fact("WITHIN"));
    assert_eq!((got.between.dof as f64, got.within.dof as f64), (between[0], within[0]));
    for (what, got, want) in [
        ("between SS", got.between.sum_of_squares, between[1]),
        ("between MS", got.between.mean_square, between[2]),
        ("within SS", got.within.sum_of_squares, within[1]),
        ("within MS", got.within.mean_square, within[2]),
        ("RSD", got.residual_sd, reference.fact("RSD")[0]),
    ] {
        assert!(lre(got, want) >= 13.0, "{what} {got} {want}");
    }
}

macro_rules! sets {
    ($($name:ident, $file:literal;)*) => {$(
        #[test]
        fn $name() {
            check(include_str!(concat!("data/nist/anova/", $file, ".txt")));
        }
    )*};
}

sets! {
    si_rstv, "SiRstv";
    atm_wt_ag, "AtmWtAg";
    sm_ls01, "SmLs01";
    sm_ls02, "SmLs02";
    sm_ls03, "SmLs03";
    sm_ls04, "SmLs04";
    sm_ls05, "SmLs05";
    sm_ls06, "SmLs06";
    sm_ls07, "SmLs07";
    sm_ls08, "SmLs08";
    sm_ls09, "SmLs09";
}
