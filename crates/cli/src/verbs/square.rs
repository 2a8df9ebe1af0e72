//! `square`: out of square from two diagonals.

use super::table::refused;
use crate::exit::Exit;
use crate::show::Show;
use clap::Args;
use numerics::lengths;
use quantity::shown::{WithU, signed, with_unit};
use quantity::{Kind, typed};
use serde::Serialize;
use session::SessionError;

/// `square`
#[derive(Debug, Args)]
pub struct Square {
    /// One side: 800, 31 1/2 in
    a: String,
    /// The other side
    b: String,
    /// One diagonal
    d1: String,
    /// The other diagonal
    d2: String,
    /// Standard uncertainty of a diagonal
    #[arg(long)]
    u: Option<String>,
}

#[derive(Serialize)]
struct Answer {
    format: u32,
    out_of_square_deg: f64,
    u_deg: Option<f64>,
    difference_mm: f64,
}

impl Square {
    /// sin t = (D1^2 - D2^2)/(4ab).
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let length = |text: &str| typed(text, Kind::Length).map(|t| t.amount.base()).map_err(refused);
        let (a, b, d1, d2) = (length(&self.a)?, length(&self.b)?, length(&self.d1)?, length(&self.d2)?);
        if !(a > 0.0 && b > 0.0 && d1 > 0.0 && d2 > 0.0) {
            return Err(refused("sides and diagonals must be above zero"));
        }
        let lean = lengths::lean(a, b, d1, d2)
            .ok_or_else(|| refused("no bay of these sides has these diagonals"))?;
        let u = self
            .u
            .as_deref()
            .map(length)
            .transpose()?
            .map(|u| (libm::hypot(lean.per_first, lean.per_second) * u).to_degrees());
        let answer = Answer {
            format: 1,
            out_of_square_deg: lean.angle.to_degrees(),
            u_deg: u,
            difference_mm: d1 - d2,
        };
        let text = || {
            let angle = match u {
                Some(u) => WithU::of_u(answer.out_of_square_deg, u).signed_with("deg"),
                None => with_unit(&signed(answer.out_of_square_deg, 4), "deg"),
            };
            format!("out of square {angle}, diagonals differ by {} mm", signed(answer.difference_mm, 2))
        };
        show.answer(text, &answer)?;
        Ok(Exit::Done)
    }
}
