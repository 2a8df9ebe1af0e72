//! Which instrument is on the port: from its file, or from its name in the log.

use instrument::{Axis, DialectSpec, SettleSettings};
use quantity::Kind;
use record::Instrument;
use session::gauges::Connected;
use session::port::PortSettings;
use session::{Session, SessionError};
use std::path::Path;

/// Finds it: a file; else an instrument of the log, which speaks as the file of that name beside the log says. Where there is
/// none it is taken to send this project's own lines.
pub fn find(session: &Session, text: &str) -> Result<Connected, String> {
    let known = session.instruments();
    if let Some(facts) = known.get(text) {
        return match file_of(session, text) {
            Some(device) => Ok(Connected { facts: facts.clone(), ..device }),
            None => of_log(facts.clone()),
        };
    }
    if session::nearby::is_file(Path::new(text)) {
        return Connected::read(Path::new(text)).map_err(|e: SessionError| e.to_string());
    }
    let names: Vec<&str> = known.keys().map(String::as_str).collect();
    Err(match names.as_slice() {
        [] => format!("There is no instrument and no file `{text}`; give the instrument's file."),
        names => {
            format!("There is no instrument and no file `{text}`; the log knows {}.", names.join(", "))
        }
    })
}

/// The file beside the log that is of this instrument.
fn file_of(session: &Session, name: &str) -> Option<Connected> {
    let folder = session.path().parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let (files, _) = session::gauges::in_folder(folder).ok()?;
    files.into_values().find(|device| device.facts.name == name)
}

fn of_log(facts: Instrument) -> Result<Connected, String> {
    let measures = match facts.kind.quantity() {
        Some(Kind::Angle) => Axis::Angle,
        Some(Kind::Length) => Axis::Length,
        Some(Kind::Torque) => Axis::Torque,
        Some(Kind::Force) => Axis::Force,
        _ => return Err(format!("What `{}` measures is not known; give its file.", facts.name)),
    };
    // Its repeatability is that of seatings, not the noise of a display at rest; as in a file that states none.
    let settle = SettleSettings::from_instrument(facts.resolution, 0.0);
    let settings = PortSettings { baud: 115_200, ..PortSettings::default() };
    Ok(Connected { facts, settings, dialect: DialectSpec::Jigtrue, measures, sign: 1.0, settle })
}
