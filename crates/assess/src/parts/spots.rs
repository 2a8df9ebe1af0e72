//! Spot checks, one by one and in rows.

use super::Values;
use crate::judge::{ToJudge, judged};
use crate::view::{Judged, PlaceValue, RowStep, RowTrend, RowView};
use quantity::Kind;
use record::plan::{Plan, RowPlace, Spot};
use record::{Point, PointKind};
use std::collections::BTreeMap;

/// A spot check against its own limits; `None` if it was not measured.
pub fn spot(plan: &Plan, spot: &Spot, values: &Values) -> Option<Judged> {
    let measured = values.get(&Point::at(PointKind::Spot, &spot.name))?;
    let value = ToJudge::of_point(spot.quantity, measured.estimate.value, measured);
    Some(judged(plan, spot.name.clone(), value, spot.limits))
}

/// Quantity, and place and value of each hole.
type Row = (Kind, Vec<PlaceValue>);

/// The rows of spot checks with at least two values.
pub fn rows(plan: &Plan, values: &Values) -> Vec<RowView> {
    let mut rows: BTreeMap<&str, Row> = BTreeMap::new();
    for spot in &plan.spots {
        let Some(RowPlace { row, place }) = &spot.row else { continue };
        let Some(m) = values.get(&Point::at(PointKind::Spot, &spot.name)) else { continue };
        let (_, list) = rows.entry(row).or_insert_with(|| (spot.quantity, Vec::new()));
        list.push(PlaceValue { place: *place, value: m.estimate.value });
    }
    rows.into_iter()
        .filter(|(_, (_, list))| list.len() >= 2)
        .map(|(row, (unit, mut list))| {
            list.sort_by_key(|v| v.place);
            summary(row, unit, list)
        })
        .collect()
}

fn summary(row: &str, unit: Kind, values: Vec<PlaceValue>) -> RowView {
    let n = values.len() as f64;
    let mean = values.iter().map(|v| v.value).sum::<f64>() / n;
    let squares: f64 = values.iter().map(|v| (v.value - mean) * (v.value - mean)).sum();
    let most = values.iter().map(|v| v.value).fold(f64::NEG_INFINITY, f64::max);
    let least = values.iter().map(|v| v.value).fold(f64::INFINITY, f64::min);
    let worst_step = values
        .windows(2)
        .filter_map(|w| match w {
            [a, b] => Some(RowStep { after: a.place, step: b.value - a.value }),
            _ => None,
        })
        .max_by(|a, b| a.step.abs().total_cmp(&b.step.abs()));
    RowView {
        row: row.to_owned(),
        unit,
        mean,
        sd: libm::sqrt(squares / (n - 1.0)),
        spread: most - least,
        trend: trend(&values),
        worst_step,
        values,
    }
}

/// Slope along the row.
fn trend(values: &[PlaceValue]) -> Option<RowTrend> {
    let places: Vec<f64> = values.iter().map(|v| f64::from(v.place)).collect();
    let found: Vec<f64> = values.iter().map(|v| v.value).collect();
    numerics::trend::trend(&places, &found).map(|t| RowTrend { slope: t.slope, p: t.p })
}
