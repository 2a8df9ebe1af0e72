//! Reads the units of the plan.

use super::mistake::Table;
use quantity::{Unit, Units};

/// The units given; the base unit for each one left out.
pub fn units(t: &Table<'_, '_>) -> Units {
    let given = [
        t.word("angle", &[("deg", Unit::Degree), ("deg-min", Unit::ArcMinute)]),
        t.word("length", &[("mm", Unit::Millimetre), ("in", Unit::Inch)]),
        t.word(
            "torque",
            &[
                ("N·m", Unit::NewtonMetre),
                ("Nm", Unit::NewtonMetre),
                ("in-lb", Unit::InchPound),
                ("ft-lb", Unit::FootPound),
            ],
        ),
        t.word("force", &[("N", Unit::Newton), ("lbf", Unit::PoundForce), ("kgf", Unit::KilogramForce)]),
        t.word("temperature", &[("°C", Unit::Celsius), ("°F", Unit::Fahrenheit)]),
    ];
    given.into_iter().flatten().fold(Units::default(), Units::with)
}
