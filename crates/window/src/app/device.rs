//! Which instrument is on the port: from its file, or from its name in the log.

use shop::instrument::{
    Axis, DialectSpec, InstrumentFile, InstrumentKind as FileKind, Parity as FileParity, SettleSettings,
    kind_of,
};
use shop::port::{Parity, PortSettings};
use shop::quantity::Kind;
use shop::record::{Date, Instrument, InstrumentKind};
use shop::{Session, ShopError};
use std::path::Path;

/// An instrument and how it speaks.
pub struct Device {
    /// Its facts, as the log has or will have them.
    pub facts: Instrument,
    pub settings: PortSettings,
    pub dialect: DialectSpec,
    /// The axis that is measured.
    pub measures: Axis,
    /// +1, or -1 where the instrument counts the other way.
    pub sign: f64,
    pub settle: SettleSettings,
}

impl Device {
    /// Finds it: a file if there is one of that name, else an instrument of the log that sends our own lines.
    pub fn find(session: &Session, text: &str) -> Result<Self, String> {
        let known = session.instruments();
        if let Some(facts) = known.get(text) {
            return Self::of_log(facts.clone());
        }
        if Path::new(text).is_file() {
            return Self::of_file(Path::new(text));
        }
        let names: Vec<&str> = known.keys().map(String::as_str).collect();
        Err(match names.as_slice() {
            [] => format!("There is no instrument and no file `{text}`; give the instrument's file."),
            names => {
                format!("There is no instrument and no file `{text}`; the log knows {}.", names.join(", "))
            }
        })
    }

    fn of_log(facts: Instrument) -> Result<Self, String> {
        let measures = match facts.kind.quantity() {
            Some(Kind::Angle) => Axis::Angle,
            Some(Kind::Length) => Axis::Length,
            Some(Kind::Torque) => Axis::Torque,
            _ => return Err(format!("What `{}` measures is not known; give its file.", facts.name)),
        };
        // Its repeatability is that of seatings, not the noise of a display at rest; as in a file that states none.
        let settle = SettleSettings::from_instrument(facts.resolution, 0.0);
        let settings = PortSettings { baud: 115_200, ..PortSettings::default() };
        Ok(Self { facts, settings, dialect: DialectSpec::Jigtrue, measures, sign: 1.0, settle })
    }

    fn of_file(path: &Path) -> Result<Self, String> {
        let text = shop::read_plan_text(path).map_err(|e: ShopError| e.to_string())?;
        let file = InstrumentFile::read(&text).map_err(|e| format!("{}: {e}", path.display()))?;
        let date = |d: &Option<String>| d.as_deref().and_then(|d| d.parse::<Date>().ok());
        let facts = Instrument {
            name: file.name.clone(),
            number: file.number.clone(),
            kind: kind_of_file(file.kind),
            resolution: file.resolution,
            accuracy: file.accuracy,
            repeatability: file.repeatability,
            scale: file.scale,
            expansion: None,
            checked: date(&file.checked),
            due: date(&file.due),
        };
        let parity = match file.port.parity {
            FileParity::None => Parity::None,
            FileParity::Even => Parity::Even,
            FileParity::Odd => Parity::Odd,
        };
        let settings = PortSettings {
            baud: file.port.baud,
            data_bits: file.port.data_bits,
            parity,
            stop_bits: file.port.stop_bits,
        };
        let sign = file.sign();
        Ok(Self {
            facts,
            settings,
            dialect: file.dialect,
            measures: file.measures,
            sign,
            settle: file.settle,
        })
    }

    /// What it measures.
    pub fn kind(&self) -> Kind {
        kind_of(self.measures)
    }
}

/// The log's word for what sort of instrument a file names.
const fn kind_of_file(kind: FileKind) -> InstrumentKind {
    match kind {
        FileKind::Inclinometer => InstrumentKind::Inclinometer,
        FileKind::Caliper => InstrumentKind::Caliper,
        FileKind::Tape => InstrumentKind::Tape,
        FileKind::TorqueWrench => InstrumentKind::TorqueWrench,
        FileKind::Other => InstrumentKind::Other,
    }
}
