//! What a wing's last profile in the jig says about the twist at a station.

use super::RigFault;
use crate::estimate::{Estimate, Shared};
use record::JigStation;

/// The incidence at a station less that at another, both from one profile; shared errors cancel.
///
/// # Errors
/// If the profile lacks one of them or has impossible figures.
pub fn jig_twist(wing: &str, profile: &[JigStation], from: &str, at: &str) -> Result<Estimate, RigFault> {
    let station = |name: &str| {
        let (of, station) = (wing.to_owned(), name.to_owned());
        match profile.iter().find(|s| s.name == name) {
            Some(found) => estimate(wing, found).ok_or(RigFault::Station { wing: of, station }),
            None => Err(RigFault::NoStation { wing: of, station }),
        }
    };
    let (from, at) = (station(from)?, station(at)?);
    Ok(Estimate::propagate(at.value - from.value, &[(1.0, &at), (-1.0, &from)]))
}

fn estimate(wing: &str, s: &JigStation) -> Option<Estimate> {
    let shared = s.shared.iter().map(|e| (Shared::Jig(wing.to_owned(), e.error.clone()), e.deg));
    let found = Estimate { value: s.incidence_deg, own: s.own_deg, lasting: 0.0, shared: shared.collect() };
    // No measurement is exact.
    let sound = found.own > 0.0 && found.u().is_finite() && found.value.abs() <= 90.0;
    sound.then_some(found)
}
