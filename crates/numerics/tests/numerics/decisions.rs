//! Conformity decisions. Values computed from the normal and t distributions; rules of JCGM 106 and ISO 14253-1.

use numerics::decide::*;
use numerics::dist::normal_cdf;
use proptest::prelude::*;

const RULE: Rule = Rule::Guarded { level: 0.95 };

fn zone(half: f64) -> Limits {
    Limits { lower: Some(-half), upper: Some(half) }
}

fn near(got: f64, want: f64, tolerance: f64) {
    assert!((got - want).abs() <= tolerance, "{got:.15} {want:.15}");
}

#[test]
fn known_twist_values_get_their_known_verdicts() {
    for (y, u, p) in [
        (0.3, 0.1, 0.977_249_868_051_82),
        (0.4, 0.1, 0.841_344_746_068_543),
        (0.5, 0.1, 0.5),
        (0.6, 0.1, 0.158_655_253_931_457),
        (0.0, 0.5, 0.682_689_492_137_086),
    ] {
        near(decide(y, u, None, zone(0.5), RULE).unwrap().probability, p, 1e-14);
    }
    let verdict = |y, dof| decide(y, 0.1, dof, zone(0.5), RULE).unwrap().verdict;
    assert_eq!(verdict(0.3, None), Verdict::Within);
    assert_eq!(verdict(0.4, None), Verdict::Undecided);
    assert_eq!(verdict(0.6, None), Verdict::Undecided);
    assert_eq!(verdict(0.67, None), Verdict::Outside);
    // t with 4 degrees of freedom: a value accepted by the normal becomes undecided.
    let t = decide(0.3, 0.1, Some(4.0), zone(0.5), RULE).unwrap();
    near(t.probability, 0.941_279_789_786_984, 1e-12);
    assert_eq!(t.verdict, Verdict::Undecided);
    let Zone { from, to } = decide(0.3, 0.1, None, zone(0.5), RULE).unwrap().passing.unwrap();
    near(to, 0.335_514_637_304_853, 1e-12);
    near(from, -to, 1e-15);
}

/// Both limits count when the uncertainty is large against the zone.
#[test]
fn largest_passing_value() {
    for (u, y) in [
        (0.1, 0.835_514_637_304_853),
        (0.3, 0.506_543_167_456_660),
        (0.4, 0.340_493_390_448_5),
        (0.5, 0.101_893_639_701_902),
    ] {
        let decision = decide(0.0, u, None, zone(1.0), RULE).unwrap();
        near(decision.passing.unwrap().to, y, 1e-12);
        near(decision.coarsest, 0.510_213_456_924_654, 1e-14);
    }
    let coarse = decide(0.0, 0.5103, None, zone(1.0), RULE).unwrap();
    assert_eq!((coarse.passing, coarse.verdict), (None, Verdict::Undecided));
    assert!(decide(0.0, 0.5102, None, zone(1.0), RULE).unwrap().passing.is_some());
}

/// A true value at the limit is accepted wrongly with: 5 % (95 % guard), 2.275 % (k = 2), 50 % (simple).
#[test]
fn false_acceptance_at_the_limit() {
    let limits = Limits { lower: None, upper: Some(10.0) };
    for (rule, risk) in
        [(RULE, 0.05), (Rule::Guarded { level: normal_cdf(2.0) }, 0.022_750_131_948_179), (Rule::Simple, 0.5)]
    {
        let passing = decide(10.0, 0.2, None, limits, rule).unwrap().passing.unwrap();
        assert_eq!(passing.from, f64::NEG_INFINITY);
        near(normal_cdf((passing.to - 10.0) / 0.2), risk, 1e-12);
    }
}

#[test]
fn a_certain_value_and_simple_acceptance_go_by_the_value_alone() {
    let at = |v, u, rule| decide(v, u, None, zone(0.5), rule).unwrap();
    assert_eq!(at(0.5, 0.0, RULE).verdict, Verdict::Within);
    assert_eq!(at(0.500_1, 0.0, RULE).verdict, Verdict::Outside);
    assert_eq!(at(0.5, 0.0, RULE).passing, Some(Zone { from: -0.5, to: 0.5 }));
    assert_eq!(at(0.499, 0.4, Rule::Simple).verdict, Verdict::Within);
    assert_eq!(at(0.501, 0.4, Rule::Simple).verdict, Verdict::Outside);
}

#[test]
fn refusals() {
    assert_eq!(decide(0.0, 0.1, None, Limits::default(), RULE), Err(DecideError::NoLimits));
    assert_eq!(decide(0.0, -0.1, None, zone(1.0), RULE), Err(DecideError::BadNumber));
    assert_eq!(decide(0.0, 0.1, Some(0.0), zone(1.0), RULE), Err(DecideError::BadNumber));
    assert_eq!(decide(0.0, 0.1, None, zone(-1.0), RULE), Err(DecideError::LimitsCross));
    assert_eq!(decide(0.0, 0.1, None, zone(1.0), Rule::Guarded { level: 0.5 }), Err(DecideError::BadLevel));
}

proptest! {
    #![proptest_config(crate::common::cases(256))]
    /// The passing zone is exactly where the verdict is `Within`; the verdict does not change when mirrored or in
    /// other units; a guard band of k u is the same rule as long as u is small against the zone.
    #[test]
    fn passing_zone_mirror_image_and_unit_agree_with_the_verdict(v in -1.5..1.5_f64, u in 0.001..0.7_f64, dof in prop::option::of(2.0..60.0_f64)) {
        let decision = decide(v, u, dof, zone(1.0), RULE).unwrap();
        let inside = decision.passing.is_some_and(|p| (p.from..=p.to).contains(&v));
        let edge = decision.passing.is_some_and(|p| (v.abs() - p.to).abs() < 1e-9);
        prop_assert!(edge || inside == (decision.verdict == Verdict::Within));
        prop_assert_eq!(decide(-v, u, dof, zone(1.0), RULE).unwrap().verdict, decision.verdict);
        prop_assert_eq!(decide(25.4 * v, 25.4 * u, dof, zone(25.4), RULE).unwrap().verdict, decision.verdict);
        if u < 0.1 && dof.is_none() {
            let k = 1.644_853_626_951_472_2;
            let guarded = if v.abs() <= 1.0 - k * u {
                Verdict::Within
            } else if v.abs() > 1.0 + k * u {
                Verdict::Outside
            } else {
                Verdict::Undecided
            };
            prop_assert_eq!(guarded, decision.verdict);
        }
    }
}
