//! What screens are drawn with: text that fits its row, buttons, marks, the live value.

pub mod arrows;
pub mod button;
pub mod figures;
pub mod lines;
pub mod marks;
pub mod picture;
pub mod shape;
pub mod signs;
pub mod text;
