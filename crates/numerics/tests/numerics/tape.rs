//! A tape's corrections, against published examples.

use numerics::lengths::to_reference;
use numerics::rigging::tape::{Stretch, pull, sag, weight};

/// A university's taping lecture: 368.50 ft at 22 F with 6.5e-6 per F, standard 68 F, are 368.39; sag of 2.8 lb per 100 ft at 12
/// and 18 lb in three spans of 100 and one of 48.75 ft, and in six of 50 and that one; pull of 18 lb against 12 over 100 ft.
#[test]
fn published_corrections() {
    let near = |found: f64, expected: f64, within: f64| {
        assert!((found - expected).abs() <= within, "{found} {expected}");
    };
    near(368.5 * to_reference(6.5e-6, 0.0, 22.0 - 68.0), 368.39, 5e-3);
    near(368.5 * to_reference(6.5e-6, 0.0, 22.0 - 68.0) - 368.5, -0.1102, 5e-5);
    near(sag(0.028, [100.0, 100.0, 100.0, 48.75], 12.0), -0.7068, 5e-4);
    near(sag(0.028, [100.0, 100.0, 100.0, 48.75], 18.0), -0.3142, 5e-4);
    near(sag(0.028, [50.0, 50.0, 50.0, 50.0, 50.0, 50.0, 48.75], 12.0), -0.1964, 5e-4);
    near(pull(Stretch { standard: 12.0, stiffness: 0.015 * 29e6 }, 100.0, 18.0), 0.001_379, 1e-6);
}

/// Derived, no publisher: 20 g/m over 4.5 m at 22.24 N and at 50 N, in mm; a catenary of one span of 100 ft is longer than its
/// chord by 0.22857 where the parabola says 0.22685.
#[test]
fn derived_sags() {
    let weight = weight(20.0);
    assert!((sag(weight, [4500.0], 22.24) + 0.2953).abs() < 5e-5);
    assert!((sag(weight, [4500.0], 50.0) + 0.0584).abs() < 5e-5);
    let parabola = sag(0.028, [100.0], 12.0);
    assert!((parabola + 0.226_85).abs() < 5e-5);
    // By the catenary: the arc over a chord c is 2 a sinh(c / 2a), a = P / w at the bottom.
    let a = 12.0 / 0.028;
    let arc = 2.0 * a * libm::sinh(100.0 / (2.0 * a));
    assert!(((arc - 100.0) + parabola).abs() < 2e-3, "{arc}");
}
