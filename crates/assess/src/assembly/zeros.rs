//! The zeros found by reversal, for each round.

use super::Taken;
use crate::estimate::Zero;
use crate::parts::Values;
use crate::view::ZeroView;
use numerics::dist;
use std::collections::BTreeMap;

/// The zeros of one instrument in one round, and the probability that they differ this much by chance.
pub struct RoundZero {
    pub view: ZeroView,
    pub p: f64,
}

/// One entry for each instrument and round with reversal pairs.
pub fn zeros(taken: &Taken<'_>, values: &Values) -> Vec<RoundZero> {
    let mut groups: BTreeMap<(String, u32), Vec<Zero>> = BTreeMap::new();
    for (point, measured) in values {
        let Some(zero) = measured.zero else { continue };
        let Some(last) = taken.get(point).and_then(|f| f.used.last()) else { continue };
        let name = last.reading.instrument.clone().unwrap_or_else(|| "not stated".to_owned());
        groups.entry((name, last.reading.round)).or_default().push(zero);
    }
    groups
        .into_iter()
        .map(|((instrument, round), zeros)| {
            let weight: f64 = zeros.iter().map(|z| 1.0 / (z.u * z.u)).sum();
            let mean = zeros.iter().map(|z| z.value / (z.u * z.u)).sum::<f64>() / weight;
            let chi2: f64 = zeros.iter().map(|z| (z.value - mean) * (z.value - mean) / (z.u * z.u)).sum();
            let dof = zeros.len() as f64 - 1.0;
            let most = zeros.iter().map(|z| z.value).fold(f64::NEG_INFINITY, f64::max);
            let least = zeros.iter().map(|z| z.value).fold(f64::INFINITY, f64::min);
            RoundZero {
                p: if dof > 0.0 { dist::chi2_sf(chi2, dof) } else { 1.0 },
                view: ZeroView {
                    instrument,
                    round,
                    pairs: zeros.len(),
                    zero_deg: mean,
                    u_deg: libm::sqrt(1.0 / weight),
                    spread_deg: most - least,
                    moved: false,
                },
            }
        })
        .collect()
}
