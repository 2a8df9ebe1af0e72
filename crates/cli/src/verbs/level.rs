//! `level`: tilt and zero from reversal pairs.

use super::table::Table;
use crate::exit::Exit;
use crate::refusal::Refusal;
use crate::show::Show;
use clap::Args;
use quantity::{Kind, Units};
use serde::Serialize;
use session::SessionError;
use std::path::PathBuf;

#[derive(Debug, Args)]
#[command(
    after_long_help = "Columns: forward and aft (forward_deg, aft_deg), both as the level shows them, end for end on the same \
    spot; a column `at` may name the spots."
)]
pub struct Level {
    /// The table (CSV with a header row), or - for standard input
    table: PathBuf,
    /// Step of the level's display, degrees
    #[arg(long, requires = "repeatability")]
    resolution: Option<f64>,
    /// Standard deviation of one seating, degrees
    #[arg(long, requires = "resolution")]
    repeatability: Option<f64>,
}

#[derive(Serialize)]
struct Answer {
    pairs: Vec<Pair>,
    zero_deg: f64,
    /// Null for a single pair: it says nothing about spread.
    zero_spread_deg: Option<f64>,
    u_deg: Option<f64>,
}

#[derive(Serialize)]
struct Pair {
    at: String,
    tilt_deg: f64,
    zero_deg: f64,
}

impl Level {
    /// true = (forward - aft)/2, zero = (forward + aft)/2.
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let table = Table::read(&self.table)?;
        let forward = table.required("forward", Kind::Angle)?;
        let aft = table.required("aft", Kind::Angle)?;
        let name = table.row_names("at");
        table.remark_unread(show);
        let pairs: Vec<Pair> = forward
            .iter()
            .zip(&aft)
            .enumerate()
            .map(|(i, (f, a))| Pair { at: name(i), tilt_deg: (f - a) / 2.0, zero_deg: (f + a) / 2.0 })
            .collect();
        let zeros = || pairs.iter().map(|p| p.zero_deg);
        #[expect(clippy::cast_precision_loss, reason = "a few pairs")]
        let zero = zeros().sum::<f64>() / pairs.len() as f64;
        let spread = (pairs.len() > 1)
            .then(|| zeros().fold(f64::NEG_INFINITY, f64::max) - zeros().fold(f64::INFINITY, f64::min));
        let known = self.resolution.zip(self.repeatability);
        if known.is_some_and(|(r, q)| !(r >= 0.0 && q >= 0.0)) {
            return Err(Refusal::LevelSpread.into());
        }
        let u = known.map(|(r, q)| ((r * r / 12.0 + q * q) / 2.0).sqrt());
        let answer = Answer { pairs, zero_deg: zero, zero_spread_deg: spread, u_deg: u };
        show.done(|| text(&answer, show.units(Units::INSIDE)), &answer)
    }
}

fn text(a: &Answer, units: Units) -> String {
    let angle = units.scale(Kind::Angle);
    let places = angle.decimals(4);
    let (tilt, zero) = (format!("tilt {}", angle.head()), format!("zero {}", angle.head()));
    let mut out = vec![format!("{:<20}{tilt:>12}{zero:>12}", "at")];
    out.extend(a.pairs.iter().map(|p| {
        let (tilt, zero) = (angle.fixed(p.tilt_deg, places), angle.fixed(p.zero_deg, places));
        format!("{:<20}{tilt:>12}{zero:>12}", session::shown(&p.at))
    }));
    let with = |value| angle.fixed_with(value, 4);
    let spread = a.zero_spread_deg.map_or_else(|| "not known from one pair".to_owned(), with);
    out.push(format!("zero of the level {}, spread {spread}", with(a.zero_deg)));
    out.push(match a.u_deg {
        Some(u) => format!("standard uncertainty of a pair {}", with(u)),
        None => "standard uncertainty not known: give --resolution and --repeatability".to_owned(),
    });
    out.join("\n")
}
