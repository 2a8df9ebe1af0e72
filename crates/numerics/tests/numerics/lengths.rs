//! A bay that is out of square, and a warm part.

use numerics::lengths::{lean, misfit, to_reference};

/// Law of cosines: a parallelogram of 800 by 600 leaning by 1 degree; slopes against differences.
#[test]
fn a_leaning_bay() {
    let s = 2.0 * 800.0 * 600.0 * libm::sin(1f64.to_radians());
    let (d1, d2) = (libm::sqrt(1e6 + s), libm::sqrt(1e6 - s));
    let found = lean(800.0, 600.0, d1, d2).unwrap();
    assert!((found.angle.to_degrees() - 1.0).abs() < 1e-12);
    let at = |d1: f64, d2: f64| lean(800.0, 600.0, d1, d2).unwrap().angle;
    let step = 1e-4;
    assert!(((at(d1 + step, d2) - at(d1 - step, d2)) / (2.0 * step) - found.per_first).abs() < 1e-10);
    assert!(((at(d1, d2 + step) - at(d1, d2 - step)) / (2.0 * step) - found.per_second).abs() < 1e-10);
    assert!(misfit(800.0, 600.0, d1, d2).abs() < 1e-12);
    assert!(misfit(800.0, 600.0, 100.0, 1000.0) < -0.4);
    assert_eq!(lean(1.0, 1.0, 9.0, 1.0), None);
    assert_eq!(lean(0.0, 1.0, 1.0, 1.0), None);
}

/// A steel tape (11.5e-6, JCGM 100 H.1) on 3000 mm of 2024 (22.9e-6, Callister) at 30 degrees shows 0.3420 mm too much.
#[test]
fn a_warm_part() {
    let shown = 3000.0 / to_reference(11.5e-6, 22.9e-6, 10.0);
    assert!((shown - 3000.342).abs() < 5e-5);
    assert_eq!(to_reference(11.5e-6, 22.9e-6, 0.0), 1.0);
}
