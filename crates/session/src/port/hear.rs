//! What an unknown stream could be: a while of it, and which dialects it reads as.

use super::{PortSettings, error, settings};
use crate::SessionError;
use instrument::{Decoder, DialectSpec, Sample};
use std::io::{ErrorKind, Read};
use std::time::{Duration, Instant};

/// No more than this is kept of what is heard.
const MOST_BYTES: usize = 256 << 10;

/// How a stream reads in one dialect.
#[derive(Clone, Debug, PartialEq)]
pub struct Heard {
    /// How many values came of it.
    pub samples: usize,
    /// How many times something came that is none.
    pub faults: usize,
    /// The last value.
    pub last: Option<Sample>,
}

/// Listens for a while without a word to the instrument, and returns what came.
///
/// # Errors
/// When the port cannot be opened or goes away.
pub fn overhear(path: &str, settings: PortSettings, long: Duration) -> Result<Vec<u8>, SessionError> {
    let mut port = settings::open(&settings, path).map_err(|why| error::cannot_open(path, &why))?;
    let began = Instant::now();
    let (mut all, mut bytes) = (Vec::new(), [0; 1024]);
    while began.elapsed() < long && all.len() < MOST_BYTES {
        match port.read(&mut bytes) {
            Ok(count) if count > 0 => all.extend_from_slice(bytes.get(..count).unwrap_or_default()),
            Err(why) if matches!(why.kind(), ErrorKind::TimedOut | ErrorKind::Interrupted) => {}
            Ok(_) => break,
            Err(why) => {
                return Err(SessionError::Port {
                    port: crate::shown(path).into_owned(),
                    why: error::gone(&why),
                });
            }
        }
    }
    Ok(all)
}

/// How these bytes read in a dialect.
#[must_use]
pub fn read_as(bytes: &[u8], dialect: &DialectSpec) -> Heard {
    let mut heard = Heard { samples: 0, faults: 0, last: None };
    Decoder::new(dialect).each(bytes, |it| match it {
        Ok(sample) => {
            heard.samples += 1;
            heard.last = Some(sample);
        }
        Err(_) => heard.faults += 1,
    });
    heard
}
