//! The arithmetic of rigging: a wrench with an extension, the travel of a control surface, left against right.

pub mod symmetry;
pub mod tape;
pub mod torque;
pub mod travel;
