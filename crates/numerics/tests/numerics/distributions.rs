//! Distributions and their quantiles. Sources are beside the values.

use numerics::dist::*;

fn near(got: f64, want: f64, relative: f64) {
    assert!((got - want).abs() <= relative * want.abs(), "{got:.17} {want:.17}");
}

/// Computed with 40 digits.
#[test]
fn normal_quantiles() {
    for (p, z) in [
        (0.80, 0.841_621_233_572_914_3),
        (0.90, 1.281_551_565_544_600_4),
        (0.95, 1.644_853_626_951_472_2),
        (0.975, 1.959_963_984_540_054),
        (0.99, 2.326_347_874_040_840_8),
        (0.999, 3.090_232_306_167_813),
    ] {
        near(normal_quantile(p), z, 1e-14);
        near(normal_quantile(1.0 - p), -z, 1e-13);
        near(normal_cdf(z), p, 1e-15);
    }
    assert_eq!(normal_quantile(0.5), 0.0);
    assert_eq!(normal_quantile(0.0), f64::NEG_INFINITY);
    assert!(normal_quantile(1.5).is_nan());
}

/// NIST TN 1297 table B.1 (as JCGM 100 table G.2), to its rounding.
#[test]
fn t_tables() {
    let table95 = [
        (1.0, 12.71),
        (2.0, 4.30),
        (3.0, 3.18),
        (4.0, 2.78),
        (5.0, 2.57),
        (6.0, 2.45),
        (7.0, 2.36),
        (8.0, 2.31),
        (9.0, 2.26),
        (10.0, 2.23),
        (15.0, 2.13),
        (20.0, 2.09),
        (30.0, 2.04),
        (50.0, 2.01),
    ];
    for (dof, t) in table95 {
        assert!((t_quantile(0.975, dof) - t).abs() <= 0.005_000_1, "{dof}");
    }
    assert!((t_quantile(0.975, 100.0) - 1.984).abs() <= 0.0005);
    assert!((t_quantile(0.975, f64::INFINITY) - 1.960).abs() <= 0.0005);
    for (dof, t) in [(9.0, 3.25), (10.0, 3.17), (16.0, 2.92)] {
        assert!((t_quantile(0.995, dof) - t).abs() <= 0.005_000_1, "{dof}");
    }
    // One-sided 95 %: 10 CFR 429 subpart B appendix A.
    for (dof, t) in [(1.0, 6.314), (4.0, 2.132), (9.0, 1.833), (20.0, 1.725)] {
        assert!((t_quantile(0.95, dof) - t).abs() <= 0.0005, "{dof}");
    }
}

/// Computed with 40 digits.
#[test]
fn quantiles_to_nine_digits() {
    for (dof, t) in
        [(4.0, 2.776_445_105_2), (9.0, 2.262_157_162_8), (10.0, 2.228_138_852_0), (30.0, 2.042_272_456_3)]
    {
        near(t_quantile(0.975, dof), t, 5e-11);
    }
    near(t_quantile(0.975, 9.0), 2.262_157_162_798_205, 1e-14);
    near(t_quantile(0.995, 16.0), 2.920_781_622_425_1, 1e-13);
    near(chi2_quantile(0.95, 1.0), 3.841_458_820_694_126, 1e-13);
    near(chi2_quantile(0.95, 4.0), 9.487_729_036_781_157, 1e-13);
    near(chi2_quantile(0.95, 10.0), 18.307_038_053_275_15, 1e-13);
}

/// Critical value of Grubbs' statistic max|x - mean|/s for `count` values, two-sided at `alpha`
/// (F. E. Grubbs, Technometrics 11, 1969, by the t formula).
fn grubbs_critical(alpha: f64, count: usize) -> f64 {
    let n = count as f64;
    let t = t_quantile(alpha / (2.0 * n), n - 2.0);
    let square = t * t;
    (n - 1.0) / n.sqrt() * (square / (n - 2.0 + square)).sqrt()
}

/// Critical values computed from the t formula; 1.887 for six values is also in print.
#[test]
fn grubbs() {
    let two_sided = [
        (3, 1.154_305),
        (5, 1.715_037),
        (6, 1.887_145),
        (8, 2.126_645),
        (10, 2.289_954),
        (20, 2.708_246),
        (30, 2.908_473),
        (100, 3.384_083),
    ];
    for (n, g) in two_sided {
        assert!((grubbs_critical(0.05, n) - g).abs() < 1e-6, "{n}");
    }
    let one_sided = [(3, 1.153_118), (6, 1.822_120), (8, 2.031_652), (10, 2.176_068), (100, 3.209_520)];
    for (n, g) in one_sided {
        assert!((grubbs_critical(0.10, n) - g).abs() < 1e-6, "{n}");
    }
}

/// Closed forms: t with 1 and 2 degrees of freedom, chi-squared with 2, F with 2 and n.
#[test]
fn closed_forms() {
    for i in -40..=40 {
        let t = f64::from(i) * 0.35;
        near(t_cdf(t, 1.0), 0.5 + t.atan() / std::f64::consts::PI, 1e-13);
        near(t_sf(t, 2.0), 0.5 - t / (2.0 * (2.0 + t * t).sqrt()), 1e-12);
        let x = t * t;
        near(chi2_sf(x, 2.0), (-0.5 * x).exp(), 1e-13);
        for dof in [1.0, 3.0, 9.0, 1000.0] {
            near(f_sf(x, 2.0, dof), (1.0 + 2.0 * x / dof).powf(-0.5 * dof), 1e-11);
        }
    }
}

#[test]
fn quantiles_invert_the_distributions() {
    for p in [1e-12, 1e-6, 0.01, 0.3, 0.5, 0.7, 0.99, 1.0 - 1e-6] {
        for dof in [0.5, 1.0, 2.5, 7.0, 100.0, 1e5, 1e7] {
            near(t_cdf(t_quantile(p, dof), dof), p, 1e-9);
            near(chi2_sf(chi2_quantile(p, dof), dof), 1.0 - p, 1e-9);
        }
    }
}

#[test]
fn many_degrees_of_freedom_approach_the_normal() {
    near(t_quantile(0.975, 1e9), normal_quantile(0.975), 1e-8);
    assert!(
        t_quantile(0.95, 0.0).is_nan() && chi2_quantile(0.95, -1.0).is_nan() && f_sf(1.0, 0.0, 3.0).is_nan()
    );
}
