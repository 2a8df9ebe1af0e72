//! A simulated post or wing, and the level on it.

use record::Facing;
use stories::jig::post::{FEET, Jig};
use stories::jig::wing::{SCREWS, Wing};

/// What is being trued.
pub enum Thing {
    Post(Jig),
    Wing(Wing),
}

impl Thing {
    pub fn shown(&mut self) -> f64 {
        match self {
            Self::Post(jig) => jig.shown().0,
            Self::Wing(wing) => wing.shown().0,
        }
    }

    pub fn turn(&mut self, screw: usize, turns: f64) -> f64 {
        match self {
            Self::Post(jig) => jig.turn(screw, turns),
            Self::Wing(wing) => wing.turn(screw, turns),
        }
    }

    /// How the level lies: which way it faces, and on what.
    pub fn lies(&self) -> (Facing, usize) {
        match self {
            Self::Post(jig) => (jig.facing, usize::from(jig.along)),
            Self::Wing(wing) => (wing.facing, wing.on),
        }
    }

    pub fn lay(&mut self, (facing, on): (Facing, usize)) {
        match self {
            Self::Post(jig) => (jig.facing, jig.along) = (facing, on == 1),
            Self::Wing(wing) => (wing.facing, wing.on) = (facing, on),
        }
    }

    pub fn carry(&mut self, about: bool) {
        match self {
            Self::Post(jig) => jig.carried_about = about,
            Self::Wing(wing) => wing.carried_about = about,
        }
    }

    pub fn screws(&self) -> &'static [&'static str] {
        match self {
            Self::Post(_) => &FEET,
            Self::Wing(_) => &SCREWS,
        }
    }

    /// The screws that a hand may turn by mistake. A foot whose turn the tilt does not show cannot be told from one
    /// that nobody touched.
    pub fn near(&self, told: usize) -> Vec<usize> {
        match self {
            Self::Post(jig) if jig.along => vec![0, 1, 2],
            Self::Post(_) => vec![0, 1],
            Self::Wing(_) => vec![told, told ^ 1],
        }
    }
}
