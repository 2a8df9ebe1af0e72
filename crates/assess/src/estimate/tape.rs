//! A tape under pull, hanging free: its corrections, and the uncertainty of the pull.

use super::{Estimate, Shared};
use crate::history::Used;
use crate::sound::{TapeFault, Unusable};
use numerics::rigging::tape::{MOST, Stretch, pull, sag, weight};
use record::Point;
use record::plan::Plan;

/// Corrects a distance for the tape's pull and sag if the plan says how it is held. The uncertainty of the pull is
/// one error for all distances taken with that tape: in left against right it nearly cancels.
///
/// # Errors
/// If the plan says how the tape is held, but its behaviour under that is unknown.
pub fn hold(plan: &Plan, point: &Point, used: &[Used], estimate: &mut Estimate) -> Result<(), Unusable> {
    let (Some(held), Some(last)) = (plan.tape_at(point), used.last()) else { return Ok(()) };
    let not = |why| Unusable::Tape { entry: last.seq, why };
    let facts = last.facts.as_deref().and_then(|f| f.tape);
    let facts = facts.ok_or_else(|| not(TapeFault::NoPull))?;
    let length = estimate.value;
    let (Some(section), Some(modulus)) = (facts.section, facts.modulus) else {
        return Err(not(TapeFault::NoStretch));
    };
    let stretch = Stretch { standard: facts.pull, stiffness: section * modulus };
    let mut correction = pull(stretch, length, held.pull);
    let mut per_newton = length / stretch.stiffness;
    if held.spans > 0 {
        let mass = facts.mass.ok_or_else(|| not(TapeFault::NoMass))?;
        let span = length / f64::from(held.spans);
        let sagged = sag(weight(mass), [span], held.pull) * f64::from(held.spans);
        correction += sagged;
        per_newton -= 2.0 * sagged / held.pull;
    }
    // Also false if the length is not a number.
    let bearable = correction.abs() <= MOST * length.abs();
    if !bearable {
        return Err(not(TapeFault::TooMuch));
    }
    estimate.value += correction;
    if held.within > 0.0 {
        let error = Shared::Pull(last.reading.instrument.clone().unwrap_or_default());
        estimate.shared.insert(error, per_newton * held.within / libm::sqrt(3.0));
    }
    Ok(())
}
