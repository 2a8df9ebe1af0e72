//! `travel`: how far a control surface turns, from a level on it or from a length at its trailing edge.

use super::table::{given, unit_written};
use crate::exit::Exit;
use crate::refusal::Refusal;
use crate::show::Show;
use crate::view::wrap::wrap;
use crate::words::{Word, one_of};
use clap::Args;
use numerics::rigging::travel::{By, Hinge, Laid};
use quantity::shown::{signed, step_decimals};
use quantity::{Kind, Units};
use serde::Serialize;
use session::SessionError;

/// A steeper hinge is a typing slip.
const STEEPEST: f64 = 80.0;

/// How the level lies on the surface.
const LAID: [Word<Laid>; 2] = [
    ("square", Laid::Square, "Square to the hinge"),
    ("fore-aft", Laid::ForeAft, "In line with the aeroplane"),
];

const LENGTHS: [Word<By>; 4] = [
    ("chord", By::Chord, "Straight from the trailing edge at neutral to where it is now"),
    ("sine", By::Sine, "From the trailing edge now, square to the line of the chord at neutral"),
    ("arc", By::Arc, "Along the circle the trailing edge runs on"),
    (
        "tangent",
        By::Tangent,
        "From the trailing edge at neutral, square to the chord there, to the line of the chord now",
    ),
];

#[derive(Debug, Args)]
#[command(
    after_long_help = "A level shows the trailing edge up as positive; so is travel up. Sweep is positive where the outboard end \
    of the hinge lies aft, dihedral where it lies high (what a level along the hinge shows). Fuselage level first, or take off \
    what it shows."
)]
pub struct Travel {
    /// What the level shows (19.5, 19°30'), or with --chord the length at the trailing edge (85 mm, 3 3/8 in)
    #[arg(allow_hyphen_values = true)]
    reading: String,
    /// What the level shows with the surface at neutral [default: 0]
    #[arg(long, value_name = "N", conflicts_with = "chord", allow_hyphen_values = true)]
    neutral: Option<String>,
    /// Sweep of the hinge line in plan [default: 0]
    #[arg(long, value_name = "S", conflicts_with = "chord", allow_hyphen_values = true)]
    hinge_sweep: Option<String>,
    /// Dihedral of the hinge line [default: 0]
    #[arg(long, value_name = "G", conflicts_with = "chord", allow_hyphen_values = true)]
    hinge_dihedral: Option<String>,
    /// How the level lies on the surface
    #[arg(long, value_parser = one_of(&LAID), required_unless_present = "chord", conflicts_with = "chord")]
    laid: Option<Laid>,
    /// Length of the chord behind the hinge, to where the length is measured
    #[arg(long, value_name = "C", requires = "by")]
    chord: Option<String>,
    /// What the length is
    #[arg(long, value_parser = one_of(&LENGTHS), requires = "chord", conflicts_with = "laid")]
    by: Option<By>,
}

#[derive(Serialize)]
struct Answer {
    /// Null if it cannot be judged.
    travel_deg: Option<f64>,
    /// Why there is no travel, if there is none.
    cannot_judge: Option<&'static str>,
    #[serde(skip)]
    decimals: usize,
    /// The units of what was typed.
    #[serde(skip)]
    units: Units,
}

impl Travel {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let answer = match (self.laid, &self.chord, self.by) {
            (_, Some(chord), Some(by)) => self.by_length(chord, by)?,
            (Some(laid), _, _) => self.by_level(laid)?,
            _ => return Err(Refusal::HowLaid.into()),
        };
        let angle = show.units(answer.units).scale(Kind::Angle);
        let text = || match answer.travel_deg {
            None => wrap("", &format!("cannot be judged: {}", answer.cannot_judge.unwrap_or_default())),
            Some(travel) => {
                let number = signed(travel, answer.decimals);
                let way = match number.as_bytes().first() {
                    Some(b'+') => ", trailing edge up",
                    Some(b'-') => ", trailing edge down",
                    _ => "",
                };
                format!("travel {}{way}", angle.signed_with(travel, answer.decimals))
            }
        };
        show.answer(text, &answer)?;
        Ok(if answer.travel_deg.is_some() { Exit::Done } else { Exit::Open })
    }

    fn by_level(&self, laid: Laid) -> Result<Answer, SessionError> {
        let angle = |what: &str, text: Option<&str>, most: f64| {
            let value = text.map_or(Ok(0.0), |t| given(what, t, Kind::Angle).map(|t| t.amount.base()))?;
            if value.abs() > most {
                return Err(SessionError::from(Refusal::Steep { what: what.to_owned(), most }));
            }
            Ok(value.to_radians())
        };
        let shown = angle("what the level shows", Some(&self.reading), 90.0)?;
        let neutral = angle("neutral", self.neutral.as_deref(), 90.0)?;
        let hinge = Hinge {
            sweep: angle("hinge sweep", self.hinge_sweep.as_deref(), STEEPEST)?,
            dihedral: angle("hinge dihedral", self.hinge_dihedral.as_deref(), STEEPEST)?,
        };
        let typed = given("what the level shows", &self.reading, Kind::Angle)?;
        let travel = hinge.travel(laid, neutral, shown);
        Ok(answer(
            travel,
            typed.resolution,
            Units::INSIDE.with(typed.unit),
            "on this hinge, a level laid this way never shows that; check reading, neutral and dihedral",
        ))
    }

    fn by_length(&self, chord: &str, by: By) -> Result<Answer, SessionError> {
        let length = given("the length", &self.reading, Kind::Length)?;
        if unit_written(chord) != unit_written(&self.reading) {
            return Err(Refusal::ChordUnits.into());
        }
        let chord = given("chord", chord, Kind::Length)?.amount.base();
        if chord <= 0.0 {
            return Err(Refusal::Chord.into());
        }
        let step = (length.resolution / chord).to_degrees();
        let travel = by.travel(length.amount.base(), chord);
        Ok(answer(
            travel,
            step,
            Units::INSIDE,
            "with this chord, no travel gives this length; check both, and what --by says",
        ))
    }
}

fn answer(travel: Option<f64>, step: f64, units: Units, why: &'static str) -> Answer {
    Answer {
        travel_deg: travel.map(f64::to_degrees),
        cannot_judge: travel.is_none().then_some(why),
        decimals: step_decimals(step).clamp(1, 4),
        units,
    }
}
