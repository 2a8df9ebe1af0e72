//! Identifies an unknown stream: listens for a while, and reads it in each dialect.

use super::{PortSettings, settings};
use crate::SessionError;
use instrument::{Decoder, DialectSpec, Fault, Sample};
use std::io::{ErrorKind, Read, Write};
use std::time::{Duration, Instant};

/// At most this much of the stream is kept.
const MOST_BYTES: usize = 256 << 10;

/// How a stream reads in one dialect.
#[derive(Clone, Debug, PartialEq)]
pub struct Heard {
    pub samples: usize,
    /// How many received items are not samples.
    pub faults: usize,
    pub last: Option<Sample>,
    /// The last fault.
    pub fault: Option<Fault>,
}

impl Heard {
    const NOTHING: Self = Self { samples: 0, faults: 0, last: None, fault: None };

    fn take(&mut self, next: Result<Sample, Fault>) {
        match next {
            Ok(sample) => {
                self.samples += 1;
                self.last = Some(sample);
            }
            Err(fault) => {
                self.faults += 1;
                self.fault = Some(fault);
            }
        }
    }
}

/// Asks an instrument that answers only when asked, for at most three rounds of its values, or until it does not
/// answer.
///
/// # Errors
/// If the port cannot be opened or goes away.
pub fn ask(path: &str, settings: PortSettings, dialect: &DialectSpec) -> Result<Heard, SessionError> {
    let mut port = settings::open(&settings, path).map_err(|why| SessionError::port(path, why))?;
    let mut decoder = Decoder::new(dialect);
    let (began, mut heard, mut bytes) = (Instant::now(), Heard::NOTHING, [0; 1024]);
    let now_ms = || u64::try_from(began.elapsed().as_millis()).unwrap_or(u64::MAX);
    let enough = 3 * dialect.axes().len();
    while heard.samples < enough && heard.faults == 0 {
        if let Some(question) = decoder.ask(now_ms()) {
            port.write_all(&question).map_err(|why| SessionError::port(path, why))?;
        }
        let came = match port.read(&mut bytes) {
            Ok(count) => count,
            Err(why) if matches!(why.kind(), ErrorKind::TimedOut | ErrorKind::Interrupted) => 0,
            Err(why) => return Err(SessionError::port(path, why)),
        };
        decoder.each(bytes.get(..came).unwrap_or_default(), |next| heard.take(next));
        if decoder.ask_in_ms(now_ms()).is_none() {
            break;
        }
    }
    Ok(heard)
}

/// Listens for a while without sending anything, and returns what came.
///
/// # Errors
/// If the port cannot be opened or goes away.
pub fn overhear(path: &str, settings: PortSettings, long: Duration) -> Result<Vec<u8>, SessionError> {
    let mut port = settings::open(&settings, path).map_err(|why| SessionError::port(path, why))?;
    let began = Instant::now();
    let (mut all, mut bytes) = (Vec::new(), [0; 1024]);
    while began.elapsed() < long && all.len() < MOST_BYTES {
        match port.read(&mut bytes) {
            Ok(count) if count > 0 => all.extend_from_slice(bytes.get(..count).unwrap_or_default()),
            Err(why) if matches!(why.kind(), ErrorKind::TimedOut | ErrorKind::Interrupted) => {}
            Ok(_) => break,
            Err(why) => return Err(SessionError::port(path, why)),
        }
    }
    Ok(all)
}

/// How these bytes read in a dialect.
pub fn read_as(bytes: &[u8], dialect: &DialectSpec) -> Heard {
    let mut heard = Heard::NOTHING;
    Decoder::new(dialect).each(bytes, |next| heard.take(next));
    heard
}
