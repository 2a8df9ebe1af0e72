//! A simulated post on three screws with backlash, and a level on it.

use crate::seeded::Draws;
use record::Facing;

/// Travel of a turn in mm.
pub const PER_TURN: f64 = 1.5;
/// Turns that a screw gives back when it is turned the other way.
pub const BACKLASH: f64 = 0.06;
/// Where the feet are: aft and outboard of the post's middle, in mm.
const PLACES: [(f64, f64); 3] = [(-450.0, 150.0), (450.0, 150.0), (0.0, -200.0)];
/// Names of the feet.
pub const FEET: [&str; 3] = ["tip fore foot", "tip aft foot", "tip inboard foot"];

/// Its plan.
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
    /// Zero error of the level's own axis, in degrees.
    pub zero: f64,
    /// That of its second axis.
    pub second_zero: f64,
    /// Screws that the hand may turn by mistake.
    pub may_be: Vec<usize>,
    /// Which way the level faces.
    pub facing: Facing,
    /// True where the level's own axis lies along the span.
    pub along: bool,
    /// True while the level is carried: it then shows anything.
    pub carried_about: bool,
    /// The hand's and the level's draws.
    pub draws: Draws,
}

impl Jig {
    /// One that leans, for a seed.
    pub fn leaning(seed: u64) -> Self {
        let mut draws = Draws::new(seed);
        let mut height = || 12.0 * (draws.unit() - 0.5);
        let heights = [height(), height(), height()];
        let (zero, second_zero) = (0.3 * (draws.unit() - 0.5), 0.3 * (draws.unit() - 0.5));
        Self {
            heights,
            last_way: [1.0; 3],
            zero,
            second_zero,
            may_be: vec![0, 1, 2],
            facing: Facing::Forward,
            along: false,
            carried_about: false,
            draws,
        }
    }

    /// Tilts of the plane through the feet, along the span and across, in degrees.
    pub fn tilts(&self) -> (f64, f64) {
        let [fore, aft, inboard] = self.heights;
        let ((fore_aft, out), (aft_aft, _), (_, inboard_out)) = (PLACES[0], PLACES[1], PLACES[2]);
        let across = (aft - fore) / (aft_aft - fore_aft);
        let along = ((fore + aft) / 2.0 - inboard) / (out - inboard_out);
        (along.atan().to_degrees(), -across.atan().to_degrees())
    }

    /// What the level shows on its own axis and on its second: the tilts across and along the span, or the other way round.
    pub fn shown(&mut self) -> (f64, f64) {
        let (along, across) = self.tilts();
        let sign = self.facing.sign();
        if self.carried_about {
            return (30.0 + 10.0 * self.draws.normal(), 20.0 + 10.0 * self.draws.normal());
        }
        let noise = (0.002 * self.draws.normal(), 0.002 * self.draws.normal());
        let (own, second) = if self.along { (along, across) } else { (across, along) };
        (sign * own + self.zero + noise.0, sign * second + self.second_zero + noise.1)
    }

    /// Turns a screw, clockwise positive; returns how far its foot really moved, in mm.
    pub fn turn(&mut self, foot: usize, turns: f64) -> f64 {
        let way = turns.signum();
        let lost = if way == self.last_way[foot] { 0.0 } else { BACKLASH.min(turns.abs()) };
        self.last_way[foot] = way;
        let mm = (turns - way * lost) * PER_TURN;
        self.heights[foot] += mm;
        mm
    }
}
