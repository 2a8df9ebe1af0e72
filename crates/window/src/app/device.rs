//! Which instrument is on the port: from its file, or from its name in the log.

use instrument::{Axis, DialectSpec, SettleSettings};
use quantity::Kind;
use record::Instrument;
use session::gauges::Connected;
use session::port::PortSettings;
use session::{Session, SessionError};
use std::path::Path;

/// Why an instrument cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum NoDevice {
    #[error("There is no instrument and no file `{text}`; {}", one_of(.known))]
    Unknown { text: String, known: Vec<String> },
    #[error("What `{0}` measures is not known; give its file.")]
    NoQuantity(String),
    #[error(transparent)]
    File(#[from] SessionError),
}

fn one_of(known: &[String]) -> String {
    if known.is_empty() {
        return "give the instrument's file.".to_owned();
    }
    format!("the log knows {}.", known.join(", "))
}

/// Finds an instrument: a file; otherwise an instrument of the log, which speaks as the file of that name beside the
/// log says. Without such a file it is assumed to send this project's own lines.
pub fn find(session: &Session, text: &str) -> Result<Connected, NoDevice> {
    let known = session.instruments();
    if let Some(facts) = known.get(text) {
        return match file_of(session, text) {
            Some(device) => Ok(Connected { facts: facts.clone(), ..device }),
            None => of_log(facts.clone()),
        };
    }
    if session::nearby::is_file(Path::new(text)) {
        return Ok(Connected::read(Path::new(text))?);
    }
    let (text, known) = (text.to_owned(), known.into_keys().collect());
    Err(NoDevice::Unknown { text, known })
}

/// The file beside the log that describes this instrument.
fn file_of(session: &Session, name: &str) -> Option<Connected> {
    let found = session::gauges::in_folder(folder_of(session)).ok()?;
    found.read.into_values().find(|device| device.facts.name == name)
}

/// The folder of the log.
pub fn folder_of(session: &Session) -> &Path {
    session.path().parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

fn of_log(facts: Instrument) -> Result<Connected, NoDevice> {
    let measures = match facts.kind.quantity() {
        Some(Kind::Angle) => Axis::Angle,
        Some(Kind::Length) => Axis::Length,
        Some(Kind::Torque) => Axis::Torque,
        Some(Kind::Force) => Axis::Force,
        _ => return Err(NoDevice::NoQuantity(facts.name)),
    };
    // Its repeatability is that of seatings, not the noise of a display at rest; use the default noise, as for a file
    // that states none.
    let settle = SettleSettings::from_instrument(facts.resolution, 0.0);
    let settings = PortSettings { baud: 115_200, ..PortSettings::default() };
    Ok(Connected { facts, settings, dialect: DialectSpec::Jigtrue, measures, sign: 1.0, settle })
}
