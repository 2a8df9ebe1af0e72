//! Moves made with a level on a station: what it showed, and how planning continues.

use super::belief::Belief;
use super::learn::Learned;
use super::observed::{Observation, Seen, Turned};
use super::steps::hand_mm;
use record::plan::Plan;
use record::point::{Design, Judgement};
use record::{Entry, Move, MoveSeen, What, Withdrawn};

/// The believed effect of a mm at a support on the incidence at a station.
#[derive(Clone, Debug, PartialEq)]
pub struct Pull {
    pub support: String,
    /// Degrees per mm.
    pub per_mm: f64,
    /// Standard uncertainty of that.
    pub u_per_mm: f64,
}

/// A support of the field that was moved since the profile was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Held {
    /// By how much, in mm.
    pub mm: f64,
    /// Whether it can be turned further: if the level measured how far it went, what remains is known.
    pub goes_on: bool,
}

/// Moves made so far, one entry for each support of the field; `None` for those not moved.
pub(super) fn held(plan: &Plan, learned: &Learned, done: &[Move]) -> Vec<Option<Held>> {
    let of = |s: &usize| {
        let own: Vec<&Move> = done.iter().filter(|d| d.support == plan.supports[*s].name).collect();
        let goes_on = own.iter().any(|d| d.u().is_some());
        (!own.is_empty()).then(|| Held { mm: own.iter().map(|d| d.amount.value()).sum(), goes_on })
    };
    learned.belief.field.supports.iter().map(of).collect()
}

/// What a move teaches; `None` if nothing was observed, if its amount was computed from what was observed, or if the
/// plan lacks the support or the station.
pub(super) fn observation(plan: &Plan, made: &Move) -> Option<Observation> {
    let incidence =
        |seen: &&MoveSeen| seen.point.kind().row().design == Design::Incidence && made.u().is_none();
    let seen = made.seen.as_ref().filter(incidence)?;
    let support = plan.supports.iter().position(|s| s.name == made.support)?;
    let span_mm = plan.station(seen.point.place())?.span.value();
    let (mm, u_mm) = (made.amount.value(), hand_mm(&plan.supports[support]));
    Some(Observation {
        moves: vec![Turned { support, mm, u_mm }],
        stations: vec![Seen { span_mm, change_deg: seen.change.value(), own_deg: seen.u.value() }],
        shared: vec![],
    })
}

/// The moves of supports since the last measurement of the profile.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct UnderWay {
    /// Number of entries before the first of them.
    pub before: usize,
    /// The moves.
    pub done: Vec<Move>,
}

impl UnderWay {
    /// From the log. `None` if the log's last word on the profile is not such a move: a reading of the profile, a
    /// stage, a new plan, a rework, or a moved foot ends it.
    pub fn of(plan: &Plan, entries: &[Entry]) -> Option<Self> {
        let withdrawn = Withdrawn::of(entries.iter());
        let mut now: Option<Self> = None;
        for (at, entry) in entries.iter().enumerate().filter(|(_, e)| !withdrawn.contains(e.seq)) {
            match &entry.what {
                What::Move(made) if plan.supports.iter().any(|s| s.name == made.support) => {
                    let under_way = now.get_or_insert_with(|| Self { before: at, done: vec![] });
                    under_way.done.push(made.clone());
                }
                What::Move(_) | What::Stage(_) | What::Replanned { .. } | What::Rework(_) => now = None,
                What::Reading(r) if r.point.kind().row().judgement == Judgement::Twist => now = None,
                _ => {}
            }
        }
        now
    }
}

/// The believed effect of each movable support at a station.
pub(super) fn pulls(plan: &Plan, belief: &Belief, station: &str) -> Vec<Pull> {
    let Some(station) = plan.station(station) else { return vec![] };
    let places = belief.field.places(plan, &[station.span.value()]);
    let Some(way) = places.first().map(|place| belief.way(place)) else { return vec![] };
    let covariance = belief.covariance_of(&way);
    let of = |(j, s): (usize, &usize)| Pull {
        support: plan.supports[*s].name.clone(),
        per_mm: way.per_mm[j],
        u_per_mm: covariance[j][j].max(0.0).sqrt(),
    };
    belief.field.supports.iter().enumerate().map(of).collect()
}
