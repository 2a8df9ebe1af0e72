//! What a reading should be near, and how far off it may be.

/// What the display should show.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shows {
    /// The value expected on the display, in the base unit.
    pub value: f64,
    /// How far a value may be from it without a question.
    pub allow: f64,
}
