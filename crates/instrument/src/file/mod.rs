//! Instrument files: TOML that says what an instrument is, how it is connected, what it speaks and what its values mean.
//!
//! ```
//! let file = instrument::InstrumentFile::read(
//!     r#"
//! name = "two-axis level"
//! kind = "inclinometer"
//! resolution = 0.01        # in degrees, or a text with its unit: "36 arcsec"
//! accuracy = 0.05
//! checked = 2031-01-10
//! due = 2032-01-10
//!
//! [port]
//! baud = 9600              # then 8 data bits, no parity, 1 stop bit
//!
//! [dialect]
//! speaks = "lines"
//! line = "X={angle deg .2},Y={cross deg .2}"
//!
//! [axes]
//! measures = "angle"
//! positive = "arrow end up"
//! "#,
//! )?;
//! assert_eq!(file.dialect.word(), "lines");
//! assert_eq!(file.sign(), 1.0);
//! # Ok::<(), instrument::FileErrors>(())
//! ```

mod checks;
mod dialect;
mod fault;
mod modbus;
mod port;

pub use fault::FileFault;

use crate::{Axis, DialectSpec, SettleSettings};
use quantity::{InstrumentKind, table};
use std::string::String;
use std::vec::Vec;

/// The mistakes found in an instrument file, in text order; never empty.
pub type FileErrors = table::FileErrors<FileFault>;
type Table<'a, 'i> = table::Table<'a, 'i, FileFault>;

/// The axes by their words.
fn axes() -> Vec<(&'static str, Axis)> {
    Axis::ALL.iter().map(|axis| (axis.word(), *axis)).collect()
}

quantity::words! {
    /// Whether a parity bit is sent with each character.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Parity {
        None = "none",
        /// Makes the number of ones even.
        Even = "even",
        /// Makes it odd.
        Odd = "odd",
    }
}

quantity::words! {
    /// Which way an instrument must tilt for its value to grow. For a reading that faces forward, a person turns its
    /// arrow toward the leading edge; with that end up, the wing is nose up.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub enum Positive {
        /// The value grows when the arrow's end goes up.
        ArrowEndUp = "arrow end up",
        /// The value grows when the arrow's end goes down.
        ArrowEndDown = "arrow end down",
    }
}

/// How the serial line is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PortSettings {
    /// Bits per second.
    pub baud: u32,
    /// Data bits of a character, 7 or 8.
    pub data_bits: u8,
    /// The parity bit.
    pub parity: Parity,
    pub stop_bits: u8,
}

impl Default for PortSettings {
    /// 9600 bits per second, 8 data bits, no parity, 1 stop bit.
    fn default() -> Self {
        Self { baud: 9600, data_bits: 8, parity: Parity::None, stop_bits: 1 }
    }
}

/// An instrument as its file describes it. Numbers are in base units (degrees, millimetres, N·m).
#[derive(Clone, Debug, PartialEq)]
pub struct InstrumentFile {
    /// The name people use for it.
    pub name: String,
    /// Its serial or tool number.
    pub number: Option<String>,
    /// What sort it is.
    pub kind: InstrumentKind,
    /// The unit its display shows, in which a bare typed number is read.
    pub unit: Option<quantity::Unit>,
    /// The step of its display.
    pub resolution: f64,
    /// The largest value it can show, of either sign; a larger one is refused.
    pub range: Option<f64>,
    /// The limit of error its maker states.
    pub accuracy: Option<f64>,
    /// Standard deviation of one seating.
    pub repeatability: Option<f64>,
    /// Limit of the error in proportion to the value, if its maker states one.
    pub scale: Option<f64>,
    /// The day its check was last done, `YYYY-MM-DD`.
    pub checked: Option<String>,
    /// The day its check runs out, `YYYY-MM-DD`.
    pub due: Option<String>,
    /// How the serial line is set.
    pub port: PortSettings,
    /// What it speaks.
    pub dialect: DialectSpec,
    /// The axis with the measured value; the others are shown beside it.
    pub measures: Axis,
    /// Which way the value grows.
    pub positive: Positive,
    /// When it counts as at rest.
    pub settle: SettleSettings,
}

impl InstrumentFile {
    /// Reads an instrument file.
    ///
    /// # Errors
    ///
    /// Every mistake, with its line and column.
    pub fn read(text: &str) -> Result<Self, FileErrors> {
        checks::checked(text)
    }

    /// The factor that makes a value positive when the arrow's end is up.
    #[must_use]
    pub const fn sign(&self) -> f64 {
        match self.positive {
            Positive::ArrowEndUp => 1.0,
            Positive::ArrowEndDown => -1.0,
        }
    }
}
