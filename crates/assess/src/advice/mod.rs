//! What to move: the set of moves that brings a wing true, in steps a hand can make.
//!
//! - [`feet`]: the feet of a post, from its tilt;
//! - [`steps`]: what a screw or a shelf of shims can really do, and the words for it.

pub mod feet;
pub mod steps;

pub use feet::{FootAdvice, FootMove, foot_advice, foot_moves};
