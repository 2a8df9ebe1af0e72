//! The plan's limit for a thing, as text.

use crate::view::ObligationKind as K;
use quantity::Kind;
use record::Limits;
use record::plan::{Plan, Spot};
use std::collections::BTreeMap;

pub struct PlanLimits<'p> {
    plan: &'p Plan,
    spots: BTreeMap<&'p str, &'p Spot>,
}

impl<'p> PlanLimits<'p> {
    pub fn new(plan: &'p Plan) -> Self {
        Self { plan, spots: plan.spots.iter().map(|s| (s.name.as_str(), s)).collect() }
    }

    /// The limit with its unit: `±0.25°`, `at most 1.2 mm`; `None` if the plan has none.
    pub fn of(&self, kind: K, about: &str) -> Option<String> {
        let plan = self.plan;
        let t = &plan.tolerances;
        let shown = |lower, upper, kind| plan.shown_in.scale(kind).limits_with(lower, upper);
        let both = |l: Limits<f64>, kind| shown(l.lower, l.upper, kind);
        let angle = |l: &Option<Limits<quantity::Degrees>>| l.and_then(|l| both(l.values(), Kind::Angle));
        match kind {
            K::Level => angle(&t.level),
            K::Cross => angle(&t.cross),
            K::Setting => angle(&t.setting),
            K::Washout => angle(&t.washout),
            K::Neighbour => angle(&t.neighbour),
            K::Station => angle(&t.station),
            K::Square => angle(&t.square),
            K::Straightness => shown(None, t.straightness.map(|d| d.value()), Kind::Length),
            K::Spacing => t.spacing.and_then(|l| both(l.values(), Kind::Length)),
            K::Clearance => {
                let wanted = plan.shaft.as_ref().and_then(|s| s.clearance);
                shown(wanted.map(|d| d.value()), None, Kind::Length)
            }
            K::Spot => {
                let spot = self.spots.get(about)?;
                spot.limits.and_then(|l| both(l, spot.quantity))
            }
            K::Rigging => {
                let check = plan.rig_checks().into_iter().find(|c| c.name == about)?;
                check.limits.and_then(|l| shown(l.lower, l.upper, check.unit))
            }
            K::Stage | K::Point | K::Instrument | K::OpenItem | K::Record => None,
        }
    }
}
