//! A simulated wing on four screws with backlash, softer than geometry says; a level that can lie on any of its
//! stations.

use crate::seeded::Draws;
use record::Facing;

/// Travel of a turn in mm.
const PER_TURN: f64 = 1.25;
/// Turns that a screw gives back when it is turned the other way.
const BACKLASH: f64 = 0.04;
/// Distance of the spars, in mm.
const APART: f64 = 600.0;
/// Names of the screws.
pub const SCREWS: [&str; 4] = ["root front", "root rear", "tip front", "tip rear"];
/// Spans of the stations, as shares of the span, and their design incidence.
pub const STATIONS: [(f64, f64); 8] =
    [(0.0, 2.0), (0.15, 1.7), (0.3, 1.4), (0.45, 1.1), (0.6, 0.8), (0.75, 0.5), (0.88, 0.24), (1.0, 0.0)];

/// Its plan.
pub fn plan() -> String {
    let mut plan = String::from(
        r#"
format = 1

[wing]
name = "invented wing on screws"
side = "left"
attitude = "chord-level"
root = 0
tip = 4000

[tolerance]
setting = 0.25
washout = 0.25
station = 0.25

[[spar]]
name = "front"
aft_root = 200
aft_tip = 200

[[spar]]
name = "rear"
aft_root = 800
aft_tip = 800
"#,
    );
    for (n, (eta, incidence)) in STATIONS.iter().enumerate() {
        plan.push_str(&format!(
            "\n[[station]]\nname = \"S{}\"\nspan = {}\nchord = 1200\nincidence = {incidence}\n",
            n + 1,
            eta * 4000.0
        ));
    }
    for (n, name) in SCREWS.iter().enumerate() {
        let (span, spar) = ([0, 4000][n / 2], ["front", "rear"][n % 2]);
        plan.push_str(&format!(
            "\n[[support]]\nname = \"{name}\"\nspan = {span}\nspar = \"{spar}\"\ndirection = \"up\"\ntravel = 20\n\
             screw = {{ per_turn = 1.25, clockwise = \"raises\" }}\n"
        ));
    }
    plan.push_str("\n[[stage]]\nname = \"ribs on\"\nrequires = [\"incidence@*\"]\n");
    plan
}

/// The wing.
pub struct Wing {
    /// How far each screw has moved its spar, in mm.
    carried: [f64; 4],
    last_way: [f64; 4],
    /// Share of the twist that arrives, its bow, and what a mm at one support does at the others.
    share: f64,
    bow: f64,
    coupling: [[f64; 4]; 4],
    /// Each rib's own part, in degrees.
    ribs: [f64; 8],
    /// Zero error of the level, in degrees.
    pub zero: f64,
    /// Which way it faces.
    pub facing: Facing,
    /// The station the level lies on.
    pub on: usize,
    /// True while it is carried.
    pub carried_about: bool,
    draws: Draws,
}

impl Wing {
    /// One that is out of true, for a seed.
    pub fn bent(seed: u64) -> Self {
        let mut draws = Draws::new(seed);
        let carried = [0; 4].map(|_| 3.0 * draws.normal());
        let mut coupling = [[0.0; 4]; 4];
        for (i, row) in coupling.iter_mut().enumerate() {
            for (j, c) in row.iter_mut().enumerate() {
                *c = if i == j { 1.0 } else { 0.08 * draws.normal() };
            }
        }
        Self {
            carried,
            last_way: [1.0; 4],
            share: 0.6 + 0.35 * draws.unit(),
            bow: 0.08 * draws.normal(),
            coupling,
            ribs: [0; 8].map(|_| 0.015 * draws.normal()),
            zero: 0.2 * (draws.unit() - 0.5),
            facing: Facing::Forward,
            on: 0,
            carried_about: false,
            draws,
        }
    }

    /// Incidence at a station less its design, in degrees.
    pub fn deviation(&self, station: usize) -> f64 {
        let height: Vec<f64> =
            self.coupling.iter().map(|row| row.iter().zip(&self.carried).map(|(c, x)| c * x).sum()).collect();
        let rigid = |eta: f64| {
            let front = height[0] * (1.0 - eta) + height[2] * eta;
            let rear = height[1] * (1.0 - eta) + height[3] * eta;
            ((front - rear) / APART).atan().to_degrees()
        };
        let eta = STATIONS[station].0;
        let bulge = 4.0 * eta * (1.0 - eta);
        let (middle, twist) = (rigid(0.5), rigid(1.0) - rigid(0.0));
        middle + self.share * (rigid(eta) - middle) + self.bow * bulge * twist + self.ribs[station]
    }

    /// What the level would show at a station, seated once.
    pub fn seated(&mut self, station: usize, facing: Facing) -> f64 {
        let noise = 0.003 * self.draws.normal();
        facing.sign() * (STATIONS[station].1 + self.deviation(station) + noise) + self.zero
    }

    /// What it shows where it lies.
    pub fn shown(&mut self) -> (f64, f64) {
        if self.carried_about {
            return (30.0 + 10.0 * self.draws.normal(), 20.0);
        }
        let still = STATIONS[self.on].1 + self.deviation(self.on);
        (self.facing.sign() * still + self.zero + 0.002 * self.draws.normal(), 0.0)
    }

    /// The largest deviation, setting and twist, over its limit.
    pub fn worst(&self) -> f64 {
        let root = self.deviation(0) - self.ribs[0];
        let twist = (0..8).map(|s| (self.deviation(s) - root).abs() / 0.25);
        twist.fold(root.abs() / 0.25, f64::max)
    }

    /// Turns a screw, clockwise positive; returns how far it moved its spar, in mm.
    pub fn turn(&mut self, screw: usize, turns: f64) -> f64 {
        let way = turns.signum();
        let lost = if way == self.last_way[screw] { 0.0 } else { BACKLASH.min(turns.abs()) };
        self.last_way[screw] = way;
        let mm = (turns - way * lost) * PER_TURN;
        self.carried[screw] += mm;
        mm
    }
}
