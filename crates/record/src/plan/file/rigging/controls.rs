//! Reads control surfaces.

use super::super::checks::Names;
use super::super::limits::tolerance;
use super::super::mistake::Table;
use crate::Limits;
use crate::plan::{Control, Fuselage, Laid, LengthBy, TravelBy};
use quantity::Kind;

/// Steepest hinge.
const STEEPEST: f64 = 80.0;

pub fn control(t: &Table<'_, '_>, fuselage: Option<&Fuselage>, names: &mut Names<'_>) -> Option<Control> {
    let name = names.take("control", t.name("name"));
    let laid = t.word("laid", &Laid::WORDS);
    let hinge = |key: &'static str| {
        let angle = t.quantity(key, Kind::Angle).unwrap_or(0.0);
        if angle.abs() > STEEPEST {
            t.refuse(key, "between -80° and 80°");
        }
        angle
    };
    let (hinge_sweep, hinge_dihedral) = (hinge("hinge_sweep"), hinge("hinge_dihedral"));
    let chord = t.positive_length("chord");
    let by = t.word("by", &LengthBy::WORDS);
    let by = match (t.has("laid"), t.has("by"), t.has("chord")) {
        (true, false, false) => laid.map(|laid| TravelBy::Level { laid, hinge_sweep, hinge_dihedral }),
        (false, true, true) => by.zip(chord).map(|(by, chord)| TravelBy::Length { by, chord }),
        _ => {
            t.missing(
                "laid",
                "say how travel is read: laid = \"square\" or \"fore-aft\" for a level, or by = \"chord\" (sine, arc, tangent) and \
                 chord = 250.0 for a length",
            );
            None
        }
    };
    if let Some(TravelBy::Length { .. }) = by {
        for key in ["hinge_sweep", "hinge_dihedral"] {
            t.unused(
                key,
                "left out unless a level is used: a length at the trailing edge is square to the hinge",
            );
        }
    }
    // A symmetric tolerance is not a limit of a travel: no travel would be too small for it.
    let travel = |key: &'static str| {
        let limits = tolerance(t, key, Kind::Angle)?;
        let most = limits.upper.or(limits.lower);
        if limits.lower.or(limits.upper).is_some_and(|least| least <= 0.0)
            || most.is_some_and(|most| most > 180.0)
        {
            t.refuse(key, "limits above zero and up to 180°, as { lower = 19, upper = 21 }");
        }
        Some(limits)
    };
    let (up, down) = (travel("up"), travel("down"));
    let neutral = tolerance(t, "neutral", Kind::Angle);
    match by {
        Some(TravelBy::Length { .. }) => {
            t.refuse("neutral", "left out beside by = and chord =: a length counts from neutral");
        }
        Some(TravelBy::Level { laid: Laid::Square, hinge_sweep, .. }) if fuselage.is_some() && hinge_sweep != 0.0 => t
            .refuse(
                "neutral",
                "left out, or laid = \"fore-aft\": square to a swept hinge, the level also shows part of the fuselage's roll",
            ),
        _ => {}
    }
    let play = t.positive("play", Kind::Length).map(Limits::at_most);
    Some(Control { name: name?, by: by?, neutral, up, down, play })
}
