//! The append-only log of one wing.

mod append;
mod backup;
mod body;
mod error;
mod file;
mod hash;
mod load;
mod open;
mod read;
mod row;
mod schema;
mod verify;

pub use body::MAX_BODY_BYTES;
pub use error::{Break, Fault, JournalError, Why};
pub use hash::{DOMAIN, Hash, Head};
pub use open::Journal;
pub use read::Entries;
pub use schema::{APPLICATION_ID, FORMAT};
