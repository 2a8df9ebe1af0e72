//! Every point of the plan with what is known of it.

mod rounds;

use super::judged;
use crate::flow::{Cell, Column, Flow, Row, Style, Table};
use crate::number::{limits, probability};
use assess::view::PointView;
use assess::{Assessment, Verdict};
use quantity::shown::{K95, WithU, exact, fixed, unit_sign};
use record::Point;

pub(crate) fn points(flow: &mut Flow<'_>, assessment: &Assessment) {
    let (required, others): (Vec<_>, Vec<_>) = assessment.points.iter().partition(|p| p.required);
    let (read, unread): (Vec<_>, Vec<_>) = others.into_iter().partition(|p| p.value.is_some());
    let wanted = table("Points this stage requires", &required);
    flow.section(wanted.name, 12.0 + flow.table_keep(&wanted), |flow| {
        if !assessment.wanted.is_empty() {
            let words = format!("Still wanted, in walking order: {}.", names(&assessment.wanted));
            flow.paragraph(&words, Style::BODY);
        }
        if required.is_empty() {
            flow.paragraph("This stage requires none.", Style::BODY);
        } else {
            flow.table(&wanted);
        }
    });
    if !read.is_empty() {
        let table = table("Other points with readings", &read);
        flow.section(table.name, flow.table_keep(&table), |flow| flow.table(&table));
    }
    if !unread.is_empty() {
        flow.section("Points neither required nor measured", 12.0, |flow| {
            let words = format!("{}.", names(unread.iter().map(|p| &p.point)));
            flow.paragraph(&words, Style::SMALL);
        });
    }
    rounds::rounds(flow, &assessment.points);
}

fn names<'p>(points: impl IntoIterator<Item = &'p Point>) -> String {
    points.into_iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
}

fn table(name: &'static str, points: &[&PointView]) -> Table {
    let columns = vec![
        Column::text("point", 130.0),
        Column::figures("design"),
        Column::figures("value"),
        Column::figures("±95 %"),
        Column::figures("shared\npart"),
        Column::text("unit", 30.0),
        Column::figures("own limits"),
        Column::figures("conforms"),
        Column::text("verdict", 70.0),
        Column::count("round"),
        Column::text("readings", 46.0),
        Column::text("entries", 60.0),
    ];
    Table { name, columns, rows: points.iter().map(|p| row(p)).collect(), size: 7.5 }.without_empty_columns()
}

fn row(p: &PointView) -> Row {
    let value = p.value.map(|v| WithU::of_u(v, p.u.unwrap_or(f64::NAN)).against([p.lower, p.upper]));
    let places = value.map_or(0, |v| v.decimals());
    let half = |u: Option<f64>| Cell::maybe(u.map(|u| fixed(K95 * u, places)));
    let limited = p.lower.is_some() || p.upper.is_some();
    let pair = if p.reversed { ", pair" } else { "" };
    let entries: Vec<String> = p.entries.iter().map(u64::to_string).collect();
    Row::new(vec![
        Cell::text(p.point.to_string()),
        Cell::maybe(p.design.map(exact)),
        Cell::maybe(value.map(|v| v.plain())),
        half(p.u),
        half(p.u_shared),
        Cell::text(unit_sign(p.unit.base_symbol())),
        Cell::maybe(limited.then(|| limits(p.lower, p.upper))),
        Cell::maybe(p.probability.map(probability)),
        Cell::Verdict(p.verdict),
        Cell::maybe(p.round.map(|round| round.to_string())),
        Cell::maybe((p.readings > 0).then(|| format!("{}{pair}", p.readings))),
        Cell::text(entries.join(", ")),
    ])
    .noted(remark(p))
    .noted(p.decide.as_deref().map(judged::decide))
}

/// What is not as usual about a point, in one line.
fn remark(p: &PointView) -> Option<String> {
    let mut parts = Vec::new();
    if let Some(why) = &p.stale_because {
        parts.push(format!("stale: {why}"));
    }
    if let Some(by) = p.judged_by.as_ref().filter(|_| !matches!(p.verdict, None | Some(Verdict::Within))) {
        parts.push(format!("judged by {by}"));
    }
    if let Some(facing) = p.facing_wanted.filter(|_| p.value.is_some()) {
        parts.push(format!("a reading facing {} would complete the pair", facing_word(facing)));
    }
    if p.value.is_some() && p.instrument.is_none() {
        parts.push("no instrument named".to_owned());
    }
    (!parts.is_empty()).then(|| parts.join("; "))
}

const fn facing_word(facing: record::Facing) -> &'static str {
    match facing {
        record::Facing::Forward => "forward",
        record::Facing::Aft => "aft",
    }
}
