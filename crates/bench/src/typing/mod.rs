//! A round by typing values alone: what is asked for next, and what a typed line means. Lines go in; what to record
//! and what to say come out ([`Do`]), as plain values. It reads nothing and prints nothing, so that a terminal and a
//! window can use it alike.

mod line;
mod steps;
mod walk;

pub use line::{Line, understand};
pub use steps::{Done, Step, steps};
pub use walk::{Do, Here, Typing, Undone, Untaken};
