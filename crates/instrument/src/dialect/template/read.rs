//! Reads a line by its form.

use super::hole::Meaning;
use super::{Part, Piecewise, Template, Word, sixtieths};
use crate::decimal::Before;
use crate::values::Values;
use crate::{Axis, Decimal, Flags, Leading, Sample};

/// What a line says besides its numbers.
#[derive(Default)]
struct Beside {
    flags: Flags,
    /// The axes that a separate sign makes negative.
    minus: [Option<Axis>; 4],
    signs: usize,
    /// The axis whose degrees have a minus before them, even before a zero.
    below_zero: Option<Axis>,
}

/// Adds a value, or the minutes or seconds of the previous one; false if they do not fit.
#[inline]
fn add(values: &mut Values, sample: Sample, minus: bool, beside: &mut Beside) -> bool {
    match values.last_mut().filter(|last| last.axis == sample.axis) {
        Some(degrees) => sum(degrees, &sample, beside.below_zero == Some(sample.axis)).is_some() && !minus,
        None => {
            if minus {
                beside.below_zero = Some(sample.axis);
            }
            values.try_push(sample).is_ok()
        }
    }
}

/// Degrees and minutes, or those and seconds, as one number in the smaller unit.
fn sum(larger: &mut Sample, smaller: &Sample, below_zero: bool) -> Option<()> {
    let sixtieths = sixtieths(smaller.unit, larger.unit)?;
    let whole = larger.value.exponent == 0 && smaller.base() < larger.unit.to_base(1.0);
    let ten = 10_i64.checked_pow(u32::from(smaller.value.exponent.unsigned_abs()))?;
    let scaled = larger.value.mantissa.checked_mul(sixtieths)?.checked_mul(ten)?;
    let part = if below_zero { -smaller.value.mantissa } else { smaller.value.mantissa };
    let mantissa = scaled.checked_add(part)?;
    (larger.value, larger.unit) = (Decimal { mantissa, exponent: smaller.value.exponent }, smaller.unit);
    (whole && smaller.value.exponent <= 0).then_some(())
}

impl Template {
    /// Reads the line in the first `length` bytes, with or without its end, and adds its values in order; returns
    /// whether it has this form. The added values count only if it does.
    #[inline]
    pub(crate) fn read(&self, from: &[u8], length: usize, values: &mut Values) -> bool {
        // Only numbers could read past the end, and the end stops them.
        let mut left = from;
        let mut beside = Beside::default();
        for part in self.parts() {
            let after = match *part {
                Part::Literal(text) => after_literal(left, text.slice(self.literals.as_bytes())),
                Part::Space { some } => {
                    let spaces = blanks(left);
                    left.get(spaces..).filter(|_| spaces > 0 || !some)
                }
                Part::Degree => after_degree(left),
                Part::Value { axis, unit, decimals } => Decimal::written(
                    left,
                    self.mark,
                    if decimals.is_some() { Before::MayLack } else { Before::Wanted },
                )
                .and_then(|Leading { number, length }| {
                    let right = decimals.is_none_or(|decimals| number.exponent == -decimals.cast_signed());
                    let sample = Sample::bare(axis, number, unit);
                    let kept = add(values, sample, left.first() == Some(&b'-'), &mut beside);
                    left.get(length..).filter(|_| right && kept)
                }),
                Part::Number => Decimal::written(left, self.mark, Before::MayLack)
                    .and_then(|found| left.get(found.length..)),
                Part::Word => {
                    let length = left.iter().take_while(|byte| byte.is_ascii_alphanumeric()).count();
                    left.get(length..).filter(|_| length > 0)
                }
                Part::State(words) => self.word(words, left).map(|(meaning, after)| {
                    if let Meaning::Says(flags) = meaning {
                        beside.flags |= flags;
                    }
                    after
                }),
                Part::Sign { axis, words } => self.sign(words, left).map(|(meaning, after)| {
                    if meaning == Meaning::Minus
                        && let Some(slot) = beside.minus.get_mut(beside.signs)
                    {
                        *slot = Some(axis);
                        beside.signs += 1;
                    }
                    after
                }),
            };
            match after {
                Some(after) => left = after,
                None => return false,
            }
        }
        from.len() - left.len() == length && (self.plain || self.beside(&beside, values))
    }

    /// Gives the values their signs and flags; false if a number also has a sign of its own.
    fn beside(&self, beside: &Beside, values: &mut Values) -> bool {
        let signed =
            |axis| self.parts().iter().any(|part| matches!(part, Part::Sign { axis: of, .. } if *of == axis));
        values.iter_mut().all(|sample| {
            sample.flags |= beside.flags;
            if signed(sample.axis) && sample.value.mantissa < 0 {
                return false;
            }
            if beside.minus.contains(&Some(sample.axis)) {
                sample.value.mantissa = -sample.value.mantissa;
            }
            true
        })
    }

    /// The sign at the start, with or without blanks before it; if no words are given, no sign means plus.
    fn sign<'a>(&self, words: Piecewise, left: &'a [u8]) -> Option<(Meaning, &'a [u8])> {
        let after_blanks = left.get(blanks(left)..)?;
        if words.from != words.to {
            return self.word(words, after_blanks).or_else(|| self.word(words, left));
        }
        match after_blanks {
            [b'-', after @ ..] => Some((Meaning::Minus, after)),
            [b'+', after @ ..] => Some((Meaning::Says(Flags::NONE), after)),
            _ => Some((Meaning::Says(Flags::NONE), left)),
        }
    }

    /// The word at the start.
    fn word<'a>(&self, words: Piecewise, left: &'a [u8]) -> Option<(Meaning, &'a [u8])> {
        words.slice(&self.words).iter().find_map(|Word { text, meaning }| {
            after_literal(left, text.slice(self.literals.as_bytes())).map(|after| (*meaning, after))
        })
    }
}

/// The rest after the literal, which is so short that comparing byte by byte is fastest.
#[inline]
fn after_literal<'a>(left: &'a [u8], literal: &[u8]) -> Option<&'a [u8]> {
    let (front, after) = left.split_at_checked(literal.len())?;
    front.iter().zip(literal).all(|(one, other)| one == other).then_some(after)
}

/// The number of spaces and tabs at the start.
#[inline]
fn blanks(left: &[u8]) -> usize {
    left.iter().take_while(|byte| matches!(byte, b' ' | b'\t')).count()
}

/// The rest after a degree sign: two bytes of UTF-8, or one byte of another encoding, which differs between
/// encodings.
fn after_degree(left: &[u8]) -> Option<&[u8]> {
    match left {
        [0xC2, 0xB0 | 0xBA, after @ ..] | [0x80..=0xFF, after @ ..] => Some(after),
        _ => None,
    }
}
