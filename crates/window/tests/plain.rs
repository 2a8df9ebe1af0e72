//! The parts that need no screen: words, traces, colours.

use assess::Verdict;
use egui::{Color32, Theme};
use window::theme::Palette;
use window::trace::Trace;
use window::words;

#[test]
fn numbers_read_as_they_should() {
    assert_eq!(words::signed(0.004, 2), "0.00");
    assert_eq!(words::number(-0.001, 2), "0.00");
    assert_eq!(words::signed_unit(-0.25, "deg", 2), "\u{2212}0.25°");
    assert_eq!(words::with_unit(3.2, "mm", 1), "3.2 mm");
    assert_eq!(words::decimals(0.1), 1);
    assert_eq!(words::decimals(0.05), 2);
    assert_eq!(words::decimals(1.0), 0);
    assert_eq!(words::limits(Some(-0.3), Some(0.3), "deg"), "±0.30°");
    assert_eq!(words::limits(None, Some(1.5), "mm"), "at most 1.50 mm");
}

#[test]
fn turns_are_said_in_eighths() {
    for (turns, said) in [
        (0.375, "3/8 turn clockwise"),
        (-0.25, "1/4 turn anticlockwise"),
        (1.0, "1 turn clockwise"),
        (1.25, "1 1/4 turns clockwise"),
        (-2.875, "2 7/8 turns anticlockwise"),
        (0.05, "leave it"),
    ] {
        assert_eq!(words::turns(turns), said);
    }
}

/// The least and the most of the samples that fall into the whole trace must survive thinning, whatever its length.
#[test]
fn thinning_keeps_every_peak() {
    for n in [1_usize, 15, 16, 17, 255, 256, 257, 4096, 70_001] {
        let mut trace = Trace::default();
        let value = |i: usize| ((i * 7919) % 1013) as f64 / 100.0 - if i == n / 3 { 50.0 } else { 0.0 };
        for i in 0..n {
            trace.push(i as f64 * 0.1, value(i));
        }
        for columns in [1, 10, 100, 1000] {
            let thin = trace.columns(columns);
            let least = thin.iter().map(|c| c.least).fold(f64::INFINITY, f64::min);
            let most = thin.iter().map(|c| c.most).fold(f64::NEG_INFINITY, f64::max);
            let (want_least, want_most) =
                (0..n).map(value).fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)));
            assert!((least - want_least).abs() < 1e-5, "{n} samples in {columns}: {least} {want_least}");
            assert!((most - want_most).abs() < 1e-5, "{n} samples in {columns}");
            assert!(thin.len() <= n.min(columns * 4 + 1), "{n} samples in {columns}: {}", thin.len());
            assert!(thin.windows(2).all(|w| w[0].seconds <= w[1].seconds));
        }
    }
}

#[test]
fn a_million_samples_become_some_thousand_columns() {
    let mut trace = Trace::default();
    for i in 0..1_000_000_u32 {
        trace.push(f64::from(i) * 0.02, f64::from(i % 1000));
    }
    let thin = trace.columns(1200);
    assert!((1200..=1200 * 2).contains(&thin.len()), "{}", thin.len());
}

fn linear(c: u8) -> f64 {
    let v = f64::from(c) / 255.0;
    if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
}

/// Relative luminance and contrast ratio as WCAG 2 defines them.
fn contrast(a: Color32, b: Color32) -> f64 {
    let light = |c: Color32| 0.2126 * linear(c.r()) + 0.7152 * linear(c.g()) + 0.0722 * linear(c.b());
    let (a, b) = (light(a).max(light(b)), light(a).min(light(b)));
    (a + 0.05) / (b + 0.05)
}

#[test]
fn texts_and_marks_stand_out_from_what_is_behind_them() {
    for theme in [Theme::Light, Theme::Dark] {
        let p = Palette::of(theme);
        for back in [p.ground, p.sheet] {
            for text in [p.ink, p.pale, p.outside, p.within, p.undecided, p.stale, p.missing, p.chosen] {
                assert!(
                    contrast(text, back) >= 4.3,
                    "{theme:?} {text:?} on {back:?}: {:.2}",
                    contrast(text, back)
                );
            }
        }
    }
}

/// What a person without red or without green cones sees, projected in linear RGB as by Viénot, Brettel and Mollon
/// (1999); the coefficients are from memory and only a guard: the shapes tell the verdicts apart in any case.
fn seen(c: Color32, deutan: bool) -> [f64; 3] {
    let [r, g, b] = [c.r(), c.g(), c.b()].map(linear);
    if deutan {
        let y = 0.29275 * r + 0.70725 * g;
        [y, y, -0.02234 * r + 0.02234 * g + b]
    } else {
        let y = 0.11238 * r + 0.88762 * g;
        [y, y, 0.00401 * r - 0.00401 * g + b]
    }
}

#[test]
fn within_and_outside_differ_for_people_who_do_not_tell_red_from_green() {
    for theme in [Theme::Light, Theme::Dark] {
        let p = Palette::of(theme);
        for deutan in [false, true] {
            let (a, b) = (
                seen(p.verdict(Some(Verdict::Within)), deutan),
                seen(p.verdict(Some(Verdict::Outside)), deutan),
            );
            let apart: f64 = a
                .iter()
                .zip(b)
                .map(|(x, y)| (x.max(0.0).sqrt() - y.max(0.0).sqrt()).powi(2))
                .sum::<f64>()
                .sqrt();
            assert!(apart > 0.25, "{theme:?} deutan {deutan}: {apart:.3}");
        }
    }
}
