//! The units that values are shown in, as typed: `in,deg-min,in-lb`.

use crate::refusal::Refusal;
use quantity::{UNIT_WORDS, Unit, Units, nearest};

/// The requested units; other quantities keep the plan's.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wanted(Vec<Unit>);

impl Wanted {
    /// These units, with `plan` for the other quantities.
    pub fn over(&self, plan: Units) -> Units {
        self.0.iter().fold(plan, |units, unit| units.with(*unit))
    }
}

/// Reads a list of units, one for each quantity.
///
/// # Errors
/// If a word is not a unit that values are shown in (the nearest is suggested), or a quantity is named twice.
pub fn read(text: &str) -> Result<Wanted, Refusal> {
    let mut wanted: Vec<Unit> = Vec::new();
    for word in text.split(',').map(str::trim) {
        let Some(unit) = Units::named(word) else {
            let nearest = nearest(word, UNIT_WORDS.map(|known| known.word)).map(str::to_owned);
            return Err(Refusal::NotShownIn { word: word.to_owned(), nearest });
        };
        if let Some(other) = wanted.iter().find(|other| other.kind() == unit.kind()) {
            return Err(Refusal::TwoUnits { word: word.to_owned(), other: *other });
        }
        wanted.push(unit);
    }
    Ok(Wanted(wanted))
}

#[cfg(test)]
mod tests {
    use super::read;
    use quantity::{Kind, Unit, Units};

    #[test]
    fn a_list_of_units_is_read() {
        let units = read("dms, in,in-lb").unwrap().over(Units::INSIDE.with(Unit::PoundForce));
        let of = |kind| units.of(kind);
        assert_eq!((of(Kind::Angle), of(Kind::Length)), (Unit::ArcMinute, Unit::Inch));
        assert_eq!((of(Kind::Torque), of(Kind::Force)), (Unit::InchPound, Unit::PoundForce));
        for wrong in ["", "inhc", "in,mm", "in,", "m", "arcmin", "mm/m", "in;deg"] {
            assert!(read(wrong).is_err(), "{wrong}");
        }
    }
}
