//! Where things are along the span: relative place, design incidence, spars.

use super::{Plan, Spar, Station};
use quantity::{Degrees, Millimetres};

impl Plan {
    /// Relative place of a span: 0 at the root datum, 1 at the tip datum.
    #[must_use]
    pub fn eta(&self, span: Millimetres) -> f64 {
        (span - self.wing.root).value() / (self.wing.tip - self.wing.root).value()
    }

    /// Design incidence at a span: linear from station to station, extended beyond the outermost two.
    #[must_use]
    pub fn design_incidence(&self, span: Millimetres) -> Degrees {
        let after = self.stations.partition_point(|s| s.span < span);
        let upper = after.clamp(1, self.stations.len().saturating_sub(1).max(1));
        match (self.stations.get(upper - 1), self.stations.get(upper)) {
            (Some(a), Some(b)) => between(a, b, span),
            (Some(only), None) => only.incidence,
            _ => Degrees::new(0.0),
        }
    }

    /// How far aft a spar is at a span; it is straight in plan view.
    #[must_use]
    pub fn spar_aft(&self, spar: &Spar, span: Millimetres) -> Millimetres {
        spar.aft_root + (spar.aft_tip - spar.aft_root) * self.eta(span)
    }
}

fn between(a: &Station, b: &Station, span: Millimetres) -> Degrees {
    let apart = (b.span - a.span).value();
    if apart == 0.0 {
        return a.incidence;
    }
    a.incidence + (b.incidence - a.incidence) * ((span - a.span).value() / apart)
}
