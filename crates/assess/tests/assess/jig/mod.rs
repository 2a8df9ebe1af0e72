//! A simulated jig: what a wing on four screws really does, which no builder can see, and what a level shows of it.
//!
//! The figures are assumed, with no source, and were fixed before any result was looked at. Lengths in mm, angles in degrees.

pub mod builders;
mod elastic;
pub mod walk;

use crate::wing;
use numerics::rng::Rng;
use quantity::{Degrees, Millimetres};
use record::Limits;
use record::plan::{Adjust, Clockwise, Direction, Plan, Support, Travel};

/// How a wing and its jig differ from geometry: standard deviations, or ends of even spreads.
#[derive(Clone, Copy, Debug)]
pub struct Nature {
    /// Each support's first error.
    pub support: f64,
    /// Share of the twist put in that arrives, from and to.
    pub torsion: (f64, f64),
    /// Bow of the twist that arrives, relative to the twist.
    pub bow: f64,
    /// What a mm at one support does at each other one.
    pub coupling: f64,
    /// Lost motion of a screw when it is turned back, at most.
    pub backlash: f64,
    /// Relative error of a screw's pitch.
    pub pitch: f64,
    /// Error of the hand in turns.
    pub hand: f64,
    /// Bow of the wing itself.
    pub wing_bow: f64,
    /// Unevenness from station to station.
    pub uneven: f64,
    /// Zero error of the level, at most; a new one every round.
    pub zero: f64,
    /// Standard deviation of one seating.
    pub seating: f64,
    /// What the wing is made of.
    pub body: Body,
}

/// What carries the twist from the supports to the stations.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Body {
    /// Geometry with a share, a bow and couplings.
    Geometric,
    /// Two tapered elastic beams on springs, tied by torsion.
    Elastic,
}

/// A wing before its skins, on a workshop jig.
pub const ORDINARY: Nature = Nature {
    support: 3.0,
    torsion: (0.6, 1.0),
    bow: 0.05,
    coupling: 0.05,
    backlash: 0.15,
    pitch: 0.02,
    hand: 0.03,
    wing_bow: 0.05,
    uneven: 0.02,
    zero: 0.1,
    seating: 0.03,
    body: Body::Geometric,
};

/// A softer wing whose supports disturb each other more.
pub const SOFT: Nature = Nature { torsion: (0.4, 0.8), bow: 0.1, coupling: 0.1, ..ORDINARY };

/// A different kind of wing: the beams determine what one support does to the others.
pub const ELASTIC: Nature = Nature { body: Body::Elastic, coupling: 0.0, ..ORDINARY };

/// Ribs that scatter by more than one reading does.
pub const SCATTERED: Nature = Nature { uneven: 0.04, ..ORDINARY };

/// Supports that disturb each other twice as much as the advice assumes.
pub const COUPLED: Nature = Nature { coupling: 0.2, ..SOFT };

/// The step of the level's display.
pub const STEP: f64 = 0.05;

/// Where the screws stand under each of the two spars.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Layout {
    /// One near the root and one near the tip.
    Ends,
    /// Two posts well inboard, the ends hanging over.
    Inboard,
    /// Three posts: the spars are beams.
    Three,
}

/// The plan: twelve stations, two spars, screws under both at each post.
pub fn plan(layout: Layout) -> Plan {
    let mut plan = wing::plan(12);
    plan.spars[1].aft_tip = Millimetres::new(800.0);
    let posts: &[(&str, f64)] = match layout {
        Layout::Ends => &[("root", 150.0), ("tip", 3700.0)],
        Layout::Inboard => &[("inner", 900.0), ("outer", 2700.0)],
        Layout::Three => &[("root", 150.0), ("middle", 1900.0), ("tip", 3700.0)],
    };
    let support = |name: String, spar: &str, span: f64| Support {
        name,
        span: Millimetres::new(span),
        spar: spar.to_owned(),
        direction: Direction::Up,
        travel: Travel { minus: Millimetres::new(15.0), plus: Millimetres::new(15.0) },
        adjust: Adjust::Screw { per_turn: Millimetres::new(1.25), clockwise: Clockwise::Along },
    };
    for (post, span) in posts {
        for spar in ["front", "rear"] {
            plan.supports.push(support(format!("{post} {spar}"), spar, *span));
        }
    }
    let both = |deg: f64| Some(Limits::plus_minus(Degrees::new(deg)));
    plan.tolerances.setting = both(0.25);
    plan.tolerances.washout = both(0.2);
    plan.tolerances.station = both(0.2);
    let level = &mut plan.instruments[0];
    (level.resolution, level.accuracy, level.repeatability) = (STEP, Some(0.1), Some(0.03));
    plan
}

/// A wing in a jig as it really is.
#[derive(Clone, Debug)]
pub struct Jig {
    nature: Nature,
    heights: Vec<f64>,
    torsion: f64,
    bow: f64,
    coupling: Vec<Vec<f64>>,
    pitch: Vec<f64>,
    backlash: Vec<f64>,
    /// Where each screw stands in its lost motion: 0 to the backlash.
    slack: Vec<f64>,
    wing_bow: f64,
    uneven: Vec<f64>,
    geometry: Vec<Vec<f64>>,
    middle: Vec<f64>,
    ends: [Vec<f64>; 2],
    /// Influence of each support at each station, if the beams give it.
    beams: Option<Vec<Vec<f64>>>,
    rng: Rng,
}

/// What every support does to the incidence at a span, in degrees per mm, for a wing without incidence.
pub fn on_incidence(plan: &Plan, span: f64) -> Vec<f64> {
    let mut plan = plan.clone();
    plan.stations.iter_mut().for_each(|s| s.incidence = quantity::Degrees::new(0.0));
    let all: Vec<usize> = (0..plan.supports.len()).collect();
    assess::advice::influence::of_supports(&plan, &all, &[span]).remove(0)
}

impl Jig {
    pub fn new(plan: &Plan, nature: Nature, seed: u64) -> Self {
        let mut rng = Rng::new(seed);
        let n = plan.supports.len();
        let spread = |rng: &mut Rng, (a, b): (f64, f64)| a + (b - a) * rng.uniform();
        let beams = (nature.body == Body::Elastic).then(|| elastic::influences(plan, &mut rng));
        let geometry = |span: f64| on_incidence(plan, span);
        let (root, tip) = (plan.wing.root.value(), plan.wing.tip.value());
        Self {
            heights: (0..n).map(|_| nature.support * rng.normal()).collect(),
            torsion: spread(&mut rng, nature.torsion),
            bow: nature.bow * rng.normal(),
            coupling: (0..n)
                .map(|i| (0..n).map(|j| if i == j { 1.0 } else { nature.coupling * rng.normal() }).collect())
                .collect(),
            pitch: (0..n).map(|_| 1.0 + nature.pitch * rng.normal()).collect(),
            backlash: (0..n).map(|_| nature.backlash * rng.uniform()).collect(),
            slack: vec![0.0; n],
            wing_bow: nature.wing_bow * rng.normal(),
            uneven: plan.stations.iter().map(|_| nature.uneven * rng.normal()).collect(),
            geometry: plan.stations.iter().map(|s| geometry(s.span.value())).collect(),
            middle: geometry((root + tip) / 2.0),
            ends: [geometry(root), geometry(tip)],
            beams,
            nature,
            rng,
        }
    }

    /// True influence of a requested mm of each support at each station, for the twist less the root's and for the
    /// root alone: what an oracle knows. It does not know backlash, thread and hand.
    pub fn truth(&self, plan: &Plan) -> Vec<Vec<f64>> {
        let mut still = self.clone();
        still.wing_bow = 0.0;
        let n = plan.supports.len();
        let columns: Vec<Vec<f64>> = (0..n)
            .map(|j| {
                still.heights = self.coupling.iter().map(|row| row[j]).collect();
                still.smooth(plan)
            })
            .collect();
        (0..plan.stations.len()).map(|i| columns.iter().map(|c| c[i]).collect()).collect()
    }

    /// How much a level that stays on a station shows of a turn, at rest before and after.
    pub fn difference(&mut self, plan: &Plan, station: usize, before: f64) -> f64 {
        let round = |v: f64| (v / STEP).round() * STEP;
        round(self.smooth(plan)[station] + self.uneven[station]) - round(before + self.uneven[station])
    }

    /// Turns a screw as asked; the support does what it does.
    pub fn turn(&mut self, plan: &Plan, support: usize, asked_mm: f64) {
        let Adjust::Screw { per_turn, .. } = plan.supports[support].adjust else { return };
        let hand = self.nature.hand * self.rng.normal() * per_turn.value();
        let thread = asked_mm * self.pitch[support] + hand;
        // The nut first crosses its play, then takes the spar along.
        let slack = self.slack[support] + thread;
        let carried = slack - slack.clamp(0.0, self.backlash[support]);
        self.slack[support] = slack.clamp(0.0, self.backlash[support]);
        for (i, row) in self.coupling.iter().enumerate() {
            self.heights[i] += row[support] * carried;
        }
    }

    /// True deviation from the design at each station, without its unevenness.
    pub fn smooth(&self, plan: &Plan) -> Vec<f64> {
        let dot = |row: &[f64]| -> f64 { row.iter().zip(&self.heights).map(|(g, h)| g * h).sum() };
        let (middle, twist) = (dot(&self.middle), dot(&self.ends[1]) - dot(&self.ends[0]));
        if let Some(beams) = &self.beams {
            let bulge = |s: &record::plan::Station| 4.0 * plan.eta(s.span) * (1.0 - plan.eta(s.span));
            return plan.stations.iter().zip(beams).map(|(s, b)| dot(b) + self.wing_bow * bulge(s)).collect();
        }
        plan.stations
            .iter()
            .zip(&self.geometry)
            .map(|(s, row)| {
                let eta = plan.eta(s.span);
                let bulge = 4.0 * eta * (1.0 - eta);
                middle + (dot(row) - middle) * self.torsion + (self.bow * twist + self.wing_bow) * bulge
            })
            .collect()
    }

    /// The largest true deviation over its tolerance: setting, and twist error at every station.
    pub fn true_worst(&self, plan: &Plan) -> f64 {
        let smooth = self.smooth(plan);
        let size = |l: Option<Limits<Degrees>>| l.and_then(|l| l.upper).map_or(f64::INFINITY, Degrees::value);
        let (setting, station) = (size(plan.tolerances.setting), size(plan.tolerances.station));
        let twist = smooth.iter().map(|d| (d - smooth[0]).abs() / station).fold(0.0, f64::max);
        twist.max(smooth[0].abs() / setting)
    }

    /// Makes the ribs and the seats of the level at these stations even.
    pub fn dress(&mut self, plan: &Plan, stations: &[String]) {
        for (uneven, station) in self.uneven.iter_mut().zip(&plan.stations) {
            if stations.contains(&station.name) {
                *uneven = 0.0;
            }
        }
    }

    /// A round's zero error of the level.
    pub fn zero(&mut self) -> f64 {
        self.nature.zero * (2.0 * self.rng.uniform() - 1.0)
    }

    /// What the display shows at a station, seated once.
    pub fn shown(&mut self, plan: &Plan, station: usize, sign: f64, zero: f64) -> f64 {
        let truth =
            plan.stations[station].incidence.value() + self.smooth(plan)[station] + self.uneven[station];
        let value = sign * (truth + self.nature.seating * self.rng.normal()) + zero;
        (value / STEP).round() * STEP
    }
}
