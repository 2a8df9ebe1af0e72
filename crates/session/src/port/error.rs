//! Why a port cannot be used.

use serialport::ErrorKind;
use std::io;
use thiserror::Error;

/// Why a port cannot be used, and what to do.
#[derive(Debug, Error)]
pub enum PortFault {
    #[error("another program has it open; close that program first")]
    Busy(#[source] serialport::Error),
    #[error("is not there; plug the instrument in, or look at the list of `jigtrue ports`")]
    NotThere(#[source] serialport::Error),
    #[error("permission denied; on most Linux systems, add your user to the `dialout` group")]
    NoRight(#[source] serialport::Error),
    #[error("is not a usable port now ({})", .0.to_string().to_lowercase())]
    NoDevice(#[source] serialport::Error),
    #[error("is not a serial port")]
    NotSerial(#[source] serialport::Error),
    #[error("cannot be opened: {}", .0.to_string().to_lowercase())]
    NotOpened(#[source] serialport::Error),
    #[error("it could not be opened")]
    OpeningEnded,
    #[error("{0}")]
    NoThread(#[source] io::Error),
    #[error("{}", gone(.0))]
    Gone(#[source] io::Error),
}

/// An open port that fails has gone away.
impl From<io::Error> for PortFault {
    fn from(why: io::Error) -> Self {
        Self::Gone(why)
    }
}

impl From<serialport::Error> for PortFault {
    fn from(why: serialport::Error) -> Self {
        // The library has no error kind for these two.
        let said = why.to_string().to_lowercase();
        if said.contains("exclusive lock") || said.contains("busy") {
            return Self::Busy(why);
        }
        match why.kind() {
            ErrorKind::Io(io::ErrorKind::NotFound) => Self::NotThere(why),
            ErrorKind::Io(io::ErrorKind::PermissionDenied) => Self::NoRight(why),
            ErrorKind::NoDevice => Self::NoDevice(why),
            _ if said.contains("typewriter") || said.contains("inappropriate ioctl") => Self::NotSerial(why),
            _ => Self::NotOpened(why),
        }
    }
}

/// Why an open port is gone.
fn gone(why: &io::Error) -> String {
    match why.kind() {
        io::ErrorKind::BrokenPipe | io::ErrorKind::NotFound | io::ErrorKind::UnexpectedEof => {
            "the other end is gone".to_owned()
        }
        _ => journal::plain(why),
    }
}
