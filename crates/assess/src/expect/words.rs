//! Values in questions, in the unit and with the digits of the instrument's display.

use quantity::shown::{exact, fixed, fraction, signed, step_decimals, with_unit};
use quantity::{Kind, Typed, Unit, Units, typed_or_in};
use record::point::Design;
use record::{Facing, Instrument, Point};

/// How values of one quantity are written: in the unit and with the digits of an instrument's display.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Say {
    kind: Kind,
    unit: Option<Unit>,
    /// The display's step in that unit; 0 if unknown.
    step: f64,
}

impl Say {
    /// In the unit of a bare number: the instrument's, or the plan's if there is no instrument.
    pub fn of(kind: Kind, instrument: Option<&Instrument>, plan: Units) -> Self {
        let unit = Instrument::bare_unit_of(instrument, kind, plan);
        let step = instrument.map_or(0.0, |i| i.resolution);
        Self { kind, unit, step: unit.map_or(step, |u| u.from_base(step)) }
    }

    /// The symbol of what values are inside.
    pub(super) const fn base_symbol(self) -> &'static str {
        self.kind.base_symbol()
    }

    fn in_unit(self, base: f64) -> f64 {
        self.unit.map_or(base, |u| u.from_base(base))
    }

    fn with(self, number: &str) -> String {
        with_unit(number, self.unit.map_or(self.kind.base_symbol(), Unit::symbol))
    }

    /// As a fraction, if the display is an inch scale marked in fractions.
    fn marks(self, number: f64, step: f64) -> Option<String> {
        (self.unit == Some(Unit::Inch)).then(|| fraction(number, step)).flatten()
    }

    /// A value between two of the display's steps, such as half a sum of two readings, with its sign and without its
    /// unit: `+2.050`.
    pub fn between(self, base: f64) -> String {
        let decimals = if self.step > 0.0 { step_decimals(self.step / 2.0) } else { 3 };
        signed(self.in_unit(base), decimals)
    }

    /// What was typed, a bare number with its unit: `85` is `85 in-lb`. If that would be another value (`base` is the
    /// recorded one), the value follows the text.
    pub fn typed(self, text: &str, base: f64) -> String {
        let text = text.trim();
        let bare = text.ends_with(|c: char| c.is_ascii_digit() || c == '.') && !text.contains(':');
        if !bare {
            return text.to_owned();
        }
        let read = typed_or_in(text, self.kind, self.unit);
        let same = |read: Typed| (read.amount.base() - base).abs() <= 1e-6 * (1.0 + base.abs());
        if read.is_ok_and(same) { self.with(text) } else { format!("{text} ({})", self.value(base)) }
    }

    /// Adds the unit to a number: `+2.050` is `+2.050°`.
    pub fn with_unit(self, number: &str) -> String {
        self.with(number)
    }

    /// The step of the display, `0.05°`; `None` if unknown.
    pub fn step(self) -> Option<String> {
        (self.step > 0.0)
            .then(|| self.with(&self.marks(self.step, self.step).unwrap_or_else(|| exact(self.step))))
    }

    /// A size in its unit, with all its digits.
    pub fn exact(self, base: f64) -> String {
        self.with(&exact(self.in_unit(base)))
    }

    /// A value as it is, `-12°`, to a tenth of the display's step at most.
    pub fn value(self, base: f64) -> String {
        let number = self.in_unit(base);
        if let Some(marks) = self.marks(number, self.step) {
            return self.with(&marks);
        }
        let text = if self.step > 0.0 { fixed(number, step_decimals(self.step) + 1) } else { exact(number) };
        let whole = !text.contains('.') || text.contains('e');
        self.with(if whole { &text } else { text.trim_end_matches('0').trim_end_matches('.') })
    }

    /// A distance between values, to two of the display's steps.
    pub fn size(self, base: f64) -> String {
        let size = match self.unit {
            Some(unit) if self.kind == Kind::Temperature => unit.from_base(base) - unit.from_base(0.0),
            _ => self.in_unit(base),
        };
        let rounded = libm::round(size.abs() / self.step) * self.step;
        if let Some(marks) = self.marks(rounded, self.step) {
            return self.with(&marks);
        }
        let decimals = if self.step > 0.0 { step_decimals(2.0 * self.step) } else { 1 };
        self.with(&fixed(size.abs(), decimals))
    }

    /// The expected value, rounded to two steps of the display, so that the last digit is never suggested.
    pub fn about(self, base: f64) -> String {
        let value = self.in_unit(base);
        let grain = match self.unit {
            _ if self.step > 0.0 => 2.0 * self.step,
            Some(Unit::Inch) => 0.01,
            _ => 0.1,
        };
        let rounded = libm::round(value / grain) * grain;
        let decimals = step_decimals(grain);
        if let Some(marks) = self.marks(rounded, self.step) {
            return format!("about {}", self.with(&marks));
        }
        let number = match self.kind {
            Kind::Angle => signed(rounded, decimals),
            Kind::Length | Kind::Torque | Kind::Force | Kind::Temperature => fixed(rounded, decimals),
        };
        format!("about {}", self.with(&number))
    }
}

/// `S4 aft` for an incidence, `cross@tip-post forward` for anything else with a facing.
pub fn place(point: &Point, facing: Option<Facing>) -> String {
    let name = match point.kind().row().design {
        Design::Incidence => point.place().to_owned(),
        _ => point.to_string(),
    };
    match facing {
        Some(facing) => format!("{name} {}", facing.word()),
        None => name,
    }
}
