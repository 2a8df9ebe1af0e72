//! How the points of the rigged aeroplane are measured. Common practice, no source.

use super::{ANGLES, Explained, LENGTHS};

const TORQUES: &str = "36.0   318 in-lb   26.5 ft-lb";

/// How a kind of point of the rigged aeroplane is measured, by its word.
pub(super) fn rigged(word: &str) -> Option<Explained> {
    let (how, sign, typed) = match word {
        "pitch" => (
            "Lay the level fore and aft on the fuselage's levelling points. Forward: its arrow points to the nose. Read; turn it end for \
             end; read (aft). Its tilt is taken off every angle of the aeroplane.",
            "Nose up is +. The facing turns the sign, not you.",
            ANGLES,
        ),
        "roll" => (
            "Lay the level across the fuselage's levelling points. Forward: its arrow points to the right. Read; turn it end for end; \
             read (aft). Its tilt is taken off every angle of the aeroplane.",
            "Right side up is +. The facing turns the sign, not you.",
            ANGLES,
        ),
        "dihedral" => (
            "Lay the level along the span where the type's data say. Forward: its arrow points outboard. Read; turn it end for end; read \
             (aft).",
            "Outboard end up is +, on either side. The facing turns the sign, not you.",
            ANGLES,
        ),
        "rise" => (
            "Take the heights of the two marks that the plan's base lies between, by a level line, a water level or a rule from the same floor, \
             and type the outer one's less the inner one's.",
            "Outboard end up is +, on either side.",
            LENGTHS,
        ),
        "rig-incidence" => (
            "Lay the level, or the board that the type's data give, along the section. Forward: its arrow points to the leading edge. \
             Read; turn it end for end; read (aft).",
            "Nose up is +. The facing turns the sign, not you.",
            ANGLES,
        ),
        "upright" => (
            "Lay the level against the fin or post. Read it; turn it end for end on the same place; read it again (aft).",
            "The top leaning to the right is +. The facing turns the sign, not you.",
            ANGLES,
        ),
        "sweep" => (
            "Hang two plumb lines from the leading edge, as far apart as the plan's base, and measure how far aft of a line across the \
             aeroplane through the inner one the outer one hangs.",
            "Aft is +.",
            LENGTHS,
        ),
        "distance" => (
            "Measure between the two marks with the tape straight and pulled as it was calibrated. Left and right one after the other.",
            "A length, always above zero.",
            LENGTHS,
        ),
        "neutral" => (
            "Hold the control at neutral by its pin or mark and read the surface. For a surface with a chord in the plan it is a length.",
            "Trailing edge up (a rudder's to the left) is +.",
            ANGLES,
        ),
        "travel-up" => (
            "Move the surface to its stop up (a rudder's to the left) and read it with the same level on the same place as at neutral; or \
             the length at the trailing edge, where the plan has a chord.",
            "As the level shows it; what counts is its distance from neutral.",
            "19.5   19°30'   52.0 mm",
        ),
        "travel-down" => (
            "Move the surface to its stop down (a rudder's to the right) and read it with the same level on the same place as at neutral; \
             or the length at the trailing edge, where the plan has a chord.",
            "As the level shows it; what counts is its distance from neutral.",
            "-14.5   14°30'   40.0 mm",
        ),
        "play" => (
            "Lock the control and move the trailing edge by hand from one end of its free play to the other, without force.",
            "A length, zero or more.",
            LENGTHS,
        ),
        "tension" => (
            "Clip the tensiometer on the cable, clear of fittings and pulleys. Type the temperature beside it with --temp, where the plan \
             has a chart.",
            "A force, always above zero.",
            "60 lbf   267 N   27.2 kgf",
        ),
        "drag" => (
            "Run the nut down by the wrench straight on it, without the extension, and read what it takes before it seats.",
            "A torque, zero or more.",
            TORQUES,
        ),
        "torque" => (
            "Tighten with the wrench and type what it shows; the plan's lever and extension, and its rule for the drag, are allowed for.",
            "A torque, always above zero. The last one counts.",
            TORQUES,
        ),
        _ => return None,
    };
    Some(Explained { how, sign, typed })
}
