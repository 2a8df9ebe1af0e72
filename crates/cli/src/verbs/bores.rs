//! `bores`: does a straight shaft go through?

use super::table::{Table, length};
use crate::exit::Exit;
use crate::refusal::{Refusal, TableFault};
use crate::show::Show;
use clap::Args;
use numerics::bores::{Bore, BoresError, freeing_shift, shaft_line};
use numerics::rng::Rng;
use quantity::{Kind, Units};
use serde::Serialize;
use session::SessionError;
use std::path::PathBuf;

/// How often the centres are drawn again; fewer if there are many bushes.
const DRAWS: usize = 400;

#[derive(Debug, Args)]
#[command(
    after_long_help = "Columns: span, aft, up, bore (span_mm, aft_mm, up_mm, bore_mm), and u_mm, the standard uncertainty of a \
    centre, where known; a column `bush` may name them."
)]
pub struct Bores {
    /// The table (CSV with a header row), or - for standard input
    table: PathBuf,
    /// Diameter of the shaft
    #[arg(long)]
    shaft: String,
    /// Least radial clearance wanted
    #[arg(long, default_value = "0")]
    clearance: String,
}

#[derive(Serialize)]
struct Answer {
    passes: bool,
    clearance_mm: f64,
    u_mm: Option<f64>,
    /// No line leaves more than the clearance plus this.
    proven_to_mm: f64,
    bushes: Vec<Bush>,
}

#[derive(Serialize)]
struct Bush {
    bush: String,
    span_mm: f64,
    clearance_mm: f64,
    shift_aft_mm: Option<f64>,
    shift_up_mm: Option<f64>,
}

impl Bores {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let (shaft, wanted) = (length(&self.shaft)?, length(&self.clearance)?);
        if wanted < 0.0 {
            return Err(Refusal::Clearance.into());
        }
        let table = Table::read(&self.table)?;
        let of = |name: &str| table.required(name, Kind::Length);
        let (span, aft, up, bore) = (of("span")?, of("aft")?, of("up")?, of("bore")?);
        let u = table.uncertainty("u", Kind::Length)?;
        let name = table.row_names("bush");
        if span.len() > 1000 {
            return Err(Refusal::ManyBushes.into());
        }
        table.remark_unread(show);
        let bores: Vec<Bore> =
            (0..span.len()).map(|i| Bore { y: span[i], x: aft[i], z: up[i], diameter: bore[i] }).collect();
        let line = shaft_line(&bores, shaft).map_err(|why| match why {
            BoresError::BadBore(bore) => table.wrong(TableFault::Bore(bore + 1)),
            other => SessionError::because(other),
        })?;
        let short = line.clearance < wanted;
        let mut bushes = Vec::new();
        for (i, b) in bores.iter().enumerate() {
            let shift = if short {
                freeing_shift(&bores, shaft, i, wanted).map_err(SessionError::because)?
            } else {
                None
            };
            bushes.push(Bush {
                bush: name(i),
                span_mm: b.y,
                clearance_mm: line.clearances[i],
                shift_aft_mm: shift.map(|s| s.x),
                shift_up_mm: shift.map(|s| s.z),
            });
        }
        let answer = Answer {
            passes: line.passes(),
            clearance_mm: line.clearance,
            u_mm: u.map(|u| clearance_u(&bores, shaft, &u, line.clearance)).transpose()?,
            proven_to_mm: line.gap,
            bushes,
        };
        show.answer(|| text(&answer, show.units(Units::INSIDE)), &answer)?;
        Ok(if short { Exit::Outside } else { Exit::Done })
    }
}

/// The standard uncertainty of the least clearance, from centres drawn again about the measured ones, with their
/// bias: the least of several uncertain clearances is not as certain as the one that happens to be least.
fn clearance_u(bores: &[Bore], shaft: f64, u: &[f64], found: f64) -> Result<f64, SessionError> {
    let draws = (DRAWS * 12 / bores.len().max(12)).max(20);
    let mut rng = Rng::new(20_310_405);
    let mut squares = 0.0;
    for _ in 0..draws {
        let again: Vec<Bore> = bores
            .iter()
            .zip(u)
            .map(|(b, u)| Bore { x: b.x + u * rng.normal(), z: b.z + u * rng.normal(), ..*b })
            .collect();
        let clearance = shaft_line(&again, shaft).map_err(SessionError::because)?.clearance;
        squares += (clearance - found) * (clearance - found);
    }
    #[expect(clippy::cast_precision_loss, reason = "a few hundred")]
    Ok(libm::sqrt(squares / draws as f64))
}

fn text(a: &Answer, units: Units) -> String {
    let length = units.scale(Kind::Length);
    let word = if a.passes { "goes through" } else { "binds" };
    let clearance = match a.u_mm {
        Some(u) => length.with_u(a.clearance_mm, u).signed_with(),
        None => length.signed_with(a.clearance_mm, 4),
    };
    let unit = length.head();
    let (span, least) = (format!("span {unit}"), format!("clearance {unit}"));
    let mut out = vec![
        format!("the shaft {word}; least radial clearance {clearance}"),
        format!("{:<12}{span:>10}{least:>14}   shift of this bush alone", "bush"),
    ];
    for b in &a.bushes {
        let shift = match (b.shift_aft_mm, b.shift_up_mm) {
            (Some(aft), Some(up)) => {
                format!("{} aft, {} up", length.signed_with(aft, 3), length.signed_with(up, 3))
            }
            _ => String::new(),
        };
        let span = length.fixed(b.span_mm, length.decimals(1));
        let least = length.fixed(b.clearance_mm, length.decimals(4));
        let row = format!("{:<12}{span:>10}{least:>14}   {shift}", session::shown(&b.bush));
        out.push(row.trim_end().to_owned());
    }
    out.join("\n")
}
