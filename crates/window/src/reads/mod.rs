//! What screens read out of a judgement and a log: found once for each new state of the log, not in every picture.

pub mod board;
pub mod evidence;
pub mod index;
pub mod stage;
pub mod undo;

pub use index::Index;
