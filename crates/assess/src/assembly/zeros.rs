//! The zeros found by reversal, and whether one moved within its round.

use crate::history::Fold;
use crate::parts::Values;
use crate::view::ZeroView;
use numerics::dist;
use std::collections::BTreeMap;

/// Probability below which zeros of one round count as having moved.
const MOVED: f64 = 0.01;

/// One view for each instrument and round with reversal pairs.
#[expect(clippy::cast_precision_loss, reason = "a few pairs")]
pub fn zeros(fold: &Fold<'_>, values: &Values) -> Vec<ZeroView> {
    let mut groups: BTreeMap<(String, u32), Vec<(f64, f64)>> = BTreeMap::new();
    for (point, measured) in values {
        let Some(zero) = measured.zero else { continue };
        let Some(last) = fold.points.get(point).and_then(|f| f.used.last()) else { continue };
        let name = last.reading.instrument.clone().unwrap_or_else(|| "not stated".to_owned());
        groups.entry((name, last.reading.round)).or_default().push(zero);
    }
    groups
        .into_iter()
        .map(|((instrument, round), zeros)| {
            let weight: f64 = zeros.iter().map(|(_, u)| 1.0 / (u * u)).sum();
            let mean = zeros.iter().map(|(z, u)| z / (u * u)).sum::<f64>() / weight;
            let chi2: f64 = zeros.iter().map(|(z, u)| (z - mean) * (z - mean) / (u * u)).sum();
            let dof = zeros.len() as f64 - 1.0;
            let most = zeros.iter().map(|z| z.0).fold(f64::NEG_INFINITY, f64::max);
            let least = zeros.iter().map(|z| z.0).fold(f64::INFINITY, f64::min);
            ZeroView {
                instrument,
                round,
                pairs: zeros.len(),
                zero_deg: mean,
                u_deg: libm::sqrt(1.0 / weight),
                spread_deg: most - least,
                moved: dof > 0.0 && dist::chi2_sf(chi2, dof) < MOVED,
            }
        })
        .collect()
}
