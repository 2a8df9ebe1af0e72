//! What is believed of the unknowns before a wing's own moves: the general belief, or what earlier wings did.

/// Independent normals for share, bow and what supports do to each other, in the order of [`super::belief`].
#[derive(Clone, Debug, PartialEq)]
pub struct Prior {
    /// Their means.
    pub mean: Vec<f64>,
    /// Their variances.
    pub variance: Vec<f64>,
}

/// An unknown that belongs to two supports, by their places in the plan's list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pair {
    /// Its place among the unknowns.
    pub unknown: usize,
    /// The support that is carried along.
    pub carried: usize,
    /// The support that moves.
    pub moved: usize,
}

/// What a mm at a support does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PerMm {
    /// The support, by its place in the plan's list.
    pub support: usize,
    /// True where it is the twist between root and tip that it moves; else the setting.
    pub twists: bool,
    /// In degrees.
    pub deg_per_mm: f64,
    /// Its standard uncertainty.
    pub u: f64,
    /// Over what geometry says.
    pub factor: f64,
}

impl Prior {
    /// The same with every variance this many times as large.
    #[must_use]
    pub fn widened(&self, by: f64) -> Self {
        Self { mean: self.mean.clone(), variance: self.variance.iter().map(|v| v * by).collect() }
    }
}
