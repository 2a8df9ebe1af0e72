//! Reads the tables of a file that a person writes in TOML. Each key is asked for by name; every mistake is noted with its line and what
//! to write instead, and the keys that nobody asked for are reported as unknown.

mod error;
mod fault;
mod mistakes;
mod read;
mod syntax;
mod values;

pub use error::{FileError, FileErrors, quoted};
pub use fault::{BadName, BadText, TableFault};
pub use mistakes::{Mistakes, Source};
pub use read::{Table, Written};
pub use syntax::document;

/// The most items in any list.
pub const MOST_ITEMS: usize = 10_000;
