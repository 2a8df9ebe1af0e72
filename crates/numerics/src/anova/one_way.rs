//! Groups of repeats, which may differ in size.

use super::{AnovaError, Component, Exact, Source, whole};
use crate::dd::Dd;

/// One-way analysis of variance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OneWay {
    /// Mean of all values.
    pub mean: f64,
    /// Between the groups.
    pub between: Source,
    /// Within the groups.
    pub within: Source,
    /// Standard deviation within the groups: repeatability.
    pub residual_sd: f64,
    /// Variance of the groups' true means.
    pub between_component: Component,
}

/// Analyses groups of values.
///
/// # Errors
/// See [`AnovaError`].
pub fn one_way(groups: &[Vec<Dd>]) -> Result<OneWay, AnovaError> {
    if groups.len() < 2 {
        return Err(AnovaError::TooFewGroups);
    }
    if let Some(i) = groups.iter().position(Vec::is_empty) {
        return Err(AnovaError::EmptyGroup(i));
    }
    let count: usize = groups.iter().map(Vec::len).sum();
    if count == groups.len() {
        return Err(AnovaError::NoRepeats);
    }
    let mean = groups.iter().flatten().copied().sum::<Dd>() / whole(count);
    let (mut between, mut within, mut sizes) = (Dd::ZERO, Dd::ZERO, Dd::ZERO);
    for group in groups {
        let size = whole(group.len());
        let own = group.iter().copied().sum::<Dd>() / size;
        between += size * (own - mean).square();
        within += group.iter().map(|v| (*v - own).square()).sum();
        sizes += size.square();
    }
    let between = Exact { dof: groups.len() - 1, squares: between };
    let within = Exact { dof: count - groups.len(), squares: within };
    // The size of a group; if sizes differ, the effective size.
    let size = (whole(count) - sizes / whole(count)) / whole(between.dof);
    Ok(OneWay {
        mean: mean.to_f64(),
        between: between.source(),
        within: within.source(),
        residual_sd: within.mean().sqrt().to_f64(),
        between_component: Component::new(((between.mean() - within.mean()) / size).to_f64()),
    })
}
