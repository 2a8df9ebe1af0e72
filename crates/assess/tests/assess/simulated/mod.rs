//! Simulated wings and the levels that read them. Nothing here comes from the code it tests: the generator, the shapes, the
//! scatter and the rounding are its own.
#![allow(dead_code, reason = "each test file uses a part of it")]

pub mod cells;
pub mod score;
pub mod shape;

use quantity::{Degrees, Kind, Millimetres};
use record::plan::{
    Acceptance, Attitude, ByName, Identity, Plan, Rule, Side, Spar, Stage, Station, Tolerances, Wing,
};
use record::{
    At, Entry, Facing, Instrument, InstrumentKind, Limits, Point, PointKind, Reading, Source, StageBegun,
    What,
};
use shape::Shape;

/// Length of the invented wing from datum to datum.
pub const SPAN_MM: f64 = 4000.0;
/// Limit of error of the invented level's zero.
pub const ACCURACY_DEG: f64 = 0.2;

/// A generator of its own: a multiplicative one of 64 bits with its high bits kept (constants by P. L'Ecuyer, "Tables of linear
/// congruential generators", 1999, from memory), and normal draws as the sum of twelve uniforms would be too coarse in the tails,
/// so by Box and Muller's formula.
#[derive(Clone, Debug)]
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        let mut dice = Self(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1);
        (0..8).for_each(|_| _ = dice.uniform());
        dice
    }

    pub fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(3_935_559_000_370_003_845).wrapping_add(2_691_343_689_449_507_681);
        // The high bits are the good ones; spread them once more.
        let high = (self.0 ^ (self.0 >> 29)).wrapping_mul(0xd6e8_feb8_6659_fd93);
        ((high >> 11) as f64 + 0.5) / 9_007_199_254_740_992.0
    }

    pub fn normal(&mut self) -> f64 {
        let (a, b) = (self.uniform(), self.uniform());
        (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
    }
}

/// How the level is read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Level {
    /// Step of the display.
    pub step: f64,
    /// Seating, a standard deviation, as its file says.
    pub seating: f64,
    /// Both facings, or one.
    pub pairs: bool,
    /// By how much it is really worse: its seating and its display together.
    pub worse: f64,
    /// The zero is a multiple of half the step.
    pub locked: bool,
    /// The wing is flat: design and deviation are zero everywhere.
    pub flat: bool,
}

/// Single readings of a 0.1 degree display.
pub const SINGLES: Level =
    Level { step: 0.1, seating: 0.05, pairs: false, worse: 1.0, locked: false, flat: false };
/// Reversal pairs of a 0.05 degree display.
pub const PAIRS: Level =
    Level { step: 0.05, seating: 0.03, pairs: true, worse: 1.0, locked: false, flat: false };

impl Level {
    /// The standard deviation of one station's value, as the level's file has it.
    pub fn s(&self) -> f64 {
        let one = self.step * self.step / 12.0 + self.seating * self.seating;
        (if self.pairs { one / 2.0 } else { one }).sqrt()
    }

    fn instrument(&self) -> Instrument {
        Instrument {
            name: "level".to_owned(),
            number: None,
            kind: InstrumentKind::Inclinometer,
            resolution: self.step,
            accuracy: Some(ACCURACY_DEG),
            repeatability: Some(self.seating),
            scale: None,
            expansion: None,
            tape: None,
            tables: Vec::new(),
            checked: None,
            due: None,
            unit: None,
            range: None,
        }
    }

    /// A zero for one round.
    pub fn zero(&self, dice: &mut Dice) -> f64 {
        let zero = ACCURACY_DEG / 3f64.sqrt() * dice.normal();
        if self.locked { (zero / (self.step / 2.0)).round() * self.step / 2.0 } else { zero }
    }

    /// What it shows of a true angle.
    pub fn shown(&self, angle: f64, facing: Facing, zero: f64, dice: &mut Dice) -> f64 {
        let turned = if facing == Facing::Forward { angle } else { -angle };
        // Worse by a factor: more seating error, so that the whole of one reading has that many times the claimed deviation.
        let claimed = self.step * self.step / 12.0 + self.seating * self.seating;
        let seating = (claimed * self.worse * self.worse - self.step * self.step / 12.0).sqrt();
        let raw = turned + zero + seating * dice.normal();
        let steps = (raw / self.step).round();
        // As a person types it: the decimal that the display has.
        format!("{:.3}", steps * self.step).parse().unwrap_or(f64::NAN)
    }
}

/// A plan for stations at these relative places.
pub fn plan(eta: &[f64], level: &Level, tolerance: Option<f64>) -> Plan {
    let both = |t: f64| Limits::plus_minus(Degrees::new(t));
    let stations: Vec<Station> = eta
        .iter()
        .enumerate()
        .map(|(i, e)| Station {
            name: format!("S{}", i + 1),
            span: Millimetres::new(SPAN_MM * e),
            chord: Millimetres::new(1400.0),
            incidence: Degrees::new(if level.flat { 0.0 } else { 2.0 - 3.0 * e }),
            fixture: Degrees::new(0.0),
            height_angle: Degrees::new(0.0),
        })
        .collect();
    let requires: Vec<Point> = stations.iter().map(|s| Point::at(PointKind::Incidence, &s.name)).collect();
    let spar = |name: &str, aft: f64| Spar {
        name: name.to_owned(),
        aft_root: Millimetres::new(aft),
        aft_tip: Millimetres::new(aft),
    };
    Plan {
        wing: Wing {
            name: "simulated wing".to_owned(),
            side: Side::Left,
            attitude: Attitude::ChordLevel,
            root: Millimetres::new(0.0),
            tip: Millimetres::new(SPAN_MM),
            material: None,
            plumb: None,
            note: None,
            identity: Identity::default(),
        },
        rule: Rule { acceptance: Acceptance::Guarded, level: 0.95, max_order: None },
        tolerances: Tolerances {
            setting: tolerance.map(|t| both(2.0 * t)),
            washout: tolerance.map(both),
            station: tolerance.map(both),
            ..Tolerances::default()
        },
        spars: vec![spar("front", 300.0), spar("rear", 900.0)],
        supports: Vec::new(),
        posts: Vec::new(),
        lines: Vec::new(),
        bays: Vec::new(),
        shaft: None,
        bushes: Vec::new(),
        spots: Vec::new(),
        rigging: record::plan::Rigging::default(),
        record_only: Vec::new(),
        reworks: Vec::new(),
        stages: vec![Stage {
            name: "ready to skin".to_owned(),
            requires,
            disturbs: Vec::new(),
            open: Vec::new(),
            closes: false,
        }],
        instruments: vec![level.instrument()],
        units: quantity::Units::INSIDE,
        shown_in: quantity::Units::INSIDE,
        station_places: ByName::default(),
        spot_places: ByName::default(),
        stations,
    }
}

/// A log in the making.
pub struct Walks {
    pub entries: Vec<Entry>,
    round: u32,
}

impl Walks {
    pub fn begun() -> Self {
        let mut log = Self { entries: Vec::new(), round: 0 };
        log.push(What::Started { plan: String::new(), program: "simulation".to_owned() });
        log.push(What::Stage(StageBegun::new("ready to skin")));
        log
    }

    fn push(&mut self, what: What) {
        let seq = self.entries.len() as u64 + 1;
        let at = At::from_millis(1_900_000_000_000 + 60_000 * seq as i64);
        self.entries.push(Entry { seq, at, by: "builder".to_owned(), offset: None, what });
    }

    /// A round over these stations of a wing of that shape.
    pub fn walk(&mut self, plan: &Plan, shape: &Shape, level: &Level, which: &[usize], dice: &mut Dice) {
        self.round += 1;
        let zero = level.zero(dice);
        for &i in which {
            let station = &plan.stations[i];
            let angle = station.incidence.value() + shape.setting + shape.error[i];
            let facings: &[Facing] =
                if level.pairs { &[Facing::Forward, Facing::Aft] } else { &[Facing::Forward] };
            for &facing in facings {
                let value = level.shown(angle, facing, zero, dice);
                self.push(What::Reading(Reading {
                    point: Point::at(PointKind::Incidence, &station.name),
                    text: format!("{value}"),
                    quantity: Kind::Angle,
                    value,
                    resolution: level.step,
                    facing: Some(facing),
                    instrument: Some("level".to_owned()),
                    temperature: None,
                    round: self.round,
                    scatter: None,
                    dial: None,
                    samples: None,
                    unsettled: false,
                    source: Source::Typed,
                    note: None,
                    asked: None,
                }));
            }
        }
    }
}
