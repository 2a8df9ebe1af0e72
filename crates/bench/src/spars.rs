//! The spars, moved by their supports: what to turn now, and how far it went by a level on a station.

use crate::measured::Measured;
use crate::{By, Log, Turn};
use assess::advice::{Effect, Pull, Step, go_on, pulls_at};
use record::plan::Plan;
use record::point::Design;
use record::{Point, PointKind};

/// A support that tilts the station less than this per millimetre cannot be identified, in degrees.
const LEAST_PULL_DEG: f64 = 1e-4;
/// A support with less than this share of the strongest effect is not a candidate for what moved.
const LEAST_SHARE: f64 = 0.1;

/// What to move, as of the log's last entry.
#[derive(Clone, Debug, Default)]
pub(crate) struct Spars {
    steps: Vec<Step>,
    pulls: Vec<Pull>,
    /// Why nothing is to be turned.
    pub why: Vec<String>,
}

impl Spars {
    pub fn of(log: &Log<'_>) -> Self {
        let advice = go_on(log.plan, log.entries, log.assessment);
        let station = advice.steps.first().and_then(|step| step.watch_at.clone());
        let pulls = station.map_or_else(Vec::new, |at| pulls_at(log.plan, log.entries, &at));
        let why = std::iter::once(advice.words.to_string()).chain(advice.reasons).collect();
        Self { steps: advice.steps, pulls, why }
    }

    pub const fn left(&self) -> usize {
        self.steps.len()
    }

    /// Where the level should be.
    pub fn point(&self) -> Option<Point> {
        let station = self.steps.first()?.watch_at.as_deref()?;
        let kind = PointKind::all().find(|kind| kind.row().design == Design::Incidence)?;
        Some(Point::at(kind, station))
    }

    /// The screw to turn now.
    pub fn turn(&self) -> Option<Turn> {
        let step = self.steps.first().filter(|step| step.watch_at.is_some())?;
        Some(Turn {
            by: By::Level,
            foot: step.support.clone(),
            mm: step.amount_mm,
            turns: step.turns,
            to_go: step.turns,
            give_or_take: step.give_or_take_turns,
            words: step.words.clone(),
        })
    }

    /// The move of each support alone that would explain a change of the incidence there, in degrees with its
    /// standard uncertainty. The effect of a mm is not well known, which the uncertainty includes.
    pub fn of_supports(&self, plan: &Plan, change_deg: f64, u_deg: f64) -> Vec<Measured> {
        let most = self.pulls.iter().map(|pull| pull.per_mm.abs()).fold(0.0, f64::max);
        let tells = |pull: &&Pull| pull.per_mm.abs() > LEAST_PULL_DEG.max(LEAST_SHARE * most);
        let of = |pull: &Pull| {
            let support = plan.support(&pull.support)?;
            let mm = change_deg / pull.per_mm;
            let u_mm = libm::hypot(u_deg / pull.per_mm, mm * pull.u_per_mm / pull.per_mm);
            let effect = Effect::of(plan.wing.attitude, support.direction, mm);
            Some(Measured::new(&support.name, effect, &support.adjust, mm, u_mm))
        };
        self.pulls.iter().filter(tells).filter_map(of).collect()
    }
}
