//! The shaft in its bushes: whether a straight shaft passes, with what clearance, and if not, what to move.

use super::computed::Redrawn;
use super::{Computed, Values};
use crate::estimate::{Estimate, Measured};
use crate::judge::{ToJudge, judged};
use crate::view::{BoreLine, BushView, JudgedBy, NoJudgement, ObligationKind as K, Shift, Unjudged};
use numerics::bores::{Bore, ShaftLine, freeing_shift, shaft_line};
use numerics::dist::normal_quantile;
use quantity::Kind;
use record::plan::{Acceptance, Bush, Plan, Rule};
use record::{Limits, Point, PointKind};

/// The largest loss, in mm, from showing a move to a hundredth of a millimetre in each direction.
const TOLD: f64 = 0.0071;
/// The largest share by which a bore may differ from the drawing: reaming stays below it, a slipped figure does not.
const AS_BUILT: f64 = 0.2;
/// Seed of the draws for the bushes.
const SEED: u64 = 0x626f_7265;

/// A bush whose centre was measured.
struct Found<'p> {
    bush: &'p Bush,
    aft: &'p Estimate,
    up: &'p Estimate,
    /// The measured bore, or the design bore without uncertainty.
    bore: Estimate,
    rests_on: Vec<&'p Measured>,
}

/// The best line through the bushes with measured centres; `None` without a shaft or with fewer than two.
pub fn bore_line(plan: &Plan, values: &Values, computed: &Computed) -> Option<Result<BoreLine, Unjudged>> {
    let shaft = plan.shaft.as_ref()?;
    let found: Vec<Found<'_>> = plan.bushes.iter().filter_map(|b| find(b, values)).collect();
    let bores: Vec<Bore> = found
        .iter()
        .map(|f| Bore { y: f.bush.span.value(), x: f.aft.value, z: f.up.value, diameter: f.bore.value })
        .collect();
    if found.len() < 2 {
        return None;
    }
    let judged_by = JudgedBy::new(K::Clearance, &shaft.name);
    let not = |why: NoJudgement| {
        let points = found.iter().flat_map(|f| points(f.bush)).collect();
        Some(Err(Unjudged { judged_by: judged_by.clone(), why, points }))
    };
    if let Some(odd) = found.iter().find(|f| !like_the_drawing(f)) {
        return not(NoJudgement::OtherBore {
            bush: odd.bush.name.clone(),
            is: odd.bore.value,
            drawn: odd.bush.bore.value(),
            shown_in: plan.shown_in.scale(Kind::Length),
        });
    }
    let diameter = shaft.diameter.value();
    let line =
        computed.shafts.of((bores.clone(), diameter), |(bores, diameter)| shaft_line(bores, *diameter));
    let line = match line {
        Ok(line) => line,
        Err(why) => return not(why.into()),
    };
    let first = clearance(&found, &line);
    let u = first.u().max(libm::hypot(redrawn(&found, &line, computed), first.shared_u()));
    let rests_on: Vec<&Measured> = found.iter().flat_map(|f| f.rests_on.iter().copied()).collect();
    let wanted = shaft.clearance.map_or(0.0, |c| c.value());
    let short = !line.passes() || line.clearance < wanted;
    let shifts = |aim: f64| -> Vec<Option<_>> {
        let shift = |i| short.then(|| freeing_shift(&bores, diameter, i, aim).ok().flatten()).flatten();
        (0..bores.len()).map(shift).collect()
    };
    // A move that just reaches the limit would prove nothing: aim beyond it by the uncertainty of the readings, if
    // possible.
    let aim = wanted + beyond(&plan.rule) * u;
    let reached = [aim + TOLD, aim].into_iter().map(shifts).find(|s| s.iter().any(Option::is_some));
    let is_proven = reached.is_some();
    let shifts = reached.unwrap_or_else(|| shifts(wanted));
    let bushes: Vec<BushView> = found
        .iter()
        .zip(&shifts)
        .enumerate()
        .map(|(i, (f, shift))| {
            let y = f.bush.span.value();
            BushView {
                bush: f.bush.name.clone(),
                span_mm: y,
                aft_mm: f.aft.value,
                up_mm: f.up.value,
                bore_mm: f.bore.value,
                line_aft_mm: line.x.at(y),
                line_up_mm: line.z.at(y),
                clearance_mm: line.clearances[i],
                shift_mm: shift.map(|s| Shift { aft: s.x, up: s.z }),
            }
        })
        .collect();
    let mut out = BoreLine {
        shaft: shaft.name.clone(),
        clearance: judged(
            plan,
            judged_by.to_string(),
            ToJudge::made(Kind::Length, line.clearance, u, rests_on),
            shaft.clearance.map(|c| Limits::at_least(c.value())),
        ),
        passes: line.passes(),
        advice: Vec::new(),
        bushes,
    };
    if short {
        out.advice = advice(plan, &line, &out, is_proven);
    }
    Some(Ok(out))
}

/// How many standard uncertainties beyond a limit a move aims: twice as sure as the rule requires, because it will be
/// read again.
fn beyond(rule: &Rule) -> f64 {
    match rule.acceptance {
        Acceptance::Guarded => normal_quantile(f64::midpoint(1.0, rule.level)),
        Acceptance::Simple => 0.0,
    }
}

fn points(bush: &Bush) -> [Point; 3] {
    [PointKind::BoreAft, PointKind::BoreUp, PointKind::Bore].map(|kind| Point::at(kind, &bush.name))
}

fn find<'p>(bush: &'p Bush, values: &'p Values) -> Option<Found<'p>> {
    let [aft, up, bore] = points(bush).map(|point| values.get(&point));
    let (aft, up) = (aft?, up?);
    Some(Found {
        bush,
        aft: &aft.estimate,
        up: &up.estimate,
        bore: bore.map_or_else(|| Estimate::exact(bush.bore.value()), |m| m.estimate.clone()),
        rests_on: [Some(aft), Some(up), bore].into_iter().flatten().collect(),
    })
}

fn like_the_drawing(f: &Found<'_>) -> bool {
    let drawn = f.bush.bore.value();
    (f.bore.value - drawn).abs() <= AS_BUILT * drawn + 4.0 * f.bore.u()
}

/// Standard deviation of the least clearance when bores and centres are drawn again with their own uncertainties
/// about the line found. The least of several uncertain clearances is not as certain as the one that happens to be
/// least. The shaft follows its bushes: of a centre's error, only what a straight line through all of them cannot
/// follow counts; with two bushes, nothing.
fn redrawn(found: &[Found<'_>], line: &ShaftLine, computed: &Computed) -> f64 {
    let spans: Vec<f64> = found.iter().map(|f| f.bush.span.value()).collect();
    let centre = found.iter().map(|f| f.aft.own.max(f.up.own)).fold(0.0, f64::max);
    let own = found.iter().zip(left_by_a_line(&spans));
    let own = own.map(|(f, left)| libm::hypot(f.bore.own / 2.0, centre * left)).collect();
    let of = Redrawn { seed: SEED, at: spans, values: line.clearances.clone(), own };
    computed.redrawn(of, |drawn| drawn.iter().copied().fold(f64::INFINITY, f64::min) - line.clearance)
}

/// The share of each value's standard deviation that a least-squares line through values at these places leaves.
fn left_by_a_line(spans: &[f64]) -> Vec<f64> {
    let n = spans.len() as f64;
    let mean = spans.iter().sum::<f64>() / n;
    let spread: f64 = spans.iter().map(|y| (y - mean) * (y - mean)).sum();
    let taken = |y: &f64| 1.0 / n + (y - mean) * (y - mean) / spread;
    spans.iter().map(|y| libm::sqrt((1.0 - taken(y)).max(0.0))).collect()
}

/// First-order propagation through the best line. An error that all measurements share (a gauge's zero) moves the
/// line and not the clearance, and cancels.
fn clearance(found: &[Found<'_>], line: &ShaftLine) -> Estimate {
    let parts: Vec<(f64, &Estimate)> = found
        .iter()
        .zip(&line.sensitivity)
        .flat_map(|(f, s)| [(s.x, f.aft), (s.z, f.up), (s.diameter, &f.bore)])
        .collect();
    Estimate::propagate(line.clearance, &parts)
}

fn advice(plan: &Plan, line: &ShaftLine, of: &BoreLine, is_proven: bool) -> Vec<String> {
    let scale = plan.shown_in.scale(Kind::Length);
    let mut out = vec![if of.passes {
        format!("{} passes, with less clearance than wanted", of.shaft)
    } else {
        let by = scale.rough_with(-line.clearance);
        format!("{} binds: the bushes are {by} too far out of line for it", of.shaft)
    }];
    let ways = of.ways();
    for (bush, Shift { aft, up }) in &ways {
        let mut parts = Vec::new();
        for (size, plus, minus) in [(*aft, "aft", "forward"), (*up, "up", "down")] {
            if size.abs() >= 0.005 {
                let size_words = scale.fixed_with(size.abs(), 2);
                parts.push(format!("{size_words} {}", if size > 0.0 { plus } else { minus }));
            }
        }
        if !parts.is_empty() {
            let does =
                if is_proven { "would be enough" } else { "would free it, too near its limit to be proven" };
            out.push(format!("moving {} alone by {} {does}", bush.bush, parts.join(" and ")));
        }
    }
    if ways.is_empty() {
        out.push("no single bush is enough: move at least two".to_owned());
    }
    out
}
