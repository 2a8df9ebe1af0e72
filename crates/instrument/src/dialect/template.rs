//! The form of a text line, with named holes for its values.

mod fault;
mod hole;
mod read;

pub use fault::{TemplateError, TemplateFault};

use crate::lines::Marks;
use crate::values::MAX_VALUES;
use crate::{Axis, Flags, Text};
use hole::{Hole, Meaning, Piece};
use quantity::Unit;

const MAX_PARTS: usize = 48;
const MAX_LITERALS: usize = 160;
const MAX_WORDS: usize = 12;

/// The form of a line, as an instrument file writes it: `X={angle deg},Y={cross deg .2}`.
///
/// - `{angle deg}` a number: the angle, in degrees. The axes are those of [`Axis`], the units those written after
///   numbers (`deg`, `mm/m`, `mm`, `in`, `degC`, ..); `.2` requires exactly two decimals
/// - `{angle deg}°{angle arcmin}'` degrees and minutes of one angle, with seconds as `{angle arcsec}`
/// - `{sign angle}` a `+`, a `-` or nothing, before or after the number: the sign of the angle; `{sign angle R=+
///   L=-}` uses other words
/// - `{state S=steady M=moving H=hold}` one of these words, which describes the value: `steady`, `moving`, `hold` (an
///   old value), `over` (its range), `battery` (low) or `warming` (up)
/// - `{number}` a number that is not used; `{word}` a run of letters and digits that is not used
/// - a space matches any number of spaces and tabs, including none; after a number or a word, at least one
/// - `°` matches itself in UTF-8 or in any single-byte encoding
/// - `{{` matches `{`; everything else matches itself
///
/// The line must have this form from its first to its last character. A changed digit does not show in a line without
/// a checksum, so a form that nearly any line fits is refused: a form without a character of its own must give its
/// decimals.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Template {
    parts: [Part; MAX_PARTS],
    count: usize,
    literals: Text<MAX_LITERALS>,
    words: [Word; MAX_WORDS],
    words_end: usize,
    /// The mark between whole number and decimals.
    mark: u8,
    marks: Marks,
    /// Whether it has only numbers: no state, no separate sign.
    plain: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Part {
    /// These bytes of the literals.
    Literal(Piecewise),
    /// At least one space, or any number.
    Space {
        some: bool,
    },
    /// A degree sign in any encoding.
    Degree,
    Value {
        axis: Axis,
        unit: Unit,
        decimals: Option<u8>,
    },
    Number,
    Word,
    /// One of these words.
    State(Piecewise),
    Sign {
        axis: Axis,
        words: Piecewise,
    },
}

/// A range in the literals or the words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Piecewise {
    from: u8,
    to: u8,
}

/// A word and its meaning.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Word {
    text: Piecewise,
    meaning: Meaning,
}

const NOWHERE: Piecewise = Piecewise { from: 0, to: 0 };

impl Piecewise {
    fn of(from: usize, to: usize) -> Result<Self, TemplateFault> {
        let place = |at| u8::try_from(at).map_err(|_| TemplateFault::TooLong);
        Ok(Self { from: place(from)?, to: place(to)? })
    }

    fn slice<T>(self, all: &[T]) -> &[T] {
        all.get(usize::from(self.from)..usize::from(self.to)).unwrap_or_default()
    }
}

impl Part {
    /// Whether it ends only where something else begins.
    const fn is_open(self) -> bool {
        matches!(self, Self::Value { .. } | Self::Number | Self::Word)
    }
}

/// How many of the smaller unit make one of the larger (degrees, minutes, seconds).
const fn sixtieths(smaller: Unit, larger: Unit) -> Option<i64> {
    match (smaller, larger) {
        (Unit::ArcMinute, Unit::Degree) | (Unit::ArcSecond, Unit::ArcMinute) => Some(60),
        (Unit::ArcSecond, Unit::Degree) => Some(3_600),
        _ => None,
    }
}

impl Template {
    /// Reads the form of a line.
    ///
    /// # Errors
    ///
    /// [`TemplateError`] with the place and what is wrong there.
    pub fn new(form: &str) -> Result<Self, TemplateError> {
        let word = Word { text: NOWHERE, meaning: Meaning::Says(Flags::NONE) };
        let mut template = Self {
            parts: [Part::Word; MAX_PARTS],
            count: 0,
            literals: Text::new(),
            words: [word; MAX_WORDS],
            words_end: 0,
            mark: b'.',
            marks: Marks::LINES,
            plain: true,
        };
        let mut left = form;
        while !left.is_empty() {
            let at = form.len() - left.len();
            let wrong = |fault| TemplateError { at, fault };
            let (after, piece) = hole::piece(left).map_err(|_| wrong(TemplateFault::Hole))?;
            match piece {
                Piece::Literal(text) => template.literal(text),
                Piece::Space => template.space(),
                Piece::Degree => template.push(Part::Degree),
                Piece::Hole(text) => hole::hole(text).and_then(|hole| template.hole(hole)),
            }
            .map_err(wrong)?;
            left = after;
        }
        template.whole().map_err(|fault| TemplateError { at: 0, fault })
    }

    /// The same form with a decimal comma in its numbers instead of a point.
    #[must_use]
    pub const fn with_decimal_comma(self) -> Self {
        Self { mark: b',', ..self }
    }

    /// The same form, with each line between these bytes.
    #[must_use]
    pub const fn between(self, marks: Marks) -> Self {
        Self { marks, ..self }
    }

    /// The marks around each line.
    #[must_use]
    pub const fn marks(&self) -> Marks {
        self.marks
    }

    /// Whether the form contains this character.
    #[must_use]
    pub fn holds(&self, byte: u8) -> bool {
        self.literals.as_bytes().contains(&byte)
    }

    /// The number of values in a line.
    #[must_use]
    pub fn values(&self) -> usize {
        self.axes().count()
    }

    /// The axes of a line, in line order.
    pub fn axes(&self) -> impl Iterator<Item = Axis> {
        // Minutes and seconds belong to the degrees before them.
        let places = self.parts().iter().enumerate();
        places.filter_map(|(at, part)| match part {
            Part::Value { axis, .. } => {
                let before = self.parts().get(..at).unwrap_or_default();
                let first =
                    !before.iter().any(|part| matches!(part, Part::Value { axis: of, .. } if of == axis));
                first.then_some(*axis)
            }
            _ => None,
        })
    }

    fn units_of(&self, axis: Axis) -> impl Iterator<Item = Unit> {
        self.parts().iter().filter_map(move |part| match part {
            Part::Value { axis: of, unit, .. } if *of == axis => Some(*unit),
            _ => None,
        })
    }

    fn parts(&self) -> &[Part] {
        self.parts.get(..self.count).unwrap_or_default()
    }

    fn push(&mut self, part: Part) -> Result<(), TemplateFault> {
        let slot = self.parts.get_mut(self.count).ok_or(TemplateFault::TooLong)?;
        *slot = part;
        self.count += 1;
        Ok(())
    }

    fn keep(&mut self, text: &str) -> Result<Piecewise, TemplateFault> {
        let from = self.literals.len();
        self.literals.try_push_str(text).map_err(|_| TemplateFault::TooLong)?;
        Piecewise::of(from, self.literals.len())
    }

    fn literal(&mut self, text: &str) -> Result<(), TemplateFault> {
        if text.contains(|c: char| c.is_control()) {
            return Err(TemplateFault::Control);
        }
        let text = self.keep(text)?;
        self.push(Part::Literal(text))
    }

    fn space(&mut self) -> Result<(), TemplateFault> {
        let some = self.parts().last().is_some_and(|last| last.is_open());
        self.push(Part::Space { some })
    }

    fn hole(&mut self, hole: Hole<'_>) -> Result<(), TemplateFault> {
        let part = match hole {
            Hole::Value { axis, unit, decimals } => Part::Value { axis, unit, decimals },
            Hole::Number => Part::Number,
            Hole::Word => Part::Word,
            Hole::State(words) => Part::State(self.words(words)?),
            Hole::Sign { axis, words } => Part::Sign { axis, words: self.words(words)? },
        };
        let last = self.parts().last().copied();
        let eaten = last == Some(Part::Word) && matches!(part, Part::State(_) | Part::Sign { .. });
        if eaten || last.is_some_and(Part::is_open) && part.is_open() {
            return Err(TemplateFault::Touching);
        }
        if let Part::Value { axis, unit, .. } = part
            && self.units_of(axis).any(|other| sixtieths(unit, other).is_none())
        {
            return Err(TemplateFault::Twice);
        }
        self.plain &= !matches!(part, Part::State(_) | Part::Sign { .. });
        self.push(part)
    }

    fn words(&mut self, text: &str) -> Result<Piecewise, TemplateFault> {
        let from = self.words_end;
        for word in hole::words(text) {
            let (text, meaning) = word?;
            let text = self.keep(text)?;
            *self.words.get_mut(self.words_end).ok_or(TemplateFault::TooLong)? = Word { text, meaning };
            self.words_end += 1;
        }
        // The longest first, so that no word is taken for the beginning of another.
        if let Some(words) = self.words.get_mut(from..self.words_end) {
            words.sort_unstable_by_key(|word| u8::MAX - (word.text.to - word.text.from));
        }
        Piecewise::of(from, self.words_end)
    }

    fn whole(self) -> Result<Self, TemplateFault> {
        if self.values() == 0 {
            return Err(TemplateFault::NoValue);
        }
        if self.values() > MAX_VALUES {
            return Err(TemplateFault::TooLong);
        }
        for part in self.parts() {
            if let Part::Sign { axis, .. } = part
                && !self.axes().any(|valued| valued == *axis)
            {
                return Err(TemplateFault::Sign);
            }
        }
        let own = self.parts().iter().any(|part| matches!(part, Part::Literal(_) | Part::Degree));
        let says_decimals =
            self.parts().iter().all(|part| !matches!(part, Part::Value { decimals: None | Some(0), .. }));
        if !own && !says_decimals {
            return Err(TemplateFault::Loose);
        }
        Ok(self)
    }
}
