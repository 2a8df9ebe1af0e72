//! What is drawn by hand: marks, the wing, the big value, the bubble.

pub mod big;
pub mod bubble;
pub mod marks;
pub mod planform;
pub mod shaft;
