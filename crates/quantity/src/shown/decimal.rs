//! Rounding in decimals, half away from zero.

use alloc::borrow::ToOwned;
use alloc::format;
use alloc::string::String;

/// Numbers from here up are written in powers of ten.
const LARGE: f64 = 1e9;

/// The value with this many decimals, rounded half away from zero: 0.125 is `0.13`, 2.675 is `2.68` (the number
/// rounded is the shortest decimal that reads back as this value). Zero has no sign. From a thousand million up it is
/// written in powers of ten.
pub fn fixed(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return "unknown".to_owned();
    }
    if value.abs() >= LARGE {
        return format!("{value:.3e}");
    }
    let written = format!("{}", value.abs());
    let digits = round(&written, decimals);
    let zero = digits.bytes().all(|b| matches!(b, b'0' | b'.'));
    if value < 0.0 && !zero { format!("-{digits}") } else { digits }
}

/// Rounds the decimal `written` (digits, perhaps a point) to this many decimals.
fn round(written: &str, decimals: usize) -> String {
    let (whole, part) = written.split_once('.').unwrap_or((written, ""));
    let kept = part.len().min(decimals);
    let up = part.as_bytes().get(decimals).is_some_and(|digit| *digit >= b'5');
    let mut digits = format!("{whole}{}", part.get(..kept).unwrap_or_default());
    if up {
        digits = increased(&digits);
    }
    let point = digits.len() - kept;
    let (whole, part) = digits.split_at(point);
    if decimals == 0 { whole.to_owned() } else { format!("{whole}.{part:0<decimals$}") }
}

/// Adds one in the last place.
fn increased(digits: &str) -> String {
    let nines = digits.bytes().rev().take_while(|digit| *digit == b'9').count();
    let (head, _) = digits.split_at(digits.len() - nines);
    let mut out = match head.char_indices().next_back() {
        Some((at, last)) => {
            let next = last.to_digit(10).and_then(|d| char::from_digit(d + 1, 10)).unwrap_or(last);
            format!("{}{next}", head.get(..at).unwrap_or_default())
        }
        None => "1".to_owned(),
    };
    out.extend(core::iter::repeat_n('0', nines));
    out
}

/// [`fixed`] with a plus or minus sign; zero has none.
pub fn signed(value: f64, decimals: usize) -> String {
    let text = fixed(value, decimals);
    if value > 0.0 && text.bytes().any(|b| (b'1'..=b'9').contains(&b)) { format!("+{text}") } else { text }
}

/// Without needless digits, at most four decimals: 304.79999999999995 is `304.8`. A value that would show as 0 keeps
/// its first two digits.
pub fn exact(value: f64) -> String {
    let text = fixed(value, 4);
    if value != 0.0 && text == "0.0000" {
        return significant(value, 2);
    }
    trimmed(text)
}

/// The value to this many significant digits, without trailing zeros: 0.012345 to 2 is `0.012`.
pub fn significant(value: f64, digits: usize) -> String {
    if value == 0.0 || !value.is_finite() {
        return fixed(value, 0);
    }
    if value.abs() < 1e-12 {
        return format!("{value:.1e}");
    }
    trimmed(fixed(value, decimals_for(value, digits)))
}

/// How many decimals show this many significant digits of the rounded `value`.
pub(super) fn decimals_for(value: f64, digits: usize) -> usize {
    let mut decimals = 0;
    let mut scaled = value.abs();
    let least = libm::exp10((digits as i32 - 1).into());
    while decimals < 15 && scaled < least {
        scaled *= 10.0;
        decimals += 1;
    }
    decimals
}

fn trimmed(text: String) -> String {
    if text.contains('.') && !text.contains('e') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// The smallest of 1, 2 and 5 times a power of ten that is not below `least`: a step for the axis of a plot.
pub fn round_step(least: f64) -> f64 {
    let ten = libm::exp10(libm::floor(libm::log10(least)));
    [1.0, 2.0, 5.0, 10.0].into_iter().map(|k| k * ten).find(|step| *step >= least).unwrap_or(least)
}

/// How many decimals show the step of a display: 0.1 needs one, 0.05 and 0.02 need two; at most four.
pub fn step_decimals(step: f64) -> usize {
    exact(step.abs()).split_once('.').map_or(0, |(_, part)| part.len().min(4))
}
