//! Beside the plate, on a larger panel: what is known about the point so far.

use super::pair;
use crate::draw::shape::{frame, rule};
use crate::draw::text::row;
use crate::model::Wing;
use crate::screens::Cx;
use crate::words;
use egui::{Stroke, Ui};
use record::point::Design;
use record::{Facing, Point, Reading};

/// Draws it if there is room.
pub fn show(ui: &Ui, wing: &Wing, cx: &Cx<'_>, point: &Point) {
    let Some(rect) = cx.g.evidence() else { return };
    frame(ui.painter(), rect, cx.p.sheet, Stroke::new(1.5, cx.p.rule));
    let rows = rows(wing, cx, point);
    let inner = rect.shrink(16.0);
    let high = inner.height() / rows.len().max(5) as f32;
    for (i, (left, right)) in rows.iter().enumerate() {
        let middle = inner.top() + high * (i as f32 + 0.5);
        pair(ui, cx, row(inner.left(), inner.right(), middle, high - 8.0), left, right);
        if i + 1 < rows.len() {
            rule(ui.painter(), inner.x_range(), middle + high / 2.0, cx.p.rule);
        }
    }
}

/// The readings that count at a point, oldest first.
pub fn counting<'a>(wing: &'a Wing, cx: &Cx<'_>, point: &Point) -> Vec<&'a Reading> {
    let Some(view) = cx.index().view(wing, point) else { return Vec::new() };
    let entry = |seq: &u64| record::Entry::find(&wing.entries, *seq)?.what.reading();
    view.entries.iter().filter_map(entry).collect()
}

fn rows(wing: &Wing, cx: &Cx<'_>, point: &Point) -> Vec<(&'static str, String)> {
    let Some(view) = cx.index().view(wing, point) else { return Vec::new() };
    let none = || "…".to_owned();
    let (scale, places) = (wing.scale(view.unit), words::usual_decimals(view.unit));
    let mut rows = Vec::new();
    let hidden = cx.s.looks.blind && view.value.is_none();
    let design = view.design.filter(|_| !hidden).map(|d| words::signed_unit(scale, d, places));
    rows.push(("design", design.unwrap_or_else(none)));
    let counting = counting(wing, cx, point);
    if point.kind().reverses() {
        for facing in [Facing::Forward, Facing::Aft] {
            let taken = counting.iter().rev().find(|r| r.facing == Some(facing));
            let live = wing.live.live.shown().is_some() && cx.s.measuring.facing == facing;
            let text = match taken {
                Some(r) => words::reading(&wing.plan, r),
                None if live && cx.s.measuring.taken.is_none() => "now".to_owned(),
                None => none(),
            };
            rows.push((point.kind().toward(facing), text));
        }
        let pair = view.reversed.then_some(view.value).flatten();
        rows.push(("pair", pair.map_or_else(none, |v| words::signed_unit(scale, v, places))));
    } else {
        rows.push(("limits", words::limits(scale, view.lower, view.upper)));
        let value = view.value.map(|v| words::signed_unit(scale, v, places));
        rows.push(("measured", value.unwrap_or_else(none)));
        rows.push(("readings", view.readings.to_string()));
    }
    if point.kind().row().design == Design::Incidence {
        let stations = wing.assessment.twist.iter().flat_map(|t| &t.stations);
        let own = stations.filter(|s| s.name == point.place()).find_map(|s| s.twist_error_deg.zip(s.u_deg));
        let fresh = view.value.is_some();
        let text = own.filter(|_| fresh).map_or_else(none, |(v, u)| words::with_u(wing.angles(), v, u));
        rows.push(("twist error", text));
    } else {
        let with = view.instrument.clone().or_else(|| cx.s.measuring.instrument.clone());
        rows.push(("with", with.unwrap_or_else(none)));
    }
    rows
}
