//! What to move: the moves that bring a wing true, in steps a hand can make.
//!
//! [`advise`] is pure: plan, log and assessment in, [`Advice`] out; [`go_on`] does the same in the middle of moves.
//!
//! - [`influence`] and [`field`]: what a mm at a support does, by geometry;
//! - [`belief`], [`observed`], [`observations`] and [`learn`]: what it really does, from the moves in the log;
//! - [`prior`]: the belief before a wing's own moves, in general or from earlier wings; `like`: both side by side;
//! - [`live`]: moves made with a level on a station;
//! - [`targets`] and [`rows`]: what is judged, as limits over the moves; [`local`]: ribs that no support moves;
//! - `spars`: bowed spars, and what keeps others from being bent;
//! - [`search`]: the moves; `order`: which comes first; `help`: what to do if no move is enough;
//! - [`decide`]: move, leave alone, or measure first; `profile`: all of this for the supports;
//! - [`Finding`]: each thing that is outside or undecided, with its remedy;
//! - [`steps`]: what a screw or a stock of shims can do; `words`: the sentences;
//! - [`feet`]: the feet of a post, from its tilt.

pub mod belief;
pub mod decide;
mod effect;
pub mod feet;
pub mod field;
mod finding;
mod findings;
mod help;
pub mod influence;
pub mod learn;
mod like;
pub mod live;
pub mod local;
pub mod observations;
pub mod observed;
mod order;
pub mod prior;
mod profile;
pub mod rows;
pub mod search;
mod spars;
pub mod steps;
mod summary;
pub mod targets;
mod view;
mod whole;
mod words;

pub use effect::Effect;
pub use feet::{Axis, FootAdvice, FootMove, Lack, Lean, Made, TiltU, level_feet};
pub use finding::{Finding, Remedy, SparMove, TiltExpected};
pub use like::{LikeView, Liked, WithoutView, advise_like};
pub use live::Pull;
pub use summary::Summary;
pub use view::{Advice, AdviceState, Expected, ExpectedStation, LearnedView, Step};
pub use whole::{advise, go_on, pulls_at, replan};
