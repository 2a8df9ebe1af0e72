//! Simulated wings and the levels that read them. Nothing here comes from the code under test: the generator, the
//! shapes, the scatter and the rounding are its own.
#![allow(dead_code, reason = "each test file uses a part of it")]

pub mod cells;
pub mod score;
pub mod shape;

use crate::wing::{self, Log};
use quantity::{Degrees, InstrumentKind, Kind};
use record::plan::{Plan, Tolerances};
use record::{Facing, Instrument, Limits, Point, PointKind, Reading, StageBegun, What};
use shape::Shape;

/// Length of the invented wing from datum to datum.
pub const SPAN_MM: f64 = 4000.0;
/// Limit of error of the invented level's zero.
pub const ACCURACY_DEG: f64 = 0.2;

/// A generator of its own: a multiplicative one of 64 bits with its high bits kept (constants by P. L'Ecuyer, "Tables
/// of linear congruential generators", 1999, from memory). Normal draws use Box and Muller's formula; the sum of
/// twelve uniforms would be too coarse in the tails.
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
    /// Standard deviation of the seating, as its file says.
    pub seating: f64,
    /// Both facings, or one.
    pub pairs: bool,
    /// How much worse it really is: its seating and its display together.
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
            accuracy: Some(ACCURACY_DEG),
            repeatability: Some(self.seating),
            ..Instrument::of("level", InstrumentKind::Inclinometer, self.step)
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
        // Worse by a factor: more seating error, so that the deviation of one whole reading is that many times the
        // claimed one.
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
    let mut plan = wing::at(SPAN_MM, eta);
    if level.flat {
        plan.stations.iter_mut().for_each(|s| s.incidence = Degrees::new(0.0));
    }
    Plan {
        tolerances: Tolerances {
            setting: tolerance.map(|t| both(2.0 * t)),
            washout: tolerance.map(both),
            station: tolerance.map(both),
            ..Tolerances::default()
        },
        stages: vec![wing::stage("ready to skin", &plan, &[])],
        instruments: vec![level.instrument()],
        ..plan
    }
}

/// A log in which the stage has begun and no round yet.
pub fn begun() -> Log {
    let mut log = Log::new();
    log.round = 0;
    log.happens(What::Stage(StageBegun::new("ready to skin")));
    log
}

impl Log {
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
                self.happens(What::Reading(Reading {
                    facing: Some(facing),
                    instrument: Some("level".to_owned()),
                    round: self.round,
                    ..Reading::of(
                        Point::at(PointKind::Incidence, &station.name),
                        Kind::Angle,
                        value,
                        level.step,
                    )
                }));
            }
        }
    }
}
