//! The parts that need no screen: words, traces, colours.

use egui::{Color32, Theme};
use quantity::{Kind, Unit, Units};
use window::theme::Palette;
use window::trace::Trace;
use window::words;

#[test]
fn numbers_read_as_they_should() {
    let (angle, length) = (Units::INSIDE.scale(Kind::Angle), Units::INSIDE.scale(Kind::Length));
    assert_eq!(words::signed_unit(angle, 0.004, 2), "0.00°");
    assert_eq!(words::number(-0.001, 2), "0.00");
    assert_eq!(words::signed_unit(angle, -0.25, 2), "\u{2212}0.25°");
    assert_eq!(words::with_unit(length, 3.2, 1), "3.2 mm");
    assert_eq!(quantity::shown::step_decimals(0.1), 1);
    assert_eq!(quantity::shown::step_decimals(0.05), 2);
    assert_eq!(quantity::shown::step_decimals(1.0), 0);
    assert_eq!(words::limits(angle, Some(-0.3), Some(0.3)), "±0.3°");
    assert_eq!(words::limits(length, None, Some(1.5)), "at most 1.5 mm");
}

/// A display's step in the unit shown: a whole thousandth of an inch has three decimals, a converted hundredth of a
/// millimetre no more than are needed to tell its steps apart.
#[test]
fn a_step_keeps_its_digits_in_another_unit() {
    let inch = Units::INSIDE.with(Unit::Inch).scale(Kind::Length);
    let mm = Units::INSIDE.scale(Kind::Length);
    for (scale, step, places) in [
        (mm, 0.01, 2),
        (mm, 0.5, 1),
        (mm, 1.0, 0),
        (inch, 0.0254, 3),
        (inch, 0.01, 3),
        (inch, 25.4, 0),
        (inch, 6.35, 2),
    ] {
        assert_eq!(words::step_decimals(scale, step), places, "{step} in {:?}", scale.unit());
    }
    let warm = Units::INSIDE.with(Unit::Fahrenheit).scale(Kind::Temperature);
    assert_eq!(words::with_unit(warm, 20.0, 1), "68.0 °F");
    let minutes = Units::INSIDE.with(Unit::ArcMinute).scale(Kind::Angle);
    assert_eq!(words::judged(minutes, -0.36, 0.0357, [None, None]), "\u{2212}0°22' ± 4'");
}

/// A command of the terminal becomes the action of a hand in the window.
#[test]
fn sentences_name_no_command_of_the_terminal() {
    let text =
        "Slacken it, then jigtrue rework BR3 --what \"slackened and tightened again\" and measure it again.";
    let said = "Slacken it, then record it as slackened and tightened again and measure it again.";
    assert_eq!(words::by_touch(text), said);
    assert_eq!(words::by_touch("jigtrue take"), "Measure it.");
    // Refusals, as the session says them to both faces.
    for (text, said) in [
        (
            "the gate holds, so this cannot be signed as clear. `jigtrue check` lists the reasons; to sign that you have seen it, add --as-seen",
            "the gate holds, so this cannot be signed as clear.",
        ),
        (
            "who is at the bench? Say it with --by NAME, or set JIGTRUE_BY once for this bench",
            "who is at the bench?",
        ),
        (
            "several instruments read angles; say which with --instrument: `a`, `b`",
            "several instruments read angles; choose one: `a`, `b`",
        ),
        (
            "entry 5 (stage ribs on) needs a reason of its own to be withdrawn: jigtrue undo --reason REASON",
            "entry 5 (stage ribs on) needs a reason of its own to be withdrawn",
        ),
        (
            "wing.jigtrue was deleted, moved or replaced; put the file back",
            "wing.jigtrue was deleted, moved or replaced; put the file back",
        ),
        ("jigtrue plan --points lists every point", "jigtrue plan --points lists every point"),
    ] {
        assert_eq!(words::by_touch(text), said);
    }
    let text = "Take up the turnbuckle. Record it (jigtrue rework) and measure again.";
    assert_eq!(words::by_touch(text), "Take up the turnbuckle. Record it as reworked and measure again.");
}

#[test]
fn turns_are_said_in_parts_of_a_turn() {
    for (turns, parts, said) in [
        (0.375, 8, Some("⅜ turn")),
        (-0.25, 8, Some("¼ turn")),
        (1.0, 4, Some("1 turn")),
        (2.3, 4, Some("2¼ turns")),
        (-2.875, 8, Some("2⅞ turns")),
        (0.05, 8, None),
        (0.1, 4, None),
    ] {
        assert_eq!(words::turns(turns, parts).as_deref(), said);
    }
    assert_eq!((quantity::shown::way(0.1), quantity::shown::way(-0.1)), ("clockwise", "anticlockwise"));
}

/// Thinning keeps the least and the most of all samples of a trace, whatever its length.
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
            assert!(
                (n.min(columns).div_ceil(2)..=columns).contains(&thin.len()),
                "{n} samples in {columns}: {}",
                thin.len()
            );
            assert!(thin.windows(2).all(|w| w[0].seconds <= w[1].seconds));
        }
    }
}

#[test]
fn a_million_samples_become_no_more_columns_than_asked_for() {
    let mut trace = Trace::default();
    for i in 0..1_000_000_u32 {
        trace.push(f64::from(i) * 0.02, f64::from(i % 1000));
    }
    let thin = trace.columns(1200);
    assert!((600..=1200).contains(&thin.len()), "{}", thin.len());
}

fn linear(c: u8) -> f64 {
    let v = f64::from(c) / 255.0;
    if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
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
            let (a, b) = (seen(p.met, deutan), seen(p.outside, deutan));
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
