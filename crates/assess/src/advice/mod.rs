//! What to move: the set of moves that brings a wing true, in steps a hand can make.
//!
//! [`advise`] is pure: plan, log and assessment in, [`Advice`] out.
//!
//! - [`influence`]: what a mm at a support does, by geometry;
//! - [`observations`] and [`learn`]: what it really does, from the moves in the log;
//! - [`rows`]: what is judged, as limits over the moves;
//! - [`search`]: the moves; [`order`]: which first; [`help`]: what would do where no move does;
//! - [`decide`]: whether to move at all, or leave alone, or measure first;
//! - [`steps`]: what a screw or a shelf of shims can do; [`words`]: the sentences;
//! - [`feet`]: the feet of a post, from its tilt.

pub mod decide;
pub mod feet;
pub mod help;
pub mod influence;
pub mod learn;
pub mod observations;
pub mod order;
pub mod rows;
pub mod search;
pub mod steps;
mod view;
mod whole;
pub mod words;

pub use feet::{
    Axis, FootAdvice, FootMove, FootTurned, Lack, Lean, Made, TiltU, foot_advice, foot_turned, level_feet,
};
pub use view::{Advice, AdviceState, Expected, ExpectedStation, LearnedView, Step};
pub use whole::{advise, real_amounts};
