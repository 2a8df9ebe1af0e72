//! Spars, posts, lines, bays, bushes and spot checks.

use super::{Direction, Foot};
use crate::Limits;
use quantity::{Kind, Millimetres};

/// A spar, straight in plan view, from the root datum to the tip datum.
#[derive(Clone, Debug, PartialEq)]
pub struct Spar {
    pub name: String,
    /// How far aft it lies at the root datum.
    pub aft_root: Millimetres,
    /// How far aft it lies at the tip datum.
    pub aft_tip: Millimetres,
}

/// A post of the jig.
#[derive(Clone, Debug, PartialEq)]
pub struct Post {
    pub name: String,
    /// Where along the span.
    pub span: Millimetres,
    pub feet: Vec<Foot>,
}

/// A line stretched along a spar.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// The spar it runs along.
    pub spar: String,
    /// The direction in which offsets from it are measured.
    pub direction: Direction,
    /// What it hangs by, if its sag is to be taken out.
    pub sag: Option<Sag>,
}

/// What determines the sag of a line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sag {
    /// Weight, N per metre.
    pub weight: f64,
    /// Tension, N.
    pub tension: f64,
}

/// A bay whose squareness is checked by its diagonals.
#[derive(Clone, Debug, PartialEq)]
pub struct Bay {
    pub name: String,
    /// One side.
    pub a: Millimetres,
    /// The other side.
    pub b: Millimetres,
    /// The names of its two diagonals, as in `diagonal@NAME`.
    pub diagonals: [String; 2],
}

/// The shaft that must turn in the bushes.
#[derive(Clone, Debug, PartialEq)]
pub struct Shaft {
    pub name: String,
    pub diameter: Millimetres,
    /// The least radial clearance wanted anywhere, if one is asked for.
    pub clearance: Option<Millimetres>,
}

/// A bush the shaft runs in.
#[derive(Clone, Debug, PartialEq)]
pub struct Bush {
    pub name: String,
    /// Where along the span.
    pub span: Millimetres,
    /// Design diameter of its bore.
    pub bore: Millimetres,
}

/// A spot check: any value with limits.
#[derive(Clone, Debug, PartialEq)]
pub struct Spot {
    pub name: String,
    /// What is measured.
    pub quantity: Kind,
    /// The limits, in the base unit.
    pub limits: Option<Limits<f64>>,
    /// Its place in a row of holes, if it is in one.
    pub row: Option<RowPlace>,
}

/// A hole's place in a row of holes, by its number in the plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RowPlace {
    pub row: String,
    pub place: u32,
}
