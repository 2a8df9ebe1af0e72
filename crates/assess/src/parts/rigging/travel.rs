//! Travel of a control from what a level shows at its end and at neutral, or from a length at the trailing edge.

use super::RigFault;
use crate::estimate::Estimate;
use numerics::rigging::travel::{By, Hinge, Laid};
use record::PointKind;
use record::plan::{Control, LengthBy, RigCheck, TravelBy};

/// Half step for the numerical slope, in the unit of the reading.
const STEP: f64 = 1e-4;

/// The travel, positive toward its own side.
pub fn travel(
    control: &Control,
    check: &RigCheck<'_>,
    end: &Estimate,
    neutral: Option<&Estimate>,
) -> Result<Estimate, RigFault> {
    let down = check.points.first().is_some_and(|p| p.kind() == PointKind::TravelDown);
    match control.by {
        TravelBy::Level { laid, hinge_sweep, hinge_dihedral } => {
            let sign = if down { -1.0 } else { 1.0 };
            let neutral = neutral.ok_or(RigFault::NoNeutral)?;
            let hinge = Hinge { sweep: hinge_sweep.to_radians(), dihedral: hinge_dihedral.to_radians() };
            let laid = match laid {
                record::plan::Laid::Square => Laid::Square,
                record::plan::Laid::ForeAft => Laid::ForeAft,
            };
            let turned = |shown: f64| {
                hinge.turned(laid, shown.to_radians()).map(f64::to_degrees).ok_or(RigFault::NeverShown)
            };
            let (at, from) = (end.value, neutral.value);
            let value = turned(at)? - turned(from)?;
            let parts = [(sign * slope(turned, at)?, end), (-sign * slope(turned, from)?, neutral)];
            Ok(Estimate::propagate(sign * value, &parts))
        }
        // A length says how far, whichever way it goes.
        TravelBy::Length { by, chord } => {
            let by = match by {
                LengthBy::Chord => By::Chord,
                LengthBy::Sine => By::Sine,
                LengthBy::Arc => By::Arc,
                LengthBy::Tangent => By::Tangent,
            };
            let turned =
                |length: f64| by.travel(length, chord.value()).map(f64::to_degrees).ok_or(RigFault::NoTravel);
            let value = turned(end.value)?;
            Ok(Estimate::propagate(value, &[(slope(turned, end.value)?, end)]))
        }
    }
}

fn slope(of: impl Fn(f64) -> Result<f64, RigFault>, at: f64) -> Result<f64, RigFault> {
    Ok((of(at + STEP)? - of(at - STEP)?) / (2.0 * STEP))
}
