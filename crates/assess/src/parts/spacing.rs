//! Distances of the stations from the root datum, at 20 °C.

use super::Values;
use crate::judge::{ToJudge, judged};
use crate::view::{ObligationKind as K, SpacingView};
use quantity::Kind;
use record::plan::Plan;
use record::{Point, PointKind};

/// The stations whose distance was measured.
pub fn spacing(plan: &Plan, values: &Values) -> Vec<SpacingView> {
    let mut before: Option<f64> = None;
    let read = values.keys().filter(|p| p.kind() == PointKind::Spacing).map(Point::place);
    plan.stations_among(read)
        .filter_map(|(_, station)| {
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
                deviation: judged(
                    plan,
                    K::Spacing.of(&station.name),
                    ToJudge::of_point(Kind::Length, deviation, measured),
                    plan.tolerances.spacing.map(record::Limits::values),
                ),
                gap_deviation_mm: gap,
            })
        })
        .collect()
}
