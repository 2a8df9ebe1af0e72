//! Serial ports: listing them, and listening to an instrument on one.

mod asking;
mod driver;
mod error;
mod hear;
mod leave;
mod list;
mod listener;
mod opening;
mod outlet;
mod reader;
mod settings;
mod typed_lines;

pub use driver::{Driver, Watched};
pub use error::PortFault;
pub use hear::{Heard, ask, overhear, read_as};
pub use instrument::{Parity, PortSettings};
pub use leave::Leave;
pub use list::{ListedPort, list_ports};
pub use listener::Listener;
pub use opening::Opening;
pub use typed_lines::{Typed, TypedLine, TypedLines};
