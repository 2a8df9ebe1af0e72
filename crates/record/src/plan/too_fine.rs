//! Tolerances that no instrument of the plan can prove.
//!
//! A value is within if it lies so with a probability of 0.95 or more (JCGM 106), so half the width of its zone is at least 1.96 standard
//! uncertainties; and what is read in steps of r is no surer than r/sqrt(24) after a reversal pair (JCGM 100, F.2.2.1).

use super::{Acceptance, Plan, PlanWarning};
use crate::Limits;
use crate::point::Judgement;
use quantity::{Degrees, Kind, Millimetres};

/// Least half width of a zone, in steps of the display: 1.96/sqrt(24), rounded down.
const STEPS: f64 = 0.4;
/// The most rounds that are averaged for the twist.
const ROUNDS: f64 = 21.0;

impl Plan {
    /// A warning for each tolerance that the finest instrument of the plan cannot prove, where it has one for that quantity. Values that
    /// may also be measured in another quantity are left out, and so are one-sided limits, which a value can be far from.
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
            let so_read = |p: &&crate::Point| p.kind().row().judgement == judgement;
            let mut required = self.stages.iter().flat_map(|s| &s.requires).filter(so_read).peekable();
            if required.peek().is_some() && required.all(|p| p.kind().quantity() == Some(kind)) {
                self.prove(format!("tolerance.{key}"), half, kind, averaged, all);
            }
        }
        // A dial that its table turns into a force has no step in newtons.
        for spot in self.spots.iter().filter(|spot| spot.quantity != Kind::Force) {
            let half = spot.limits.and_then(half);
            self.prove(format!("the zone of {}", spot.name), half, spot.quantity, 1.0, all);
        }
    }

    fn prove(&self, what: String, half: Option<f64>, kind: Kind, averaged: f64, all: &mut Vec<PlanWarning>) {
        let reads = |i: &&crate::Instrument| i.kind.quantity().is_none_or(|quantity| quantity == kind);
        let finest =
            self.instruments.iter().filter(reads).min_by(|a, b| a.resolution.total_cmp(&b.resolution));
        let (Some(half), Some(finest)) = (half, finest) else { return };
        let least = STEPS * finest.resolution;
        if half * half * averaged < least * least {
            all.push(PlanWarning::TooFine { what, instrument: finest.name.clone() });
        }
    }
}

/// Half the width of a zone with two limits.
fn half(limits: Limits<f64>) -> Option<f64> {
    Some((limits.upper? - limits.lower?) / 2.0)
}
