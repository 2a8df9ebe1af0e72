//! What is judged, as lines over the moves: each limit gives one ratio that grows toward 1 at the limit.

use super::learn::Learned;
use crate::view::{Assessment, Judged, StationView, Twist};
use record::plan::Plan;

/// What a limit without another to measure it against is measured against at least, in degrees.
const LEAST_SCALE_DEG: f64 = 0.01;

/// One limit of one value. Its ratio after moves is `now + per_mm · moves`, 1 at the limit, above it outside; with what
/// is not known of the influences it may come out `unsure · |moves|` worse.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// What is judged (`S4`, `setting`).
    pub what: String,
    /// Ratio now.
    pub now: f64,
    /// Change of the ratio per mm of each support of the plan.
    pub per_mm: Vec<f64>,
    /// Standard uncertainty of that change, per mm of each support.
    pub unsure: Vec<f64>,
    /// Standard uncertainty of the ratio now.
    pub u: f64,
}

impl Row {
    /// The ratio after moves (mm, one per support) as expected.
    #[must_use]
    pub fn after(&self, moves_mm: &[f64]) -> f64 {
        self.now + self.per_mm.iter().zip(moves_mm).map(|(a, m)| a * m).sum::<f64>()
    }

    /// The ratio after moves that must be reckoned with: every influence one standard uncertainty to the worse.
    #[must_use]
    pub fn at_worst(&self, moves_mm: &[f64]) -> f64 {
        self.after(moves_mm) + self.unsure.iter().zip(moves_mm).map(|(a, m)| a * m.abs()).sum::<f64>()
    }
}

/// A value with limits and what a mm at each support does to it.
struct Target {
    what: String,
    value: f64,
    u: f64,
    limits: (Option<f64>, Option<f64>),
    reach: Reach,
}

/// Influences of all supports on a value, in degrees per mm, and their standard uncertainties.
struct Reach {
    per_mm: Vec<f64>,
    unsure: Vec<f64>,
}

/// Every limit of the setting, the twist error at the stations and the tip, and the steps between neighbours.
#[must_use]
pub fn rows(plan: &Plan, assessment: &Assessment, learned: &Learned) -> Vec<Row> {
    let Some(twist) = &assessment.twist else { return Vec::new() };
    let (root, tip) = (plan.wing.root.value(), plan.wing.tip.value());
    let at = |span: f64| Reach {
        per_mm: learned.on_incidence(plan, span),
        unsure: learned.own_u_per_mm(plan, span, None),
    };
    let between = |from: f64, to: f64| Reach {
        per_mm: learned.difference(plan, from, to),
        unsure: learned.own_u_per_mm(plan, to, Some(from)),
    };
    let mut targets = vec![of_judged(&twist.setting, at(root))];
    targets.push(of_judged(&twist.washout_error, between(root, tip)));
    let limits = plan
        .tolerances
        .station
        .map_or((None, None), |l| (l.lower.map(|d| d.value()), l.upper.map(|d| d.value())));
    for station in &twist.stations {
        if let (Some(value), Some(u)) = (station.twist_error_deg, station.u_deg) {
            let reach = between(root, station.span_mm);
            targets.push(Target { what: station.name.clone(), value, u, limits, reach });
        }
    }
    for ([inner, outer], judged) in measured_pairs(twist).zip(&twist.neighbours) {
        targets.push(of_judged(judged, between(inner.span_mm, outer.span_mm)));
    }
    targets.iter().flat_map(of_target).collect()
}

/// Measured stations next to each other, in the order of the twist's neighbours.
fn measured_pairs(twist: &Twist) -> impl Iterator<Item = [&StationView; 2]> {
    let measured: Vec<&StationView> = twist.stations.iter().filter(|s| s.deviation_deg.is_some()).collect();
    (1..measured.len()).map(move |i| [measured[i - 1], measured[i]])
}

fn of_judged(judged: &Judged, reach: Reach) -> Target {
    Target {
        what: judged.what.clone(),
        value: judged.value,
        u: judged.u,
        limits: (judged.lower, judged.upper),
        reach,
    }
}

/// Limits either side of zero measure their own side; limits on one side of zero are measured from their middle; a
/// single limit from zero, or by its size where zero is already past it.
fn of_target(target: &Target) -> Vec<Row> {
    let row = |now: f64, slope: f64| Row {
        what: target.what.clone(),
        now,
        per_mm: target.reach.per_mm.iter().map(|g| g * slope).collect(),
        unsure: target.reach.unsure.iter().map(|g| g * slope.abs()).collect(),
        u: target.u * slope.abs(),
    };
    let v = target.value;
    match target.limits {
        (Some(l), Some(u)) if l < 0.0 && u > 0.0 => vec![row(v / u, 1.0 / u), row(v / l, 1.0 / l)],
        (Some(l), Some(u)) => {
            let (middle, half) = (f64::midpoint(l, u), (u - l) / 2.0);
            vec![row((v - middle) / half, 1.0 / half), row((middle - v) / half, -1.0 / half)]
        }
        (None, Some(u)) => {
            let scale = u.abs().max(LEAST_SCALE_DEG);
            vec![row(1.0 + (v - u) / scale, 1.0 / scale)]
        }
        (Some(l), None) => {
            let scale = l.abs().max(LEAST_SCALE_DEG);
            vec![row(1.0 + (l - v) / scale, -1.0 / scale)]
        }
        (None, None) => vec![],
    }
}
