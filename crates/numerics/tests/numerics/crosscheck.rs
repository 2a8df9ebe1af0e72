//! Compared with recorded answers of reference libraries (numpy, scipy, mpmath; versions in the file) where nothing
//! is published. `tests/crosscheck/crosscheck.py` says how each was found and records them again.
#![expect(clippy::unwrap_used, reason = "a record that cannot be read fails the test")]

use crate::common::no_scatter;
use numerics::{bands, bores, dist, elastic, gls, straight};
use serde_json::Value;

fn recorded(part: &str) -> Vec<Value> {
    let text = include_str!("../../../../tests/crosscheck/recorded.json");
    let all: Value = serde_json::from_str(text).unwrap();
    let cases = all[part].as_array().unwrap().clone();
    assert!(!cases.is_empty(), "{part}");
    cases
}

fn list(v: &Value) -> Vec<f64> {
    v.as_array().unwrap().iter().map(number).collect()
}

fn lists(v: &Value) -> Vec<Vec<f64>> {
    v.as_array().unwrap().iter().map(list).collect()
}

fn number(v: &Value) -> f64 {
    v.as_f64().unwrap()
}

fn near(got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance * want.abs().max(1.0), "{got:.16} {want:.16}");
}

/// Relative to the value itself, however small.
#[test]
fn tails_of_distributions() {
    for case in recorded("distributions") {
        let (x, want, dof) = (number(&case["x"]), number(&case["sf"]), list(&case["dof"]));
        let got = match case["name"].as_str().unwrap() {
            "t" => dist::t_sf(x, dof[0]),
            "chi2" => dist::chi2_sf(x, dof[0]),
            _ => dist::f_sf(x, dof[0], dof[1]),
        };
        // A value too small for an f64 is zero.
        let fits = want > 1e-290;
        assert!((got - want).abs() <= if fits { 2e-12 * want } else { 1e-289 }, "{case} {got}");
    }
}

#[test]
fn generalised_least_squares() {
    for case in recorded("generalised") {
        let mut covariance = gls::Covariance::new(list(&case["own"]));
        for part in lists(&case["shared"]) {
            covariance = covariance.with_shared(part);
        }
        let order = case["order"].as_u64().unwrap() as usize;
        let fit = gls::fit(&list(&case["eta"]), &list(&case["values"]), &covariance, order).unwrap();
        near(fit.chi2, number(&case["chi2"]), 1e-13);
        for (got, want) in fit.coefficients.iter().zip(list(&case["coefficients"])) {
            near(*got, want, 1e-13);
        }
        for (got, want) in
            fit.covariance.iter().flatten().zip(lists(&case["covariance"]).into_iter().flatten())
        {
            near(*got, want, 1e-13);
        }
        for (z, want) in fit.residuals.standardised.iter().zip(list(&case["studentised"])) {
            let z = z.unwrap();
            near(z / ((fit.chi2 - z * z) / (fit.dof - 1) as f64).sqrt(), want, 1e-8);
        }
    }
}

/// The record itself is good to about 5e-4 (a million directions). In its other cases the scale comes from the
/// residuals alone.
#[test]
fn simultaneous_bands() {
    for case in recorded("bands").iter().filter(|c| c["dof"].is_null()) {
        let (rows, covariance) = (lists(&case["rows"]), lists(&case["covariance"]));
        let got = bands::simultaneous_factor(&rows, &covariance, &no_scatter(), 0.95, 1);
        near(got, number(&case["factor"]), 1e-3);
    }
}

#[test]
fn minimum_zones() {
    for case in recorded("straightness") {
        let got = straight::minimum_zone(&list(&case["y"]), &list(&case["z"])).unwrap();
        near(got.straightness, number(&case["zone"]), 1e-12);
    }
}

/// The record approaches from below (a descent); the certificate bounds it from above.
#[test]
fn shaft_lines() {
    for case in recorded("bores") {
        let (y, x, z, d) = (list(&case["y"]), list(&case["x"]), list(&case["z"]), list(&case["bore"]));
        let bore = |i: usize| bores::Bore { y: y[i], x: x[i], z: z[i], diameter: d[i] };
        let all: Vec<bores::Bore> = (0..y.len()).map(bore).collect();
        let line = bores::shaft_line(&all, number(&case["shaft"])).unwrap();
        near(line.clearance, number(&case["clearance"]), 1e-7);
        assert!(number(&case["clearance"]) <= line.clearance + line.gap + 1e-12);
    }
}

#[test]
fn beams_on_supports() {
    for case in recorded("beams") {
        let stations = list(&case["stations"]);
        let shape = elastic::deflection(&list(&case["supports"]), &list(&case["lift"]), &stations).unwrap();
        for (got, want) in shape.iter().zip(list(&case["shape"])) {
            near(*got, want, 1e-12);
        }
    }
}
