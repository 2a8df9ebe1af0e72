//! What a port says when it cannot be used, in words.

use crate::SessionError;
use serialport::ErrorKind;
use std::io;
pub(super) fn cannot_open(port: &str, why: &serialport::Error) -> SessionError {
    SessionError::Port { port: crate::shown(port).into_owned(), why: words(why).into() }
}

/// The error for a port that was open and went away.
pub(super) fn went_away(port: &str, why: &io::Error) -> SessionError {
    SessionError::Port { port: crate::shown(port).into_owned(), why: gone(why).into() }
}

/// What stands against opening it, and what to do.
pub(super) fn words(why: &serialport::Error) -> String {
    let said = why.to_string();
    let busy = said.to_lowercase();
    if busy.contains("exclusive lock") || busy.contains("busy") {
        return "another program has it open; close that one first".to_owned();
    }
    match why.kind() {
        ErrorKind::Io(io::ErrorKind::NotFound) => {
            "is not there; plug the instrument in, or look at what `jigtrue ports` lists".to_owned()
        }
        ErrorKind::Io(io::ErrorKind::PermissionDenied) => {
            "may not be opened by this login; on many Linux systems the group `dialout` may".to_owned()
        }
        ErrorKind::NoDevice => format!("is no port that can be used now ({})", said.to_lowercase()),
        _ if said.contains("ypewriter") || busy.contains("inappropriate ioctl") => {
            "is not a serial port".to_owned()
        }
        _ => format!("cannot be opened: {}", said.to_lowercase()),
    }
}

/// Why a port that was open is gone.
pub(super) fn gone(why: &io::Error) -> String {
    match why.kind() {
        io::ErrorKind::BrokenPipe | io::ErrorKind::NotFound | io::ErrorKind::UnexpectedEof => {
            "the other end is gone".to_owned()
        }
        _ => journal::plain(why),
    }
}
