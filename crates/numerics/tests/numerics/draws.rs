//! Seeded draws, propagation by simulation against closed forms, and the drift watch.

use numerics::cusum::Cusum;
use numerics::rng::{Normals, Rng};
use numerics::simulate::Spread;

/// The spread of `draws` results of a model that draws its inputs.
fn propagate(draws: usize, seed: u64, mut model: impl FnMut(&mut Rng) -> f64) -> Option<Spread> {
    let mut rng = Rng::new(seed);
    Spread::of((0..draws).map(|_| model(&mut rng)).collect())
}

/// Four standard errors of a simulated 2.5 % quantile of M draws: 4 sqrt(0.025 0.975 / M) over the density there.
fn within(got: f64, want: f64, density: f64, draws: f64) {
    let limit = 4.0 * (0.025 * 0.975 / draws).sqrt() / density;
    assert!((got - want).abs() < limit, "{got} {want} {limit}");
}

/// The first draws of xoshiro256++ seeded with 0 through SplitMix64 (values of the reference algorithms, from memory); pinned,
/// so that they never change.
#[test]
fn draws_never_change() {
    let mut rng = Rng::new(0);
    let bits: Vec<u64> = (0..3).map(|_| rng.bits()).collect();
    assert_eq!(bits, [5_987_356_902_031_041_503, 7_051_070_477_665_621_255, 6_633_766_593_972_829_180]);
    let mut rng = Rng::new(2026);
    assert_eq!(rng.normal().to_bits(), Rng::new(2026).normal().to_bits());
    assert_ne!(Rng::new(1).bits(), Rng::new(2).bits());
}

/// Uniform from -`half` to `half`.
fn rectangular(rng: &mut Rng, half: f64) -> f64 {
    half * (2.0 * rng.uniform() - 1.0)
}

/// Arcsine (U-shaped) from -`half` to `half`.
fn arcsine(rng: &mut Rng, half: f64) -> f64 {
    half * (std::f64::consts::TAU * rng.uniform()).sin()
}

/// Sums of independent rectangular errors (JCGM 101:2008 9.2): exact 95 % half-widths computed in closed form.
#[test]
fn sums_of_rectangular_errors() {
    let draws = 1_000_000;
    let root = 3.0_f64.sqrt();
    let one = propagate(draws, 1, |r| rectangular(r, 1.0)).unwrap();
    within(one.high, 0.95, 0.5, 1e6);
    within(-one.low, 0.95, 0.5, 1e6);
    let two = propagate(draws, 2, |r| rectangular(r, root) + rectangular(r, root)).unwrap();
    within(two.high, 2.689_504_945_896_27, (2.0 * root - 2.6895) / 12.0, 1e6);
    let four = propagate(draws, 3, |r| (0..4).map(|_| rectangular(r, root)).sum()).unwrap();
    within(four.high, 3.879_406_741_347_82, 0.030, 1e6);
    assert!((four.sd - 2.0).abs() < 0.006 && four.mean.abs() < 0.008);
    let dominant = propagate(draws, 4, |r| {
        (0..3).map(|_| rectangular(r, root)).sum::<f64>() + rectangular(r, 10.0 * root)
    });
    let dominant = dominant.unwrap();
    within(dominant.high, 17.015_814_099_866_7, 0.02, 1e6);
    within(-dominant.low, 17.015_814_099_866_7, 0.02, 1e6);
    let u_shaped = propagate(draws, 5, |r| arcsine(r, 1.0)).unwrap();
    within(u_shaped.high, 0.996_917_333_733_128, 4.0, 1e6);
}

/// JCGM 101:2008 9.2.2: the sum of four standard normals is normal with standard deviation 2.
#[test]
fn sum_of_normals() {
    let got = propagate(1_000_000, 6, |r| (0..4).map(|_| r.normal()).sum()).unwrap();
    within(got.high, 2.0 * 1.959_963_984_540_054, 0.0292, 1e6);
    within(got.low, -2.0 * 1.959_963_984_540_054, 0.0292, 1e6);
    assert!((got.sd - 2.0).abs() < 4.0 * 2.0 / (2e6_f64).sqrt());
}

#[test]
fn spread_of_a_list() {
    let got = Spread::of((1..=200).rev().map(f64::from).collect()).unwrap();
    assert_eq!((got.mean, got.low, got.high), (100.5, 6.0, 195.0));
    assert_eq!(Spread::of(vec![1.0]), None);
    let two = Spread::of(vec![3.0, 1.0]).unwrap();
    assert_eq!((two.low, two.high), (1.0, 3.0));
}

/// A shift of two standard deviations is found soon, with its start and size.
#[test]
fn shift_is_found_with_time_and_size() {
    for (seed, sign) in [(1, 1.0), (2, -1.0), (3, 1.0)] {
        let mut rng = Rng::new(seed);
        let mut watch = Cusum::new(5.0, 0.1, 0.5, 8.0);
        let shifted = |i: u64| if i < 200 { 5.0 } else { 5.0 + sign * 0.2 };
        let found = (0..260).find_map(|i| watch.add(shifted(i) + 0.1 * rng.normal()));
        let change = found.unwrap();
        assert!(change.first.abs_diff(200) <= 3, "{change:?}");
        assert!(change.found < 215 && (change.size * sign - 0.2).abs() < 0.08, "{change:?}");
        // After that it compares with the new level.
        assert!((0..1_000).all(|_| watch.add(5.0 + change.size).is_none()));
        assert!((0..100).any(|_| watch.add(5.0).is_some()));
    }
}

/// Average run lengths of the usual watch (allowance 0.5, limit 5), from Montgomery's textbook table, from memory: 465 without a
/// shift, 10.4 at one standard deviation, 4.01 at two.
#[test]
fn average_run_lengths() {
    let average = |shift: f64, runs: u32, seed: u64| {
        let mut rng = Rng::new(seed);
        let mut total = 0;
        for _ in 0..runs {
            let mut watch = Cusum::new(0.0, 1.0, 0.5, 5.0);
            let found = core::iter::repeat_with(|| watch.add(shift + rng.normal())).flatten().next();
            total += 1 + found.unwrap().found;
        }
        total as f64 / f64::from(runs)
    };
    assert!((average(0.0, 4000, 1) / 465.0 - 1.0).abs() < 0.06);
    assert!((average(1.0, 4000, 2) / 10.4 - 1.0).abs() < 0.03);
    assert!((average(2.0, 4000, 3) / 4.01 - 1.0).abs() < 0.03);
}

#[test]
fn a_missing_value_is_skipped() {
    let mut watch = Cusum::new(0.0, 1.0, 0.5, 5.0);
    assert_eq!(watch.add(f64::NAN), None);
    assert_eq!(watch.add(100.0).unwrap().first, 1);
}

#[test]
fn kept_draws_equal_fresh_draws_for_blocks_of_any_size() {
    let mut kept = Normals::new(7);
    // More than are kept, fewer than were drawn, and blocks that straddle the end of what is kept.
    for (times, size) in [(400, 12), (5, 3), (0, 4), (3, 0), (4_000, 11), (400, 12)] {
        let (mut rng, mut lots) = (Rng::new(7), 0);
        kept.lots(times, size, |lot| {
            lots += 1;
            let fresh: Vec<f64> = (0..size).map(|_| rng.normal()).collect();
            assert_eq!(lot, fresh, "lot {lots} of {size}");
        });
        assert!(lots == times || size == 0, "{lots} of {times}");
    }
}
