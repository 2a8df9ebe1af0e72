//! The belief about the unknowns before a wing's own moves: in general, or from earlier wings.

/// Independent normals for share, bow and the effects between supports, in the order of [`super::belief`].
#[derive(Clone, Debug, PartialEq)]
pub struct Prior {
    /// Their means.
    pub mean: Vec<f64>,
    /// Their variances.
    pub variance: Vec<f64>,
}

/// An unknown of a pair of supports, by their positions in a list: the plan's, unless it is said otherwise.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pair {
    /// Its position among the unknowns.
    pub unknown: usize,
    /// The support that is carried along.
    pub carried: usize,
    /// The support that moves.
    pub moved: usize,
}

/// What a mm at a support does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PerMm {
    /// The support, by its position in the plan's list.
    pub support: usize,
    /// Whether it changes the twist between root and tip; otherwise the setting.
    pub twists: bool,
    /// Degrees per mm.
    pub deg_per_mm: f64,
    /// Its standard uncertainty.
    pub u: f64,
    /// Divided by what geometry says.
    pub factor: f64,
}

impl Prior {
    /// The same with every variance multiplied by this.
    #[must_use]
    pub fn widened(&self, by: f64) -> Self {
        Self { mean: self.mean.clone(), variance: self.variance.iter().map(|v| v * by).collect() }
    }
}
