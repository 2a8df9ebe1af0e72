//! How each kind of point is measured, with its sign, for a person who has never done it. Common practice, no source.

mod rigging;

use super::{Place, PointKind};

/// How a kind of point is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Explained {
    /// How to measure it.
    pub how: &'static str,
    /// What is positive.
    pub sign: &'static str,
    /// Values as they are typed.
    pub typed: &'static str,
}

const BOTH_WAYS: &str = "Read it; turn the instrument end for end on the same spot; read it again (aft).";
const ANGLES: &str = "2.15   2°09'   37.5 mm/m   1:26.6";
const LENGTHS: &str = "954.2   95.42 cm   37 9/16 in   37.566 in";

impl PointKind {
    /// What stands after the `@`: the place, and for the rigged aeroplane what is measured there.
    #[must_use]
    pub const fn place_word(self) -> &'static str {
        match self.row().place {
            Place::Post => "POST",
            Place::Diagonal => "DIAGONAL",
            Place::Station => "STATION",
            Place::Spar => "SPAR:STATION",
            Place::Bush => "BUSH",
            Place::Spot => "SPOT",
            Place::Rig => match self {
                Self::Pitch | Self::Roll => "FUSELAGE",
                Self::Neutral | Self::TravelUp | Self::TravelDown | Self::Play => "CONTROL",
                Self::Tension => "CABLE",
                Self::Drag | Self::Torque => "BOLT",
                Self::Distance => "DISTANCE",
                _ => "PART",
            },
        }
    }

    /// How this kind is measured.
    #[must_use]
    pub fn explained(self) -> Explained {
        let (how, sign, typed) = match self.word() {
            "level" => (
                "Lay the level along the span on the post or rail. Forward: its arrow points outboard. Read; turn it end for end on the \
                 same spot; read (aft).",
                "Outboard end up is +. Type what the level shows: the facing turns the sign, not you.",
                ANGLES,
            ),
            "cross" => (
                "Lay the level fore and aft on the post or rail. Forward: its arrow points to the leading edge. Read; turn it end for \
                 end on the same spot; read (aft).",
                "Leading edge up is +. Type what the level shows: the facing turns the sign, not you.",
                ANGLES,
            ),
            "diagonal" => (
                "Measure from corner to opposite corner of the bay, between the same two marks as the plan's sides, the tape straight \
                 and pulled as it was calibrated. Both diagonals, one after the other.",
                "A length, always above zero. Their difference shows the angle out of square.",
                LENGTHS,
            ),
            "spacing" => (
                "Measure along the span from the root datum to the station's rib, not from rib to rib: hook the tape at the datum once \
                 and read every station. Type the part's temperature with --temp to have it taken to 20 °C.",
                "Outboard is +. At a station on the root datum it is 0.",
                LENGTHS,
            ),
            "offset" => (
                "Stretch a line along the spar, clear of it, and measure from the line to the spar at each station, always on the same \
                 side and to the same edge. The straight through the ends is taken out, so the line need not be parallel.",
                "Aft or up of the line is +, by the direction of the plan's [[line]].",
                LENGTHS,
            ),
            "walk" => (
                "Walk a level along the spar from the root, its feet from one station to the next. The reading belongs to the outboard \
                 station of the step. Forward: its arrow points outboard.",
                "Outboard end up is +. The facing turns the sign, not you.",
                ANGLES,
            ),
            "incidence" => (
                "Lay the level on the rib's datum marks. Forward: its arrow points to the leading edge. Read; turn it end for end on the \
                 same marks; read (aft).",
                "Nose up is +. Type what it shows. For a rib 2° nose up, forward shows +2.00 and aft -2.00: the facing turns the sign, \
                 not you.",
                ANGLES,
            ),
            "height" => (
                "Measure up from one common datum (a levelled table, a laser, a water level) to the spar at the station. Twist comes \
                 from front - rear, so both spars of a station are measured from the same datum.",
                "Up is +.",
                LENGTHS,
            ),
            "plumb" => (
                "Wing on edge. Hang the line on the lower-surface side (or the side that the plan's plumb_side names), clear of the \
                 wing, and measure level from the line to the web of each spar. Twist comes from front - rear.",
                "From a line on the lower-surface side, away from it and toward the upper surface is +. With plumb_side = \"upper\" the \
                 program turns the sign; type every distance as it is.",
                LENGTHS,
            ),
            "bore" => (
                "Measure the bush's bore, in two directions at a right angle, and type the smaller one.",
                "A diameter, always above zero.",
                LENGTHS,
            ),
            "bore-aft" => (
                "Measure the centre of the bush fore and aft from one common datum: a stretched wire, a straight edge, a telescope. Any \
                 datum will do, the same for every bush.",
                "Aft is +.",
                LENGTHS,
            ),
            "bore-up" => (
                "Measure the centre of the bush up and down from one common datum: a stretched wire, a straight edge, a telescope. Any \
                 datum will do, the same for every bush.",
                "Up is +.",
                LENGTHS,
            ),
            "spot" => (
                "Measure it as the maker's data say. A torque is an event: the last one counts. Anything else is a state: readings of it \
                 must agree.",
                "As its limits in the plan.",
                "9.4   84 in-lb   0.12   5/64 in   21 °C",
            ),
            word => return rigging::rigged(word).unwrap_or_else(|| self.by_its_row()),
        };
        Explained { how, sign, typed }
    }

    /// What follows from the row alone.
    fn by_its_row(self) -> Explained {
        let row = self.row();
        let typed = match row.quantity {
            Some(quantity::Kind::Angle) => ANGLES,
            Some(quantity::Kind::Length) => LENGTHS,
            _ => "a value with its unit",
        };
        let how = if self.reverses() { BOTH_WAYS } else { "Measure it as the maker's data say." };
        Explained { how, sign: "As its words say.", typed }
    }
}
