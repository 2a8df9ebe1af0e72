//! Travel of a control surface, compared with geometry computed another way.

use numerics::rigging::travel::{By, Hinge, Laid};

#[expect(clippy::unwrap_used, reason = "a test stops where something is missing")]
fn travel(sweep: f64, dihedral: f64, laid: Laid, shown: f64) -> f64 {
    let hinge = Hinge { sweep: f64::to_radians(sweep), dihedral: f64::to_radians(dihedral) };
    hinge.travel(laid, 0.0, f64::to_radians(shown)).unwrap().to_degrees()
}

/// Derived from the geometry, no publisher: a hinge swept by 10, or up by 5 degrees, the surface turned by 20.
#[test]
fn hinges_that_lie_one_way() {
    for (sweep, dihedral, laid, shown) in [
        (10.0, 0.0, Laid::Square, 20.0),
        (10.0, 0.0, Laid::ForeAft, 19.7197),
        (0.0, 5.0, Laid::Square, 19.9207),
        (0.0, 5.0, Laid::ForeAft, 20.0703),
        (0.0, 0.0, Laid::ForeAft, 20.0),
    ] {
        let found = travel(sweep, dihedral, laid, shown);
        assert!((found - 20.0).abs() < 1e-4, "{sweep} {dihedral} {laid:?}: {found}");
    }
}

/// In the other direction: Rodrigues' formula turns a plane about a hinge with both sweep and dihedral, and the
/// level's reading is its intersection with the vertical fore-and-aft plane.
#[test]
fn a_turned_plane_is_found_again() {
    let cross = |a: [f64; 3], b: [f64; 3]| {
        [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
    };
    for (s, g, d) in [(10.0, 5.0, 20.0), (-4.0, 7.0, -25.0), (25.0, -3.0, 11.0), (1.0, 1.0, 0.0)] {
        let (sweep, dihedral, turn) = (f64::to_radians(s), f64::to_radians(g), f64::to_radians(d));
        let axis = [
            libm::cos(dihedral) * libm::sin(sweep),
            libm::cos(dihedral) * libm::cos(sweep),
            libm::sin(dihedral),
        ];
        let level = [libm::cos(sweep), -libm::sin(sweep), 0.0];
        // About the hinge so that the trailing edge goes up.
        let across = cross(level, axis);
        let chord: Vec<f64> =
            (0..3).map(|i| level[i] * libm::cos(turn) + across[i] * libm::sin(turn)).collect();
        let chord = [chord[0], chord[1], chord[2]];
        let normal = cross(chord, axis);
        let along = cross([0.0, 1.0, 0.0], normal);
        let along = if along[0] < 0.0 { along.map(|v| -v) } else { along };
        let hinge = Hinge { sweep, dihedral };
        let fore_aft = libm::atan2(along[2], along[0]);
        let square = libm::asin(chord[2]);
        for (laid, shown) in [(Laid::ForeAft, fore_aft), (Laid::Square, square)] {
            let found = hinge.turned(laid, shown).unwrap();
            assert!((found - turn).abs() < 1e-12, "{s} {g} {d} {laid:?}: {}", found.to_degrees());
        }
    }
}

/// The reading at neutral is subtracted after the geometry, not before: with dihedral these differ.
#[test]
fn neutral_is_a_position_of_its_own() {
    let hinge = Hinge { sweep: 0.0, dihedral: f64::to_radians(30.0) };
    let at = |d: f64| libm::asin(libm::sin(f64::to_radians(d)) * libm::cos(hinge.dihedral));
    let found = hinge.travel(Laid::Square, at(10.0), at(35.0)).unwrap().to_degrees();
    assert!((found - 25.0).abs() < 1e-10, "{found}");
    assert!((at(35.0) - at(10.0)).to_degrees() < 21.5);
    assert_eq!(hinge.turned(Laid::Square, f64::to_radians(70.0)), None);
    assert_eq!(hinge.turned(Laid::ForeAft, f64::to_radians(90.0)), None);
}

/// A chord of 2 turned by 25 degrees has four lengths (elementary geometry; public pages mix them up).
#[test]
fn four_lengths_of_one_travel() {
    for (by, length) in [(By::Sine, 0.8452), (By::Chord, 0.8658), (By::Arc, 0.8727), (By::Tangent, 0.9326)] {
        let found = by.travel(length, 2.0).unwrap().to_degrees();
        assert!((found - 25.0).abs() < 0.004, "{by:?}: {found}");
        assert!((by.travel(-length, 2.0).unwrap().to_degrees() + found).abs() < 1e-12);
    }
    assert_eq!(By::Sine.travel(2.1, 2.0), None);
    assert_eq!(By::Chord.travel(4.1, 2.0), None);
    assert_eq!(By::Arc.travel(7.0, 2.0), None);
    assert_eq!(By::Tangent.travel(1.0, 0.0), None);
}
