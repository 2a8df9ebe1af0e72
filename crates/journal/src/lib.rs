//! The append-only log of one wing: one SQLite file with one table of entries, each chained to the one before by its
//! hash.
//!
//! [`Journal::append`] returns when the entry is on disk. Several programs can have the log open at once; each reads
//! with [`Journal::entries_since`] what the others wrote. Nothing here reads the time: it is passed in.
//!
//! ```
//! # fn main() -> Result<(), Box<dyn std::error::Error>> {
//! # let folder = tempfile::tempdir()?;
//! # let path = folder.path().join("left.jigtrue");
//! use journal::Journal;
//! use record::{At, StageBegun, What};
//!
//! let mut log = Journal::create(&path, "the plan's text", "jigtrue 0.1.0", At::from_millis(0), "ann")?;
//! let head = log.append(At::from_millis(60_000), "ann", &What::Stage(StageBegun::new("jig empty")))?;
//! assert_eq!(head.seq, 2);
//! assert_eq!(log.verify()?, head);
//! for entry in log.entries() {
//!     println!("{}", entry?.seq);
//! }
//! # Ok(())
//! # }
//! ```
//!
//! # What is in the file
//!
//! `PRAGMA application_id` is [`APPLICATION_ID`]. `PRAGMA user_version` is the format: 1, or 2 from the first entry
//! that format 1 does not know (a new kind, or a sign-off whose signature covers date and name). An older program
//! refuses format 2 with a message. The table `entry` has the columns
//!
//! | column | holds |
//! |---|---|
//! | `seq` | its number, from 1 without gaps |
//! | `at` | milliseconds since 1970-01-01 00:00:00 UTC; may go back where a clock was set back |
//! | `by` | who wrote it |
//! | `kind` | what happened, in a word: `started`, `reading`, `stage`, `withdrawn`, ... |
//! | `body` | the rest of it, a JSON object (`record::What`); its last keys are `highest_round`, the highest round of any reading up to and with it (not there before the first), and `utc_offset_min`, the writer's offset from UTC in minutes; entries of older programs lack one or both, and those pass over them |
//! | `hash` | 32 bytes |
//!
//! Triggers refuse to change or remove an entry, and to insert any but the next. The views `readings`, `stages`,
//! `moves` and `withdrawals` are for people who open the file with SQL; their column names include the units.
//!
//! # How to recompute the chain
//!
//! The hash of an entry is the SHA-256 (FIPS 180-4) of these bytes, one after the other:
//!
//! | bytes | what |
//! |---|---|
//! | 32 | the hash of the entry before; for entry 1 the SHA-256 of the text [`DOMAIN`], `jigtrue log, format 1` |
//! | 8 | `seq`, big-endian |
//! | 8 | `at`, big-endian, two's complement |
//! | 8 + n | how many bytes `by` has in UTF-8, big-endian, and those bytes |
//! | 8 + n | `kind`, in the same way |
//! | 8 + n | `body`, in the same way, as it stands in the column |
//!
//! To check your SHA-256: of `abc` it is
//! `ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad` (published with FIPS 180-4).
//!
//! An example, the hashes in hexadecimal:
//!
//! | seq | at | by | kind | body | hash |
//! |---|---|---|---|---|---|
//! | (before 1) | | | | | `9ca4d3ec49f2265588a353faed56faf62dd4654d5167918f5a0c36bd57a4cfb8` |
//! | 1 | 1900000000000 | `ann` | `started` | `{"plan":"","program":"jigtrue"}` | `1072bc8605cf501f69ba6c014c9bb49f71948e1c191fcbb684723b601997eb40` |
//! | 2 | 1900000001000 | `ann` | `note` | `{"text":"windy"}` | `065bbfe5bf4dc0f8a5a57cb1a0517809dc766e65be3e53f4c00dab04c3453601` |
//!
//! For entry 1 that is the SHA-256 of 113 bytes: the 32 of the hash before, then in hexadecimal
//! `0000000000000001 000001ba60d33800 0000000000000003 616e6e 0000000000000007 73746172746564 000000000000001f` and
//! the 31 bytes of the body.
//!
#![doc = include_str!("../DISK.md")]

mod alone;
mod append;
mod backup;
mod body;
mod error;
mod file;
mod hash;
mod length;
mod load;
mod lock;
mod lookup;
mod merge;
mod open;
mod place;
mod read;
mod rounds;
mod row;
mod schema;
mod trouble;
mod verify;
mod walk;
pub mod whole;

pub use append::NewEntry;
pub use body::MAX_BODY_BYTES;
pub use error::{Break, Damage, Fault, JournalError, NotALog, Target, Unreadable, Why, plain};
pub use hash::{DOMAIN, Hash, Head};
pub use lock::Locked;
pub use lookup::NewestFirst;
pub use open::Journal;
pub use read::Entries;
pub use schema::{APPLICATION_ID, Alteration, Change, FORMAT, How};
pub use walk::{StoredReading, TakesIn, Walked};
