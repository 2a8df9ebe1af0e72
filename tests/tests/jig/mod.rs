//! A simulated jig: a post on three screws with backlash, a level on it, and a hand that does roughly what it is told.
#![allow(dead_code, reason = "each story uses what it needs of this")]

use instrument::sim::Draws;
use record::Facing;

/// Travel of a turn in mm.
pub const PER_TURN: f64 = 1.5;
/// Turns that a screw gives back when it is turned the other way.
const BACKLASH: f64 = 0.06;
/// Where the feet are: aft and outboard of the post's middle, in mm.
const PLACES: [(f64, f64); 3] = [(-450.0, 150.0), (450.0, 150.0), (0.0, -200.0)];
pub const FEET: [&str; 3] = ["tip fore foot", "tip aft foot", "tip inboard foot"];

/// The plan of it.
pub const PLAN: &str = r#"
format = 1

[wing]
name = "invented jig"
side = "left"
attitude = "chord-level"

[tolerance]
level = 0.1
cross = 0.1

[[station]]
name = "S1"
span = 300
chord = 1400
incidence = 2.0

[[station]]
name = "S2"
span = 4000
chord = 1200
incidence = 0.0

[[post]]
name = "tip-post"
span = 4350
foot = [
  { name = "tip fore foot", aft = -450, out = 150, travel = 25, screw = { per_turn = 1.5, clockwise = "raises" } },
  { name = "tip aft foot", aft = 450, out = 150, travel = 25, screw = { per_turn = 1.5, clockwise = "raises" } },
  { name = "tip inboard foot", aft = 0, out = -200, travel = 25, screw = { per_turn = 1.5, clockwise = "raises" } },
]

[[stage]]
name = "jig empty"
requires = ["level@*", "cross@*"]
"#;

/// A post on three screws, with a level on it.
pub struct Jig {
    /// Height of each foot, in mm.
    heights: [f64; 3],
    /// Which way each screw was turned last.
    last_way: [f64; 3],
    pub zero: f64,
    pub second_zero: f64,
    pub facing: Facing,
    pub draws: Draws,
}

impl Jig {
    pub fn leaning(seed: u64) -> Self {
        let mut draws = Draws::new(seed);
        let mut height = || 12.0 * (draws.unit() - 0.5);
        let heights = [height(), height(), height()];
        let (zero, second_zero) = (0.3 * (draws.unit() - 0.5), 0.3 * (draws.unit() - 0.5));
        Self { heights, last_way: [1.0; 3], zero, second_zero, facing: Facing::Forward, draws }
    }

    /// Tilts of the plane through the feet, along the span and across, in degrees.
    pub fn tilts(&self) -> (f64, f64) {
        let [fore, aft, inboard] = self.heights;
        let ((fore_aft, out), (aft_aft, _), (_, inboard_out)) = (PLACES[0], PLACES[1], PLACES[2]);
        let across = (aft - fore) / (aft_aft - fore_aft);
        let along = ((fore + aft) / 2.0 - inboard) / (out - inboard_out);
        (along.atan().to_degrees(), -across.atan().to_degrees())
    }

    /// What the level shows: the tilt across on its own axis, along the span on its second.
    pub fn shown(&mut self) -> (f64, f64) {
        let (along, across) = self.tilts();
        let sign = self.facing.sign();
        let noise = (0.002 * self.draws.normal(), 0.002 * self.draws.normal());
        (sign * across + self.zero + noise.0, sign * along + self.second_zero + noise.1)
    }

    /// Turns a screw, clockwise positive; how far its foot really moved, in mm.
    pub fn turn(&mut self, foot: usize, turns: f64) -> f64 {
        let way = turns.signum();
        let lost = if way == self.last_way[foot] { 0.0 } else { BACKLASH.min(turns.abs()) };
        self.last_way[foot] = way;
        let mm = (turns - way * lost) * PER_TURN;
        self.heights[foot] += mm;
        mm
    }
}

/// What a hand makes of what it is told.
#[derive(Clone, Copy, Debug)]
pub struct Did {
    pub foot: usize,
    pub turns: f64,
}

/// The hand: 0.6 to 1.3 of what is said, sometimes the wrong screw of those that may be, sometimes none.
pub fn hand(draws: &mut Draws, told: usize, turns: f64, may_be: &[usize]) -> Option<Did> {
    let chance = draws.unit();
    let share = 0.6 + 0.7 * draws.unit();
    if chance < 0.1 {
        return None;
    }
    let others: Vec<usize> = may_be.iter().copied().filter(|foot| *foot != told).collect();
    let foot = if chance < 0.25 { others[draws.below(others.len())] } else { told };
    Some(Did { foot, turns: turns * share })
}
