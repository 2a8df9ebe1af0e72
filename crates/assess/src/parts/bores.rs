//! The shaft in its bushes: does a straight shaft go through, with what clearance, and if not what to move.

use super::Values;
use crate::estimate::Estimate;
use crate::judge::{Spread, judged};
use crate::resolve::{Makeup, figure};
use crate::view::{BoreLine, BushView, JudgedBy, Shift};
use numerics::bores::{Bore, ShaftLine, freeing_shift, shaft_line};
use quantity::Kind;
use record::plan::{Bush, Plan, Shaft};
use record::{Limits, Point, PointKind};

/// A bush whose centre was measured.
struct Found<'p> {
    bush: &'p Bush,
    aft: &'p Estimate,
    up: &'p Estimate,
    /// The measured bore, or the design's taken as exact.
    bore: Estimate,
}

/// The best line through the bushes whose centres were measured; `None` without a shaft or with fewer than two.
pub fn bore_line(plan: &Plan, values: &Values) -> Option<BoreLine> {
    let shaft = plan.shaft.as_ref()?;
    let found: Vec<Found<'_>> = plan.bushes.iter().filter_map(|b| find(b, values)).collect();
    let bores: Vec<Bore> = found
        .iter()
        .map(|f| Bore { y: f.bush.span.value(), x: f.aft.value, z: f.up.value, diameter: f.bore.value })
        .collect();
    let line = shaft_line(&bores, shaft.diameter.value()).ok()?;
    let clearance = clearance(&found, &line);
    let wanted = shaft.clearance.map_or(0.0, |c| c.value());
    let short = !line.passes() || line.clearance < wanted;
    let bushes: Vec<BushView> = found
        .iter()
        .enumerate()
        .map(|(i, f)| {
            let shift = short
                .then(|| freeing_shift(&bores, shaft.diameter.value(), i, wanted).ok().flatten())
                .flatten();
            let y = f.bush.span.value();
            BushView {
                bush: f.bush.name.clone(),
                span_mm: y,
                aft_mm: f.aft.value,
                up_mm: f.up.value,
                bore_mm: f.bore.value,
                line_aft_mm: line.x.0 + line.x.1 * y,
                line_up_mm: line.z.0 + line.z.1 * y,
                clearance_mm: line.clearances[i],
                shift_mm: shift.map(|s| Shift { aft: s.x, up: s.z }),
            }
        })
        .collect();
    Some(BoreLine {
        shaft: shaft.name.clone(),
        clearance: judged(
            &plan.rule,
            JudgedBy::Clearance(shaft.name.clone()).to_string(),
            Kind::Length,
            line.clearance,
            Spread::normal(clearance.u()),
            shaft.clearance.map(|c| Limits::at_least(c.value())),
            &Makeup::Unknown,
        ),
        passes: line.passes(),
        advice: if short { advice(shaft, &line, &bushes) } else { Vec::new() },
        bushes,
    })
}

fn find<'p>(bush: &'p Bush, values: &'p Values) -> Option<Found<'p>> {
    let of = |kind| values.get(&Point::at(kind, &bush.name)).map(|m| &m.estimate);
    Some(Found {
        bush,
        aft: of(PointKind::BoreAft)?,
        up: of(PointKind::BoreUp)?,
        bore: of(PointKind::Bore).cloned().unwrap_or_else(|| Estimate::exact(bush.bore.value())),
    })
}

/// First-order propagation through the best line; what the measurements share (a gauge's zero) moves the line and not
/// the clearance, and drops out by itself.
fn clearance(found: &[Found<'_>], line: &ShaftLine) -> Estimate {
    let parts: Vec<(f64, &Estimate)> = found
        .iter()
        .zip(&line.sensitivity)
        .flat_map(|(f, s)| [(s.x, f.aft), (s.z, f.up), (s.diameter, &f.bore)])
        .collect();
    Estimate::propagate(line.clearance, &parts)
}

fn advice(shaft: &Shaft, line: &ShaftLine, bushes: &[BushView]) -> Vec<String> {
    let mut out = vec![if line.passes() {
        format!("{} goes through, with less clearance than wanted", shaft.name)
    } else {
        format!(
            "{} binds: the bushes are {} mm too far out of line for it",
            shaft.name,
            figure(-line.clearance)
        )
    }];
    let mut ways: Vec<(&BushView, Shift)> = bushes.iter().filter_map(|b| Some((b, b.shift_mm?))).collect();
    ways.sort_by(|a, b| libm::hypot(a.1.aft, a.1.up).total_cmp(&libm::hypot(b.1.aft, b.1.up)));
    for (bush, Shift { aft, up }) in &ways {
        let mut parts = Vec::new();
        for (size, plus, minus) in [(*aft, "aft", "forward"), (*up, "up", "down")] {
            if size.abs() >= 0.005 {
                parts.push(format!("{:.2} mm {}", size.abs(), if size > 0.0 { plus } else { minus }));
            }
        }
        if !parts.is_empty() {
            out.push(format!("moving {} alone by {} would do it", bush.bush, parts.join(" and ")));
        }
    }
    if ways.is_empty() {
        out.push("no single bush can do it: at least two must move".to_owned());
    }
    out
}
