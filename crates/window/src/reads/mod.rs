//! What screens read from a judgement and a log: worked out once for each new state of the log, not for every
//! picture.

pub mod board;
pub mod evidence;
pub mod index;
pub mod stage;
pub mod undo;

pub use index::Index;
