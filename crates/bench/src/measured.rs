//! From a difference of tilts to the move of a foot.

use crate::Log;
use assess::advice::{Effect, feet, steps};
use quantity::shown::{self, K95, WithU, capital};
use quantity::{Kind, Units};
use record::plan::{Adjust, Foot, Post};

/// How far a foot or support was moved, from what a level showed before and after.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    pub foot: String,
    pub effect: Effect,
    /// How far, in mm, positive up or in the support's direction.
    pub mm: f64,
    /// Its standard uncertainty in mm.
    pub u_mm: f64,
    /// Turns of its screw, clockwise positive; `None` for shims.
    pub turns: Option<f64>,
    /// How badly the two tilts fit this foot alone, in standard uncertainties; 0 if only one tilt was seen.
    pub misfit: f64,
}

/// A difference of tilts, in degrees, along the span and fore and aft, as far as each was seen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Difference {
    /// Along the span, positive outboard end up.
    pub level: Option<f64>,
    /// Fore and aft, positive leading edge up.
    pub cross: Option<f64>,
    /// Standard uncertainty of each.
    pub u: f64,
}

/// A foot that tilts the post less than this per millimetre cannot be identified, in degrees.
const LEAST_GAIN_DEG: f64 = 1e-4;

impl Difference {
    /// Whether it exceeds its own 95 % uncertainty: something moved.
    pub fn moved(&self) -> bool {
        [self.level, self.cross].iter().flatten().any(|tilt| tilt.abs() > K95 * self.u)
    }

    /// The move of one foot alone that explains it; `None` if that foot cannot move or does not tilt what was seen.
    pub fn of_foot(&self, post: &Post, foot: &Foot) -> Option<Measured> {
        if matches!(foot.adjust, Adjust::Fixed) {
            return None;
        }
        let alone: Vec<f64> = post.feet.iter().map(|f| if f.name == foot.name { 1.0 } else { 0.0 }).collect();
        let by = feet::tilt_from_feet(&post.feet, &alone);
        let seen: Vec<(f64, f64)> = [(by.along_deg, self.level), (by.across_deg, self.cross)]
            .into_iter()
            .filter_map(|(g, t)| Some((g, t?)))
            .collect();
        let square: f64 = seen.iter().map(|(gain, _)| gain * gain).sum();
        if square < LEAST_GAIN_DEG * LEAST_GAIN_DEG {
            return None;
        }
        let mm = seen.iter().map(|(gain, tilt)| gain * tilt).sum::<f64>() / square;
        let misfit = seen.iter().map(|(gain, tilt)| (tilt - gain * mm).powi(2)).sum::<f64>().sqrt() / self.u;
        let u_mm = self.u / square.sqrt();
        Some(Measured { misfit, ..Measured::new(&foot.name, Effect::at_foot(mm), &foot.adjust, mm, u_mm) })
    }

    /// The move of each foot of a post that would explain it, in plan order.
    pub fn of_feet(&self, post: &Post) -> Vec<Measured> {
        post.feet.iter().filter_map(|foot| self.of_foot(post, foot)).collect()
    }
}

impl Measured {
    /// From one tilt: how far, in mm, with its standard uncertainty.
    pub(crate) fn new(foot: &str, effect: Effect, adjust: &Adjust, mm: f64, u_mm: f64) -> Self {
        Self { foot: foot.to_owned(), effect, mm, u_mm, turns: steps::turns(adjust, mm), misfit: 0.0 }
    }

    /// `Tip aft foot raised 2.83 ±0.09 mm, 1 7/8 turns clockwise`.
    pub fn words(&self, units: Units) -> String {
        let turns = self.turns.and_then(shown::turns).map_or_else(String::new, |turns| format!(", {turns}"));
        format!("{} {} {}{turns}", capital(&self.foot), self.effect.did(), self.amount(units))
    }

    /// `2.83 ±0.09 mm`: without sign, both with the digits that the uncertainty justifies.
    pub fn amount(&self, units: Units) -> String {
        units.with_u(Kind::Length, self.mm.abs(), self.u_mm).plain_with()
    }

    /// The text a move is recorded with: `+2.83 ±0.09 mm`.
    pub fn recorded(&self) -> String {
        WithU::of_u(self.mm, self.u_mm).signed_with("mm")
    }

    /// The same with the amount as written, no finer than it is known.
    pub fn rounded(&self) -> Self {
        let written = WithU::of_u(self.mm, self.u_mm).signed().parse();
        Self { mm: written.unwrap_or(self.mm), ..self.clone() }
    }
}

/// The post with the travel that the recorded moves left to each foot.
pub(crate) fn as_it_is(post: &Post, log: &Log<'_>) -> Post {
    feet::standing(post, |foot| log.moved_mm(foot))
}

#[cfg(test)]
mod tests;
