//! `tape`: corrects what a steel tape shows for pull, sag and temperature.

use crate::exit::Exit;
use crate::refusal::Refusal;
use crate::show::Show;
use clap::Args;
use numerics::lengths::to_reference;
use numerics::rigging::tape::{MOST, Stretch, pull, sag, weight};
use quantity::shown::K95;
use quantity::{Kind, Typed, Units, typed};
use serde::Serialize;
use session::SessionError;

/// The temperature at which lengths are stated (ISO 1), °C.
const REFERENCE: f64 = 20.0;
/// Largest expansion, per kelvin.
const EXPANSION: f64 = 1e-3;

#[derive(Debug, Args)]
#[command(
    after_long_help = "Each part is added to what the tape shows: (P - P0) L / (A E) for its pull, -w^2 L^3 / (24 P^2) for each free span, its \
    temperature against 20 °C. With --part-expansion the answer is the part's length at 20 °C, otherwise its length now.\n\nThe \
    tape's data sheet says pull, mass, section, modulus and expansion. In left against right, most of the correction cancels."
)]
pub struct Tape {
    /// What the tape shows: 4500, "177 3/16 in"
    reading: String,
    /// The pull on it: "50 N", "12 lbf"
    #[arg(long, value_name = "P")]
    pull: Option<String>,
    /// Limit of error of the pull: gives the answer its ±
    #[arg(long, value_name = "P", requires = "pull")]
    pull_within: Option<String>,
    /// The pull at which the tape reads true
    #[arg(long, value_name = "P0", requires = "pull", requires = "section")]
    right_at: Option<String>,
    /// Its section in mm²
    #[arg(long, value_name = "A", requires = "modulus", requires = "right_at")]
    section: Option<f64>,
    /// Its modulus of elasticity in N/mm²
    #[arg(long, value_name = "E", requires = "section")]
    modulus: Option<f64>,
    /// Its mass in g a metre
    #[arg(long, value_name = "M", requires = "spans", requires = "pull")]
    mass: Option<f64>,
    /// Equal spans over which it hangs free; 0 if it lies on something all along
    #[arg(long, value_name = "N", requires = "mass")]
    spans: Option<u32>,
    /// Its temperature
    #[arg(long, value_name = "T", requires = "expansion", allow_hyphen_values = true)]
    temperature: Option<String>,
    /// Its expansion per kelvin: 11.5e-6
    #[arg(long, value_name = "X", requires = "temperature")]
    expansion: Option<f64>,
    /// Expansion of the measured part, at the tape's temperature
    #[arg(long, value_name = "X", requires = "expansion")]
    part_expansion: Option<f64>,
}

#[derive(Serialize)]
struct Answer {
    reading_mm: f64,
    /// The correction for the pull; null if it is not given.
    pull_mm: Option<f64>,
    sag_mm: Option<f64>,
    temperature_mm: Option<f64>,
    correction_mm: f64,
    length_mm: f64,
    /// Standard uncertainty from the limit of the pull.
    length_u_mm: Option<f64>,
}

impl Tape {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let reading = read("what the tape shows", &self.reading, Kind::Length)?;
        let answer = self.answer(above_zero("what the tape shows", reading.amount.base())?)?;
        let units = show.units(Units::INSIDE.with(reading.unit));
        show.done(|| text(&answer, units), &answer)
    }

    fn answer(&self, length: f64) -> Result<Answer, SessionError> {
        if self.right_at.is_none() && self.mass.is_none() && self.temperature.is_none() {
            return Err(Refusal::NothingOfTheTape.into());
        }
        let force = |what: &str, text: &Option<String>| {
            text.as_deref().map(|t| above_zero(what, read(what, t, Kind::Force)?.amount.base())).transpose()
        };
        let (held, right_at) =
            (force("the pull", &self.pull)?, force("the pull at which it reads true", &self.right_at)?);
        let within = force("the limit of the pull", &self.pull_within)?;
        if within.zip(held).is_some_and(|(within, held)| within >= held) {
            return Err(Refusal::NoPull.into());
        }
        let mut per_newton = 0.0;
        let mut pull_mm = None;
        if let (Some(held), Some(standard), Some(section), Some(modulus)) =
            (held, right_at, self.section, self.modulus)
        {
            let stiffness = above_zero("the section", section)? * above_zero("the modulus", modulus)?;
            pull_mm = Some(pull(Stretch { standard, stiffness }, length, held));
            per_newton += length / stiffness;
        }
        let mut sag_mm = None;
        if let (Some(held), Some(mass), Some(spans)) = (held, self.mass, self.spans) {
            let (mass, spans) = (above_zero("the mass", mass)?, f64::from(spans));
            // As in a plan: without a free span it lies on something all along.
            let hangs = if spans > 0.0 { sag(weight(mass), [length / spans], held) * spans } else { 0.0 };
            sag_mm = Some(hangs);
            per_newton -= 2.0 * hangs / held;
        }
        let mut temperature_mm = None;
        if let (Some(temperature), Some(of_tape)) = (&self.temperature, self.expansion) {
            let above = read("the temperature", temperature, Kind::Temperature)?.amount.base() - REFERENCE;
            let of_tape = expansion("the tape's expansion", of_tape)?;
            let of_part = expansion("the part's expansion", self.part_expansion.unwrap_or(0.0))?;
            temperature_mm = Some(length * (to_reference(of_tape, of_part, above) - 1.0));
        }
        let correction_mm = [pull_mm, sag_mm, temperature_mm].into_iter().flatten().sum::<f64>();
        // Also false if it is not a number.
        let bearable = correction_mm.abs() <= MOST * length;
        if !bearable {
            return Err(Refusal::FarOff.into());
        }
        Ok(Answer {
            reading_mm: length,
            pull_mm,
            sag_mm,
            temperature_mm,
            correction_mm,
            length_mm: length + correction_mm,
            length_u_mm: within
                .filter(|_| per_newton > 0.0)
                .map(|within| per_newton * within / libm::sqrt(3.0)),
        })
    }
}

fn read(what: &str, text: &str, kind: Kind) -> Result<Typed, SessionError> {
    let read = typed(text, kind);
    Ok(read.map_err(|why| Refusal::GivenAs { what: what.to_owned(), text: text.to_owned(), why })?)
}

/// A number that must be above zero.
fn above_zero(what: &str, number: f64) -> Result<f64, SessionError> {
    let good = number.is_finite() && number > 0.0;
    if good { Ok(number) } else { Err(Refusal::NotAboveZero(what.to_owned()).into()) }
}

fn expansion(what: &str, number: f64) -> Result<f64, SessionError> {
    let good = (0.0..=EXPANSION).contains(&number);
    if good { Ok(number) } else { Err(Refusal::Expansion(what.to_owned()).into()) }
}

fn text(a: &Answer, units: Units) -> String {
    let scale = units.scale(Kind::Length);
    let length = match a.length_u_mm {
        Some(u) => scale.with_half(a.length_mm, K95 * u).plain_with(),
        None => scale.fixed_with(a.length_mm, 2),
    };
    let mut out = vec![format!("{length} for {} shown", scale.fixed_with(a.reading_mm, 2))];
    for (what, part) in [("pull", a.pull_mm), ("sag", a.sag_mm), ("temperature", a.temperature_mm)] {
        out.extend(part.map(|part| format!("{what:<12}{:>12}", scale.signed_with(part, 3))));
    }
    out.join("\n")
}
