//! An instrument in words.

use assess::expect::Say;
use quantity::{Kind, Units};
use record::Instrument;

/// Its name and its number.
pub fn named(instrument: &Instrument) -> String {
    match &instrument.number {
        Some(number) => format!("{} {number}", instrument.name),
        None => instrument.name.clone(),
    }
}

/// The same, with the steps of its display.
pub fn with_steps(instrument: &Instrument, quantity: Kind) -> String {
    match Say::of(quantity, Some(instrument), Units::INSIDE).step() {
        Some(step) => format!("{}, steps of {step}", named(instrument)),
        None => named(instrument),
    }
}
