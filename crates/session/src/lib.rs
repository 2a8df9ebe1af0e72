//! What a person does to a log and what happens then: one working session, used by every face.
//!
//! Effects are here: the clock, files, ports. A [`Session`] is one open log with its plan, its entries and their
//! assessment.

pub mod browse;
mod cannot;
mod clock;
pub mod demo;
mod error;
mod file_fault;
mod files;
pub mod gauges;
pub mod importing;
pub mod keys;
pub mod log;
pub mod nearby;
pub mod next;
mod not_done;
mod not_known;
mod person;
pub mod port;
mod refusal;
mod rotating;
mod shown;
mod watcher;
pub mod which;

pub use cannot::{Cannot, FileSort};
pub use clock::{NoInstant, instant, now, stamp};
pub use error::{Cause, SessionError};
pub use files::{
    may_write, read_bytes, read_plan_text, read_table, write_new, write_whole, write_whole_by,
    write_with_folder,
};
pub use log::{
    BadLine, BeginStage, Exported, Form, HashDigits, HashOnPaper, ImportReport, ImportWith, LogHead,
    ManyExported, OnPaper, Pair, PlanPoint, PlanStep, Replanned, Session, Sign, Since, Take, Taken, TypedLog,
    TypedMove, VerdictChange, Verified, WingLog, part_temperature, point_in,
};
pub use not_done::{NotSigned, Unmet};
pub use not_known::{CAPACITIES, NotKnown, Unknown};
pub use person::default_name;
pub use rotating::Rotating;
pub(crate) use shown::brief;
pub use shown::{each_line_shown, json_shown, shown};
pub use watcher::Watcher;
