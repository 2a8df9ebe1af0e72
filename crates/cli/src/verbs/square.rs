//! `square`: out of square from two diagonals.

use super::table::length;
use crate::exit::Exit;
use crate::refusal::Refusal;
use crate::show::Show;
use clap::Args;
use numerics::lengths;
use quantity::{Kind, Units};
use serde::Serialize;
use session::SessionError;

/// Sides are nominal: the diagonals may differ from them by this share of 2(a^2 + b^2), beyond their uncertainty.
const NOMINAL: f64 = 0.005;

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
    /// Null if it cannot be judged.
    out_of_square_deg: Option<f64>,
    u_deg: Option<f64>,
    difference_mm: f64,
    /// Why there is no angle, if there is none.
    cannot_judge: Option<String>,
}

impl Square {
    /// sin t = (D1^2 - D2^2)/(4ab).
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let (a, b, d1, d2) = (length(&self.a)?, length(&self.b)?, length(&self.d1)?, length(&self.d2)?);
        if !(a > 0.0 && b > 0.0 && d1 > 0.0 && d2 > 0.0) {
            return Err(Refusal::Sides.into());
        }
        let u_length = self.u.as_deref().map(length).transpose()?;
        if u_length.is_some_and(|u| u <= 0.0) {
            return Err(Refusal::DiagonalUncertainty.into());
        }
        let misfit = lengths::misfit(a, b, d1, d2);
        // Three standard uncertainties of the two squares.
        let by_u = 6.0 * u_length.unwrap_or(0.0) * libm::hypot(d1, d2) / (2.0 * (a * a + b * b));
        let lean = lengths::lean(a, b, d1, d2).filter(|_| misfit.abs() <= NOMINAL + by_u);
        let units = show.units(Units::INSIDE);
        let (length, angle) = (units.scale(Kind::Length), units.scale(Kind::Angle));
        let cannot_judge = lean.is_none().then(|| {
            let wanted = libm::sqrt((d1 * d1 + d2 * d2) / (1.0 + misfit) / 2.0);
            format!(
                "no bay of {} by {} has diagonals of {} and {}: their mean square would be that of {}",
                length.exact(a),
                length.exact_with(b),
                length.exact(d1),
                length.exact_with(d2),
                length.fixed_with(wanted, 1)
            )
        });
        let u = u_length.zip(lean).map(|(u, l)| (libm::hypot(l.per_first, l.per_second) * u).to_degrees());
        let answer = Answer {
            out_of_square_deg: lean.map(|l| l.angle.to_degrees()),
            u_deg: u,
            difference_mm: d1 - d2,
            cannot_judge,
        };
        let text = || {
            let found = match (answer.out_of_square_deg, u) {
                (Some(found), Some(u)) => angle.with_u(found, u).signed_with(),
                (Some(found), None) => angle.signed_with(found, 4),
                (None, _) => {
                    return format!(
                        "cannot be judged: {}",
                        answer.cannot_judge.as_deref().unwrap_or_default()
                    );
                }
            };
            format!(
                "out of square {found}, diagonals differ by {}",
                length.signed_with(answer.difference_mm, 2)
            )
        };
        show.answer(text, &answer)?;
        Ok(if lean.is_some() { Exit::Done } else { Exit::Open })
    }
}
