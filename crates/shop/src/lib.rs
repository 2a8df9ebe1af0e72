//! What a person does to a log and what happens then: one working session, used by every face.
//!
//! Effects live here: the clock, files, ports. A [`Session`] is one open log with its plan, its entries and the
//! assessment that follows from them; [`port`] listens to instruments.

mod clock;
mod error;
mod person;
pub mod session;

pub use clock::now;
pub use error::ShopError;
pub use person::default_name;
pub use session::{ImportReport, Session, Sign, Take, TakeSettled, Taken};

pub use {assess, instrument, journal, numerics, quantity, record};
