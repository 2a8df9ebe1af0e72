//! Numbers as people read them.

use proptest::prelude::*;
use quantity::shown::*;
use quantity::{Kind, Units};

/// The wing of the terminal examples.
#[test]
fn the_value_ends_at_the_digit_where_its_uncertainty_ends() {
    for (value, half, limit, want) in [
        (-0.36, 0.07, None, "-0.36 ±0.07°"),
        (0.113, 0.014, None, "+0.113 ±0.014°"),
        (-0.247, 0.065, Some(-0.25), "-0.247 ±0.065°"),
        (-0.247, 0.065, None, "-0.25 ±0.07°"),
        (-0.26, 0.07, Some(-0.25), "-0.26 ±0.07°"),
        // Crossing: 0.2496 would read 0.2, inside the limit 0.22.
        (0.2496, 0.4, Some(0.22), "+0.25 ±0.40°"),
        (0.249_97, 0.065, Some(0.25), "+0.24997 ±0.06500°"),
        (0.25, 0.07, Some(0.25), "+0.25 ±0.07°"),
        // Equal to the limit except for binary rounding (2.3 less 2.0; 0.1 plus 0.2).
        (2.3 - 2.0, 0.13, Some(0.3), "+0.30 ±0.13°"),
        (0.1 + 0.2, 0.13, Some(0.3), "+0.30 ±0.13°"),
        (1e-17, 0.07, Some(0.0), "0.00 ±0.07°"),
        (0.0, 0.2, None, "0.00 ±0.20°"),
        (-0.000_4, 0.05, None, "0.00 ±0.05°"),
        (0.005, 0.05, None, "+0.01 ±0.05°"),
        (-0.005, 0.05, None, "-0.01 ±0.05°"),
        (12.34, 12.0, None, "+12 ±12°"),
        (12.34, 0.0096, None, "+12.340 ±0.010°"),
        (12.34, 0.0296, None, "+12.340 ±0.030°"),
        (1.0, 0.0, None, "+1.000 ±?°"),
        (1.0, f64::NAN, None, "+1.000 ±?°"),
        (f64::NAN, 1.0, None, "unknown ±1.0°"),
    ] {
        assert_eq!(
            WithU::of_half(value, half).against([None, limit]).signed_with("deg"),
            want,
            "{value} ±{half} {limit:?}"
        );
    }
    assert_eq!(Units::INSIDE.with_u(Kind::Length, 954.23, 0.2).plain_with(), "954.2 ±0.4 mm");
    assert_eq!(WithU::of_u(-0.36, 0.0357).signed_with("deg"), "-0.36 ±0.07°");
}

#[test]
fn halves_round_away_from_zero() {
    for (value, decimals, want) in [
        (0.125, 2, "0.13"),
        (-0.125, 2, "-0.13"),
        (2.675, 2, "2.68"),
        (1.005, 2, "1.01"),
        (9.995, 2, "10.00"),
        (0.5, 0, "1"),
        (99.5, 0, "100"),
        (0.05, 1, "0.1"),
        (0.049_999, 1, "0.0"),
        (-0.049_999, 1, "0.0"),
        (3.0, 3, "3.000"),
        (1e300, 2, "1.000e300"),
        (f64::INFINITY, 2, "unknown"),
        (5e-324, 3, "0.000"),
    ] {
        assert_eq!(fixed(value, decimals), want, "{value}");
    }
    assert_eq!(
        (signed(0.354, 2), signed(-0.001, 2), signed(-0.5, 1)),
        ("+0.35".into(), "0.00".into(), "-0.5".into())
    );
}

#[test]
fn exact_numbers_keep_the_digits_they_need() {
    for (value, want) in [
        (304.799_999_999_999_95, "304.8"),
        (1100.0, "1100"),
        (0.1 + 0.2, "0.3"),
        (-30.25, "-30.25"),
        (0.0, "0"),
        (-0.0, "0"),
        (1.0 / 3.0, "0.3333"),
        (0.000_023, "0.000023"),
        (1e-20, "1.0e-20"),
    ] {
        assert_eq!(exact(value), want);
    }
    assert_eq!([0.1, 0.05, 0.02, 1.0, 0.5, 1.0 / 3.0, 0.0].map(step_decimals), [1, 2, 2, 0, 1, 4, 0]);
    assert_eq!([0.012_345, 123.45, 0.0, 1.0].map(|v| significant(v, 2)), ["0.012", "123", "0", "1"]);
}

#[test]
fn limits_turns_and_percent_as_text() {
    let limits = |l, u| Units::INSIDE.scale(Kind::Length).limits(l, u).unwrap();
    assert_eq!(limits(Some(-0.1), Some(0.1)), "±0.1");
    assert_eq!(limits(Some(-1.0 / 3.0), Some(0.5)), "-0.3333 to +0.5");
    assert_eq!(limits(Some(8.0), Some(11.0)), "8 to 11");
    assert_eq!(limits(Some(0.0), Some(0.0)), "0 to 0");
    assert_eq!(
        (limits(None, Some(1.5)), limits(Some(0.05), None)),
        ("at most 1.5".into(), "at least 0.05".into())
    );
    assert_eq!(Units::INSIDE.scale(Kind::Length).limits(None, None), None);
    for (t, want) in
        [(0.375, "3/8 turn clockwise"), (-3.25, "3 1/4 turns anticlockwise"), (1.0, "1 turn clockwise")]
    {
        assert_eq!(turns(t).unwrap(), want);
    }
    assert_eq!((turns(0.06), turns(f64::NAN), turns(0.0)), (None, None, None));
    for (p, want) in [
        (0.5, "50 %"),
        (0.1, "10 %"),
        (0.099_9, "10.0 %"),
        (0.953, "95.3 %"),
        (0.999_6, ">99.9 %"),
        (1.0, ">99.9 %"),
        (0.000_4, "<0.1 %"),
        (0.0, "<0.1 %"),
        (f64::NAN, "unknown"),
    ] {
        assert_eq!(percent(p), want, "{p}");
    }
    assert_eq!(
        (count(0_u64, "entry", "entries"), count(1_u64, "entry", "entries")),
        ("no entries".into(), "1 entry".into())
    );
}

/// A decimal with `scale` places, as text, and the same rounded half away from zero with integers.
fn rounded(units: i64, scale: u32, decimals: u32) -> String {
    let cut = 10_i64.pow(scale - decimals);
    let n = (units.abs() + cut / 2) / cut;
    let (whole, part) = (n / 10_i64.pow(decimals), n % 10_i64.pow(decimals));
    let sign = if units < 0 && n != 0 { "-" } else { "" };
    if decimals == 0 {
        format!("{sign}{whole}")
    } else {
        format!("{sign}{whole}.{part:0w$}", w = decimals as usize)
    }
}

proptest! {
    /// Any typed decimal is rounded as one would on paper.
    #[test]
    fn decimals_are_rounded_as_on_paper(units in -2_000_000_000_i64..2_000_000_000, scale in 0_u32..7, fewer in 0_u32..7) {
        let decimals = scale.saturating_sub(fewer);
        let value: f64 = format!("{}e-{scale}", units).parse().unwrap();
        prop_assume!(value.abs() < 1e9);
        prop_assert_eq!(fixed(value, decimals as usize), rounded(units, scale, decimals));
    }

    /// The ± has one or two digits and is never ±0; the shown value is on the same side of each limit as the
    /// unrounded one.
    #[test]
    fn no_shown_value_contradicts_its_verdict(
        value in -30.0_f64..30.0,
        size in -6.0_f64..1.5,
        near in -0.5_f64..0.5,
        on in any::<bool>(),
    ) {
        let half = 10_f64.powf(size);
        // A limit near the value, within its own four decimals.
        let limit = ((value + near * half) * 1e4).round() / 1e4;
        let value = if on { limit } else { value };
        prop_assume!(value == limit || !on_limit(value, limit));
        let shown = WithU::of_half(value, half).against([Some(limit), None]);
        let (v, h): (f64, f64) = (shown.plain().parse().unwrap(), shown.half()['±'.len_utf8()..].parse().unwrap());
        prop_assert_eq!(v.partial_cmp(&limit), value.partial_cmp(&limit), "{} beside {}", shown.plain(), limit);
        prop_assert!(h > 0.0);
        let step = 10_f64.powi(-(shown.decimals() as i32));
        prop_assert!((v - value).abs() <= step * 0.500_001 && (h - half).abs() <= step * 0.500_001);
        let usual = WithU::of_half(value, half);
        let digits = usual.half()['±'.len_utf8()..].replace('.', "");
        let digits = digits.trim_start_matches('0');
        let two = digits.starts_with(['1', '2']) || digits == "30";
        prop_assert!(half >= 3.0 || digits.len() == if two { 2 } else { 1 }, "{} {}", half, digits);
        prop_assert!(!shown.plain().starts_with("-0.") || v < 0.0);
    }

    /// The text shown for turns can be typed back.
    #[test]
    fn shown_turns_are_right_to_a_sixteenth(t in -40.0_f64..40.0) {
        if let Some(text) = turns_only(t) {
            let back: f64 = text
                .split(' ')
                .filter_map(|w| match w.split_once('/') {
                    Some((a, b)) => Some(a.parse::<f64>().ok()? / b.parse::<f64>().ok()?),
                    None => w.parse().ok(),
                })
                .sum();
            prop_assert!((back - t.abs()).abs() <= 1.0 / 16.0 + 1e-12);
        } else {
            prop_assert!(t.abs() <= 1.0 / 16.0);
        }
    }
}
