//! The shaft line: cases solved by hand, a dense search as an independent check, and the certificate.

use numerics::bores::*;
use proptest::prelude::*;

fn near(got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "{got:.15} {want:.15}");
}

fn bore(y: f64, x: f64, z: f64, diameter: f64) -> Bore {
    Bore { y, x, z, diameter }
}

/// Three equal bushes in equal steps, the middle one off by d: the best line leaves room - d/2, room = (bore -
/// shaft)/2.
fn bent(d: f64) -> Vec<Bore> {
    vec![bore(100.0, 5.0, 3.0, 20.2), bore(1100.0, 5.0 + d, 3.0, 20.2), bore(2100.0, 5.0, 3.0, 20.2)]
}

#[test]
fn middle_bush_off() {
    let line = shaft_line(&bent(0.12), 20.0).unwrap();
    near(line.clearance, 0.1 - 0.06, 1e-9);
    assert!(line.passes() && line.gap < 1e-9);
    near(line.x.intercept, 5.06, 1e-8);
    near(line.x.slope, 0.0, 1e-11);
    near(line.z.intercept, 3.0, 1e-8);
    for c in line.clearances {
        near(c, 0.04, 1e-8);
    }
    // The clearance is room - |x1 - 2 x2 + x3| / 4.
    for (s, (x, d)) in line.sensitivity.iter().zip([(0.25, 0.125), (-0.5, 0.25), (0.25, 0.125)]) {
        near(s.x, x, 1e-7);
        near(s.z, 0.0, 1e-7);
        near(s.diameter, d, 1e-7);
    }
}

#[test]
fn binding_shaft_and_what_frees_it() {
    let bores = bent(0.3);
    let line = shaft_line(&bores, 20.0).unwrap();
    near(line.clearance, -0.05, 1e-9);
    assert!(!line.passes());
    // |x1 - 2 x2 + x3| must come down to 4 (room - wanted).
    let wanted = 0.02;
    for (which, want) in [(0, 0.28), (1, -0.14), (2, 0.28)] {
        let shift = freeing_shift(&bores, 20.0, which, wanted).unwrap().unwrap();
        near(shift.x, want, 1e-7);
        near(shift.z, 0.0, 1e-6);
        let mut moved = bores.clone();
        moved[which].x += shift.x;
        moved[which].z += shift.z;
        near(shaft_line(&moved, 20.0).unwrap().clearance, wanted, 1e-7);
    }
    // No move can give more than the room itself; less than the present clearance needs no move.
    assert_eq!(freeing_shift(&bores, 20.0, 0, 0.11).unwrap(), None);
    assert_eq!(freeing_shift(&bent(0.0), 20.0, 0, 0.05).unwrap(), Some(Shift { x: 0.0, z: 0.0 }));
    // Four bushes, two of them off: moving one alone is not enough.
    let mut zigzag = bent(0.5);
    zigzag.push(bore(3100.0, 4.0, 3.0, 20.2));
    zigzag.push(bore(4100.0, 6.0, 3.0, 20.2));
    assert_eq!(freeing_shift(&zigzag, 20.0, 0, 0.01).unwrap(), None);
}

#[test]
fn refusals() {
    assert_eq!(shaft_line(&bent(0.0)[..1], 20.0), Err(BoresError::OnePlace));
    assert_eq!(shaft_line(&bent(0.0), 0.0), Err(BoresError::BadShaft));
    assert_eq!(shaft_line(&bent(f64::NAN), 20.0), Err(BoresError::BadBore(1)));
    assert_eq!(freeing_shift(&bent(0.0), 20.0, 3, 0.0), Err(BoresError::NoSuchBore(3)));
}

/// Maximum of a concave function on -1.5 to 1.5, by golden section.
fn greatest(f: &dyn Fn(f64) -> f64) -> f64 {
    const GOLDEN: f64 = 0.618_033_988_749_894_9;
    let (mut low, mut high) = (-1.5, 1.5);
    let (mut a, mut b) = (high - GOLDEN * (high - low), low + GOLDEN * (high - low));
    let (mut fa, mut fb) = (f(a), f(b));
    for _ in 0..24 {
        if fa > fb {
            (high, b, fb) = (b, a, fa);
            a = high - GOLDEN * (high - low);
            fa = f(a);
        } else {
            (low, a, fa) = (a, b, fb);
            b = low + GOLDEN * (high - low);
            fb = f(b);
        }
    }
    fa.max(fb)
}

/// Largest least clearance, by searching where the line passes the first and the last place, one direction inside the
/// other.
fn searched(bores: &[Bore], shaft: f64) -> f64 {
    let (low, high) = (bores[0].y, bores[bores.len() - 1].y);
    let least = |x: (f64, f64), z: (f64, f64)| {
        let clearance = |b: &Bore| {
            let q = (b.y - low) / (high - low);
            let (dx, dz) = (b.x - x.0 * (1.0 - q) - x.1 * q, b.z - z.0 * (1.0 - q) - z.1 * q);
            0.5 * (b.diameter - shaft) - (dx * dx + dz * dz).sqrt()
        };
        bores.iter().map(clearance).fold(f64::INFINITY, f64::min)
    };
    greatest(&|x0| greatest(&|x1| greatest(&|z0| greatest(&|z1| least((x0, x1), (z0, z1))))))
}

proptest! {
    #![proptest_config(crate::common::cases(8))]
    #[test]
    fn agrees_with_a_dense_search_and_is_proven(
        across in prop::collection::vec((-0.5..0.5_f64, -0.5..0.5_f64, 19.0..22.0_f64), 3..7)
    ) {
        let places = across.iter().enumerate();
        let bores: Vec<Bore> = places.map(|(i, (x, z, d))| bore(300.0 * i as f64, *x, *z, *d)).collect();
        let line = shaft_line(&bores, 19.5).unwrap();
        prop_assert!(line.gap < 1e-8, "gap {}", line.gap);
        let found = searched(&bores, 19.5);
        prop_assert!(found <= line.clearance + line.gap + 1e-12);
        prop_assert!(line.clearance - found < 1e-4, "{} {}", line.clearance, found);
    }

    /// Turning, moving and tilting everything together changes nothing.
    #[test]
    fn position_and_direction_in_space_do_not_matter(
        across in prop::collection::vec((-0.5..0.5_f64, -0.5..0.5_f64, 19.0..22.0_f64), 2..7),
        (a, b, turn) in (-100.0..100.0_f64, -0.01..0.01_f64, 0.0..6.3_f64)
    ) {
        let places = || across.iter().enumerate().map(|(i, v)| (300.0 * i as f64, v));
        let plain: Vec<Bore> = places().map(|(y, (x, z, d))| bore(y, *x, *z, *d)).collect();
        let (s, c) = turn.sin_cos();
        let laid: Vec<Bore> = places()
            .map(|(y, (x, z, d))| bore(y + 50.0, c * x - s * z + a + b * y, s * x + c * z - a + 2.0 * b * y, *d))
            .collect();
        let (p, l) = (shaft_line(&plain, 19.5).unwrap(), shaft_line(&laid, 19.5).unwrap());
        prop_assert!((p.clearance - l.clearance).abs() < 1e-8);
    }
}
