//! `straight`: straightness of offsets along a spar, or of a level walked along it.

use super::table::Table;
use crate::exit::Exit;
use crate::refusal::Refusal;
use crate::show::Show;
use clap::Args;
use numerics::gls::Covariance;
use numerics::simulate::Spread;
use numerics::straight::{LevelWalk, end_points, least_squares, line_sag, minimum_zone, simulate_covariance};
use quantity::{Kind, Units};
use serde::Serialize;
use session::SessionError;
use std::path::PathBuf;

#[derive(Debug, Args)]
#[command(
    after_long_help = "Columns: span and offset (span_mm, offset_mm), and u_mm where known. For a level walk: step and tilt \
    (step_mm, tilt_deg or tilt_mm/m), and u (u_deg) where known."
)]
pub struct Straight {
    /// The table (CSV with a header row), or - for standard input
    table: PathBuf,
    /// The table is a level walked in steps
    #[arg(long)]
    walk: bool,
    /// Weight of the stretched line, N per metre: removes its sag
    #[arg(long, requires = "tension")]
    weight: Option<f64>,
    /// Tension of the stretched line, N
    #[arg(long, requires = "weight")]
    tension: Option<f64>,
    /// Draws of the simulation, 0 for none [default: 10000, fewer for a long table]
    #[arg(long, value_parser = clap::value_parser!(u32).range(0..=1_000_000))]
    draws: Option<u32>,
    /// Seed of the simulation
    #[arg(long, default_value_t = 1)]
    seed: u64,
}

#[derive(Serialize)]
struct Answer {
    rows: usize,
    minimum_zone_mm: f64,
    minimum_zone_u_mm: Option<f64>,
    least_squares_mm: f64,
    end_point_mm: f64,
    largest_sag_mm: f64,
    simulated: Option<Simulated>,
    offsets: Vec<Offset>,
}

#[derive(Serialize)]
struct Simulated {
    draws: usize,
    mean_mm: f64,
    sd_mm: f64,
    low_mm: f64,
    high_mm: f64,
}

#[derive(Serialize)]
struct Offset {
    span_mm: f64,
    from_minimum_zone_mm: f64,
    u_mm: Option<f64>,
}

/// Places, offsets, standard uncertainties and their covariance, and the largest sag.
struct Profile {
    y: Vec<f64>,
    z: Vec<f64>,
    u: Option<Vec<f64>>,
    walk: Option<LevelWalk>,
    sag: f64,
}

impl Straight {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let table = Table::read(&self.table)?;
        let p = if self.walk { walk(&table)? } else { self.offsets(&table)? };
        table.remark_unread(show);
        let zone = minimum_zone(&p.y, &p.z).map_err(SessionError::because)?;
        let own = |i: usize, j: usize| match (&p.walk, &p.u) {
            (Some(walk), _) => walk.covariance(i, j),
            (None, Some(u)) if i == j => u[i] * u[i],
            _ => 0.0,
        };
        let known = p.u.is_some();
        let draws = self.draws.map_or_else(|| usual_draws(p.y.len()), |d| d as usize);
        let simulated = match (known && draws > 1, &p.walk, &p.u) {
            (true, Some(walk), _) => Some(walk.simulate(draws, self.seed).map_err(SessionError::because)?),
            (true, None, Some(u)) => {
                let covariance = Covariance::new(u.clone());
                Some(
                    simulate_covariance(&p.y, &p.z, &covariance, draws, self.seed)
                        .map_err(SessionError::because)?,
                )
            }
            _ => None,
        };
        let middle = zone.line.deviations(&p.y, &p.z);
        let answer = Answer {
            rows: p.y.len(),
            minimum_zone_mm: zone.straightness,
            minimum_zone_u_mm: known
                .then(|| zone_u(zone.uncertainty(own), zone.straightness, simulated.as_ref())),
            least_squares_mm: least_squares(&p.y, &p.z).map_err(SessionError::because)?,
            end_point_mm: end_points(&p.y, &p.z).map_err(SessionError::because)?,
            largest_sag_mm: p.sag,
            simulated: simulated.map(|s: Spread| Simulated {
                draws,
                mean_mm: s.mean,
                sd_mm: s.sd,
                low_mm: s.low,
                high_mm: s.high,
            }),
            offsets: (0..p.y.len())
                .map(|i| Offset {
                    span_mm: p.y[i],
                    from_minimum_zone_mm: middle[i],
                    u_mm: known.then(|| own(i, i).sqrt()),
                })
                .collect(),
        };
        show.done(|| text(&answer, show.units(Units::INSIDE)), &answer)
    }

    fn offsets(&self, table: &Table) -> Result<Profile, SessionError> {
        let y = table.required("span", Kind::Length)?;
        let mut z = table.required("offset", Kind::Length)?;
        let mut sag = 0.0f64;
        if let (Some(weight), Some(tension)) = (self.weight, self.tension) {
            if !(weight > 0.0 && tension > 0.0) {
                return Err(Refusal::WeightAndTension.into());
            }
            let first = y.iter().copied().fold(f64::INFINITY, f64::min);
            let last = y.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            for (z, y) in z.iter_mut().zip(&y) {
                let hangs = line_sag(weight / 1000.0, last - first, tension, y - first);
                sag = sag.max(hangs);
                *z -= hangs;
            }
        }
        Ok(Profile { u: table.uncertainty("u", Kind::Length)?, y, z, walk: None, sag })
    }
}

/// The standard uncertainty of a minimum zone: first order from the points that touch it, and at least the scatter of
/// simulated profiles about the result. Points exactly on the line have no first-order uncertainty, but are not
/// certain.
fn zone_u(first_order: f64, found: f64, simulated: Option<&Spread>) -> f64 {
    simulated.map_or(first_order, |s| first_order.max(libm::hypot(s.sd, s.mean - found)))
}

/// Number of draws for an answer within about half a second, whatever the length of the table.
fn usual_draws(rows: usize) -> usize {
    (10_000_000 / rows.max(1)).clamp(100, 10_000)
}

fn walk(table: &Table) -> Result<Profile, SessionError> {
    let steps = table.required("step", Kind::Length)?;
    let tilts: Vec<f64> =
        table.required("tilt", Kind::Angle)?.iter().map(|d| libm::sin(d.to_radians())).collect();
    let u = table.uncertainty("u", Kind::Angle)?;
    let known = u.is_some();
    let u: Vec<f64> =
        u.map_or_else(|| vec![0.0; tilts.len()], |u| u.iter().map(|d| d.to_radians()).collect());
    let walk = LevelWalk::new(&tilts, &steps, &u).map_err(SessionError::because)?;
    let (y, z) = (walk.places.clone(), walk.heights.clone());
    let own = known.then(|| (0..y.len()).map(|i| walk.uncertainty(i)).collect());
    Ok(Profile { y, z, u: own, walk: Some(walk), sag: 0.0 })
}

fn text(a: &Answer, units: Units) -> String {
    let length = units.scale(Kind::Length);
    let mm = |value| length.fixed_with(value, 4);
    let zone = match a.minimum_zone_u_mm {
        Some(u) => length.with_u(a.minimum_zone_mm, u).plain_with(),
        None => mm(a.minimum_zone_mm),
    };
    let mut out = vec![
        format!("minimum zone    {zone} (ISO 1101)"),
        format!("least squares   {}", mm(a.least_squares_mm)),
        format!("ends            {}", mm(a.end_point_mm)),
    ];
    if a.largest_sag_mm > 0.0 {
        out.push(format!("line sag taken out, at most {}", mm(a.largest_sag_mm)));
    }
    let (places, spans) = (length.decimals(4), length.decimals(1));
    if let Some(s) = &a.simulated {
        out.push(format!(
            "simulated: mean {}, sd {}, 95 % from {} to {} ({} draws)",
            length.fixed(s.mean_mm, places),
            length.fixed(s.sd_mm, places),
            length.fixed(s.low_mm, places),
            mm(s.high_mm),
            s.draws
        ));
    }
    if a.offsets.len() <= 60 {
        let unit = length.head();
        out.push(format!("\n{:>12}{:>24}", format!("span {unit}"), format!("from minimum zone {unit}")));
        out.extend(a.offsets.iter().map(|o| {
            let (span, from) = (length.fixed(o.span_mm, spans), length.fixed(o.from_minimum_zone_mm, places));
            format!("{span:>12}{from:>24}")
        }));
    }
    out.join("\n")
}
