//! Tolerances that no instrument of the plan can prove.
//!
//! A value is within if it lies so with a probability of 0.95 or more (JCGM 106), so half the width of its zone is at least 1.96 standard
//! uncertainties; and what is read in steps of r is no surer than r/sqrt(24) after a reversal pair (JCGM 100, F.2.2.1).

use super::{Acceptance, Plan, PlanWarning};
use crate::point::Judgement;
use crate::{Instrument, Limits, Point};
use quantity::{Degrees, Kind, Millimetres};

/// Least half width of a zone, in steps of the display: 1.96/sqrt(24), rounded down.
const STEPS: f64 = 0.4;
/// The most rounds before the last one of a point that can count.
pub const EARLIER: usize = 20;
/// The most rounds that are averaged for the twist.
#[expect(clippy::cast_precision_loss, reason = "a few rounds")]
const ROUNDS: f64 = EARLIER as f64 + 1.0;

impl Plan {
    /// A warning for each tolerance that the finest instrument of the plan cannot prove, where it has one for that quantity.
    /// One-sided limits are left out: a value can be far from them.
    pub(super) fn too_fine(&self, all: &mut Vec<PlanWarning>) {
        if self.rule.acceptance == Acceptance::Simple {
            return;
        }
        let t = &self.tolerances;
        let angle = |limits: Option<Limits<Degrees>>| half(limits?.map(Degrees::value));
        #[expect(clippy::cast_precision_loss, reason = "at most ten thousand stations")]
        let stations = ROUNDS * self.stations.len().max(1) as f64;
        // With how many values are averaged at most.
        let stated = [
            ("setting", angle(t.setting), Judgement::Twist, Kind::Angle, stations),
            ("washout", angle(t.washout), Judgement::Twist, Kind::Angle, stations),
            ("station", angle(t.station), Judgement::Twist, Kind::Angle, ROUNDS),
            ("neighbour", angle(t.neighbour), Judgement::Twist, Kind::Angle, ROUNDS),
            (
                "straightness",
                t.straightness.map(Millimetres::value),
                Judgement::Straightness,
                Kind::Length,
                1.0,
            ),
            ("level", angle(t.level), Judgement::Level, Kind::Angle, 1.0),
            ("cross", angle(t.cross), Judgement::Cross, Kind::Angle, 1.0),
            (
                "spacing",
                t.spacing.and_then(|l| half(l.map(Millimetres::value))),
                Judgement::Spacing,
                Kind::Length,
                1.0,
            ),
        ];
        for (key, half, judgement, kind, averaged) in stated {
            let so_read = |p: &&Point| p.kind().row().judgement == judgement;
            let mut required = self.stages.iter().flat_map(|s| &s.requires).filter(so_read).peekable();
            if required.peek().is_none() {
                continue;
            }
            let step = match self.finest(kind) {
                found if required.all(|p| p.kind().quantity() == Some(kind)) => found,
                found if judgement == Judgement::Twist => self.finer_by_heights(found),
                _ => None,
            };
            prove(format!("tolerance.{key}"), half, step, averaged, all);
        }
        // A dial that its table turns into a force has no step in newtons.
        for spot in self.spots.iter().filter(|spot| spot.quantity != Kind::Force) {
            let half = spot.limits.and_then(half);
            prove(format!("the zone of {}", spot.name), half, self.finest(spot.quantity), 1.0, all);
        }
    }

    /// The instrument with the finest step for a quantity.
    fn finest(&self, kind: Kind) -> Option<Step<'_>> {
        let reads = |i: &&Instrument| i.kind.quantity().is_none_or(|quantity| quantity == kind);
        let steps = self.instruments.iter().filter(reads).map(|i| Step { of: &i.name, size: i.resolution });
        steps.min_by(|a, b| a.size.total_cmp(&b.size))
    }

    /// The finer of a level and of two heights, at most the longest chord apart. `None` without an instrument for the heights.
    fn finer_by_heights<'p>(&'p self, level: Option<Step<'p>>) -> Option<Step<'p>> {
        let chord = self.stations.iter().map(|s| s.chord.value()).fold(0.0, f64::max);
        let height = self.finest(Kind::Length)?;
        let height = Step { size: (height.size / chord).to_degrees(), ..height };
        Some(level.filter(|level| level.size < height.size).unwrap_or(height))
    }
}

/// The step of a display.
struct Step<'p> {
    of: &'p str,
    size: f64,
}

fn prove(what: String, half: Option<f64>, step: Option<Step<'_>>, averaged: f64, all: &mut Vec<PlanWarning>) {
    let (Some(half), Some(step)) = (half, step) else { return };
    let least = STEPS * step.size;
    if half * half * averaged < least * least {
        all.push(PlanWarning::TooFine { what, instrument: step.of.to_owned() });
    }
}

/// Half the width of a zone with two limits.
fn half(limits: Limits<f64>) -> Option<f64> {
    Some((limits.upper? - limits.lower?) / 2.0)
}
