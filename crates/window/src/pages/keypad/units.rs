//! The units offered for a typed number, and what is put after a bare one.

use crate::pages::{TypeFor, Typing};
use crate::screens::Cx;
use quantity::{Kind, Unit};
use record::Instrument;

/// A unit offered for the number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Chip {
    pub text: &'static str,
    /// What is put after a bare number.
    suffix: &'static str,
    /// The unit itself; `None` for turns and the divisions of a dial.
    unit: Option<Unit>,
}

const fn chip(text: &'static str, suffix: &'static str, unit: Unit) -> Chip {
    Chip { text, suffix, unit: Some(unit) }
}

const ANGLES: [Chip; 3] = [
    chip("degrees", "°", Unit::Degree),
    chip("° and ′", "°", Unit::ArcMinute),
    chip("mm per m", " mm/m", Unit::MillimetrePerMetre),
];
const LENGTHS: [Chip; 2] = [chip("mm", " mm", Unit::Millimetre), chip("inch", " in", Unit::Inch)];
const TORQUES: [Chip; 3] = [
    chip("N·m", " N·m", Unit::NewtonMetre),
    chip("in-lb", " in-lb", Unit::InchPound),
    chip("ft-lb", " ft-lb", Unit::FootPound),
];
const FORCES: [Chip; 3] = [
    chip("N", " N", Unit::Newton),
    chip("lbf", " lbf", Unit::PoundForce),
    chip("kgf", " kgf", Unit::KilogramForce),
];
const WARMTHS: [Chip; 2] = [chip("°C", " °C", Unit::Celsius), chip("°F", " °F", Unit::Fahrenheit)];
const TURNS: [Chip; 2] = [
    Chip { text: "clockwise", suffix: " turn clockwise", unit: None },
    Chip { text: "anticlockwise", suffix: " turn anticlockwise", unit: None },
];
const DIVISIONS: [Chip; 1] = [Chip { text: "divisions", suffix: "", unit: None }];

pub struct Units {
    pub chips: Vec<Chip>,
    /// The chip chosen: the one tapped, otherwise the unit of a bare number.
    pub chosen: usize,
    /// The quantity; `None` for turns, or if the plan does not say.
    pub kind: Option<Kind>,
    /// The unit of a bare number, by the rule used everywhere.
    bare: Option<Unit>,
}

impl Units {
    pub fn of(cx: &Cx<'_>, typing: &Typing) -> Self {
        let kind = match &typing.to {
            TypeFor::Reading(point) => cx.model.wing.as_ref().and_then(|w| w.plan.quantity_of(point)),
            TypeFor::Move(_) => None,
            TypeFor::Part => Some(Kind::Temperature),
            TypeFor::Field(f) => f.kind,
        };
        let chips = chips(cx, &typing.to, kind);
        let bare = kind.map(|kind| bare_unit(cx, &typing.to, kind));
        let usual = || chips.iter().position(|c| bare.is_some() && c.unit == bare);
        let chosen = typing.unit.filter(|n| *n < chips.len()).or_else(usual).unwrap_or(0);
        Self { chips, chosen, kind, bare }
    }

    /// What is put after a bare number, and shown beside it.
    pub fn suffix(&self) -> &'static str {
        self.chips.get(self.chosen).map_or("", |c| c.suffix)
    }

    /// The text as the program reads it: a plain minus, and the unit after a bare number.
    pub fn plain(&self, text: &str) -> String {
        let text = text.trim().replace('\u{2212}', "-").replace('\u{2032}', "'");
        let bare = text.chars().all(|c| c.is_ascii_digit() || "+-./ ".contains(c));
        match self.suffix() {
            "°" if self.bare == Some(Unit::Degree) => text,
            unit if bare => format!("{text}{unit}"),
            _ => text,
        }
    }

    /// What is wrong with a text to be read. What a dial shows in divisions is read with the dial's table.
    pub fn wrong(&self, text: &str) -> Option<String> {
        let kind = self.kind.filter(|_| !self.suffix().is_empty())?;
        quantity::typed(text, kind).err().map(|why| format!("{why}."))
    }
}

/// An instrument whose dial is converted by a table is read only in divisions.
fn chips(cx: &Cx<'_>, to: &TypeFor, kind: Option<Kind>) -> Vec<Chip> {
    if let TypeFor::Move(_) = to {
        let length = of_plan(cx).of(Kind::Length);
        return TURNS.into_iter().chain(LENGTHS.into_iter().filter(|c| c.unit == Some(length))).collect();
    }
    let dial = matches!(to, TypeFor::Reading(_)) && instrument(cx).is_some_and(|i| !i.tables.is_empty());
    match kind {
        Some(Kind::Force) if dial => DIVISIONS.to_vec(),
        Some(Kind::Angle) => ANGLES.to_vec(),
        Some(Kind::Length) => LENGTHS.to_vec(),
        Some(Kind::Torque) => TORQUES.to_vec(),
        Some(Kind::Force) => FORCES.to_vec(),
        Some(Kind::Temperature) => WARMTHS.to_vec(),
        None => Vec::new(),
    }
}

/// That of the reading's instrument; the plan's if none is named.
fn bare_unit(cx: &Cx<'_>, to: &TypeFor, kind: Kind) -> Unit {
    let own = match to {
        TypeFor::Reading(_) => {
            let units = cx.model.wing.as_ref().map_or(quantity::Units::INSIDE, |w| w.plan.units);
            Instrument::bare_unit_of(instrument(cx), kind, units)
        }
        _ => of_plan(cx).bare(kind),
    };
    own.unwrap_or(kind.base_unit())
}

/// The instrument of what is typed, if one is named.
fn instrument<'a>(cx: &'a Cx<'_>) -> Option<&'a Instrument> {
    let name = cx.s.measuring.instrument.as_deref()?;
    cx.index().instruments.iter().find(|i| i.name == name)
}

/// The units in which the plan's values are shown.
pub fn of_plan(cx: &Cx<'_>) -> quantity::Units {
    cx.model.wing.as_ref().map_or(quantity::Units::INSIDE, |w| w.plan.shown_in)
}
