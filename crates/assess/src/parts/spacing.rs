//! Distances of the stations from the root datum, at 20 °C.

use super::{Values, makeup, normal};
use crate::judge::{doubted, judged};
use crate::view::{JudgedBy, SpacingView};
use quantity::Kind;
use record::plan::Plan;
use record::{Point, PointKind};

/// The stations whose distance was measured.
pub fn spacing(plan: &Plan, values: &Values) -> Vec<SpacingView> {
    let mut before: Option<f64> = None;
    plan.stations
        .iter()
        .filter_map(|station| {
            let measured = values.get(&Point::at(PointKind::Spacing, &station.name))?;
            let design = (station.span - plan.wing.root).value();
            let deviation = measured.estimate.value - design;
            let gap = before.map(|b| deviation - b);
            before = Some(deviation);
            Some(SpacingView {
                station: station.name.clone(),
                design_mm: design,
                measured_mm: measured.estimate.value,
                correction_mm: measured.correction,
                deviation: doubted(
                    judged(
                        plan,
                        JudgedBy::Spacing(station.name.clone()).to_string(),
                        Kind::Length,
                        deviation,
                        normal(&measured.estimate),
                        plan.tolerances.spacing.map(|l| l.map(|d| d.value())),
                        &makeup(measured),
                    ),
                    [measured],
                ),
                gap_deviation_mm: gap,
            })
        })
        .collect()
}
