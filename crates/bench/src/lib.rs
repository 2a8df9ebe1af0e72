//! The bench: one listening core for both faces. Samples with their times and a person's keys go in; what to show
//! ([`View`]) and what to write ([`Out`]) come out, as plain values. No clock, no port, no thread, no file: the same
//! samples and keys always give the same entries.
//!
//! It contains zeroing, wrong instruments, the round (next point, facing, pairs, skip, back), the take, offering each
//! rest once, lost and found, automatic values, the loop of moves, and the drift watch.

mod device;
mod event;
mod gauge;
mod key;
mod level;
mod log;
mod machine;
mod measured;
mod notice;
mod out;
mod pair;
mod question;
mod said;
mod seat;
mod show;
mod shown;
mod signal;
mod spars;
mod steady;
mod sure;
mod take;
mod turning;
pub mod typing;
mod view;
mod walk;
mod watch;
mod watching;
mod zero;

pub use device::{Device, Zeroes};
pub use event::{Came, Gone, PortEvent};
pub use gauge::{Gauge, Standing};
pub use key::{Answer, HandsFree, Key};
pub use log::{Log, tilt_limits};
pub use machine::{Bench, NO_ANSWER_MS};
pub use measured::{Difference, Measured};
pub use out::{NewMove, NewReading, Out, Rested, Round, TakenHere, Write, Wrote};
pub use question::Question;
pub use said::{NotTaken, Said, Written, Zeroed};
pub use seat::{Arrow, Seat, Second};
pub use shown::{Sent, Shown, sent};
pub use sure::Sure;
pub use view::{
    By, Coarse, CoarseFoot, DeviceView, LastTaken, LevelView, Live, Main, Phase, Place, PortView, Site, Turn,
    View,
};
pub use walk::Target;
pub use watch::NewSpan;
pub use zero::{PAUSE_MS, Zero};
