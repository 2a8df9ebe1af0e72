//! Spot checks: rows of them as plots by place, single ones as a table.

use super::Sheet;
use super::judged::{picture, provenance, summed, worst_first};
use super::words::{percent, range, spaced, stem};
use crate::draw::many;
use crate::flow::{Cell, Stack, Table};
use crate::plot::{Dot, Dots};
use assess::Verdict;
use assess::view::PointView;
use quantity::shown::K95;
use std::collections::BTreeMap;

/// Rows with up to this many places show figures.
pub(super) const FIGURES: usize = 40;

/// How many of the worst are named if no figures are shown.
pub(super) const WORST: usize = 5;

/// Spot checks by the stem of their name, two plots to a row.
pub(super) fn spots<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let mut groups: Vec<Vec<&'a PointView>> = Vec::new();
    let mut places = BTreeMap::new();
    for p in s.a.points.iter().filter(|p| p.lower.or(p.upper).is_some()) {
        let key = (
            stem(p.point.place()),
            p.unit.base_symbol(),
            p.lower.map(f64::to_bits),
            p.upper.map(f64::to_bits),
        );
        let place = *places.entry(key).or_insert(groups.len());
        match groups.get_mut(place) {
            Some(all) => all.push(p),
            None => groups.push(vec![p]),
        }
    }
    // Many rows of one or two become a table.
    let (rows, few): (Vec<_>, Vec<_>) = groups.into_iter().partition(|g| g.len() > 2);
    stack.abreast(&rows, |k, row| spot_row(s, k, row));
    let few: Vec<&PointView> = few.into_iter().flatten().collect();
    if !few.is_empty() {
        spot_table(s, stack, &few);
    }
}

pub(super) fn spot_row<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, all: &[&'a PointView]) {
    let names: Vec<&str> = all.iter().map(|p| p.point.place()).collect();
    let Some(first) = all.first() else { return };
    let scale = s.a.units.scale(first.unit);
    let unit = scale.head();
    let title = format!("{}, {unit}", range(&names));
    let notes = provenance(all.iter().copied()).notes();
    stack.heading_of(&title, &notes, summed(all.iter().map(|p| p.verdict)));
    if all.iter().all(|p| p.value.is_none()) {
        // Marks on an axis would look like values.
        let limit = scale.limits_with(first.lower, first.upper).unwrap_or_default();
        stack.note(&format!("no value; limits {limit}"));
        return;
    }
    let figures = all.len() <= if stack.width > 300.0 { FIGURES } else { 16 };
    let skip = names.first().map_or(0, |n| stem(n).len());
    let short = all.len() > 6;
    let dot = |(i, p): (usize, &&PointView)| {
        let place = p.point.place();
        let name = if short { place.get(skip..).filter(|n| !n.is_empty()).unwrap_or(place) } else { place };
        let shown = p.value.zip(p.u).map(|(v, u)| scale.with_u(v, u).against([p.lower, p.upper]));
        Dot {
            x: many(i),
            name: name.to_owned(),
            under: if figures { shown.map_or_else(String::new, |w| w.plain()) } else { String::new() },
            value: p.value,
            ends: p.value.zip(p.u).map(|(v, u)| [v - K95 * u, v + K95 * u]),
            state: p.verdict,
            ..Dot::default()
        }
    };
    let dots = Dots {
        dots: all.iter().enumerate().map(dot).collect(),
        limits: [first.lower, first.upper],
        signed: first.lower.is_some_and(|l| l < 0.0),
        ..Dots::default()
    }
    .in_unit(scale);
    picture(stack, dots, title, 88.0);
    stack.keep();
    let widest = all.iter().filter_map(|p| p.u).fold(0.0, f64::max);
    let half = scale.with_u(0.0, widest).half().replace('±', "± ");
    let limit = scale.limits_with(first.lower, first.upper).unwrap_or_default();
    let row = s.a.rows.iter().find(|r| r.values.len() == all.len() && r.unit == first.unit);
    let trend = row.map_or_else(String::new, |r| {
        let trend = r.trend.map_or_else(String::new, |t| {
            format!(", trend {} a place", scale.signed(t.slope, scale.decimals(4)))
        });
        format!("; {}: spread {}{trend}", r.row, scale.fixed(r.spread, scale.decimals(3)))
    });
    let each = if widest > 0.0 { format!("each at most {}; ", scale.with(&half)) } else { String::new() };
    stack.note(&format!("{each}limits {limit}{trend}"));
    if !figures {
        let mut worst: Vec<&&PointView> = all.iter().collect();
        worst_first(&mut worst, |p| p.verdict, |p| p.probability);
        let named: Vec<String> =
            worst.iter().take(WORST).map(|p| format!("{} {}", p.point.place(), spot_value(s, p))).collect();
        stack.note(&format!("the worst: {}", named.join(", ")));
    }
    for p in all {
        if let Some(decide) = &p.decide {
            stack.note(&format!("{}: {decide}", p.point.place()));
        }
    }
}

fn spot_value(s: &Sheet<'_>, p: &PointView) -> String {
    match (p.value, p.u) {
        (Some(v), Some(u)) => {
            spaced(&s.a.units.scale(p.unit).with_u(v, u).against([p.lower, p.upper]).plain_with())
        }
        _ => p.verdict.map_or("no value", Verdict::word).to_owned(),
    }
}

pub(super) fn spot_table<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, all: &[&'a PointView]) {
    stack.heading("Spot checks", "", summed(all.iter().map(|p| p.verdict)));
    let limit = |p: &PointView| s.a.units.scale(p.unit).limits_with(p.lower, p.upper).unwrap_or_default();
    let table = Table::of("Spot checks", all)
        .marks(|p| p.verdict)
        .text("place", |p| Cell::strong(p.point.place()))
        .figures("value, 95 %", |p| Cell::value(&spot_value(s, p).replace(" ± ", " ±")))
        .text("limits", |p| Cell::text(limit(p)))
        .figures("conforms", |p| Cell::maybe(p.probability.map(percent)))
        .words("measured", |p| Cell::text(provenance([*p].into_iter()).whole()))
        .text("what settles it", |p| Cell::maybe(p.decide.as_deref()));
    stack.table(table);
}
