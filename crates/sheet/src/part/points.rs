//! Every point of the plan with what is known of it.

use super::judged;
use crate::flow::{Cell, Column, Flow, Row, Style, Table};
use crate::number::{decimals, exact, limits, probability, rounded, unit_word};
use assess::Assessment;
use assess::view::{PointState, PointView};

pub(crate) fn points(flow: &mut Flow<'_>, assessment: &Assessment) {
    flow.section("Every point", 60.0, |flow| {
        if !assessment.wanted.is_empty() {
            let words =
                format!("Still wanted at this stage, in walking order: {}.", assessment.wanted.join(", "));
            flow.paragraph(&words, Style::BODY);
        }
        let columns = vec![
            Column::text("point", 140.0),
            Column::text("required", 50.0),
            Column::text("reading", 50.0),
            Column::figures("design"),
            Column::figures("value"),
            Column::figures("u"),
            Column::text("unit", 30.0),
            Column::figures("own limits"),
            Column::figures("P within"),
            Column::text("verdict", 70.0),
            Column::text("entries", 52.0),
        ];
        let rows = assessment.points.iter().map(row).collect();
        flow.table(&Table { name: "Every point", columns, rows, size: 7.5 });
    });
}

fn row(p: &PointView) -> Row {
    let places = decimals(p.unit, p.u);
    let state = match p.state {
        PointState::Fresh => "fresh",
        PointState::Stale => "stale",
        PointState::Missing => "none",
    };
    let entries: Vec<String> = p.entries.iter().map(u64::to_string).collect();
    let own = p.lower.is_some() || p.upper.is_some();
    Row::new(vec![
        Cell::text(p.point.as_str()),
        Cell::text(if p.required { "yes" } else { "no" }),
        Cell::text(state),
        Cell::maybe(p.design.map(exact)),
        Cell::maybe(p.value.map(|v| rounded(v, places))),
        Cell::maybe(p.u.map(|u| rounded(u, places))),
        Cell::text(unit_word(p.unit)),
        Cell::maybe(own.then(|| limits(p.lower, p.upper))),
        Cell::maybe(p.probability.map(probability)),
        Cell::Verdict(p.verdict),
        Cell::text(entries.join(", ")),
    ])
    .noted(how(p))
    .noted(p.stale_because.as_deref().map(|why| format!("Stale: {why}")))
    .noted(p.decide.as_deref().map(judged::decide))
}

/// How the value came about, in one line.
fn how(p: &PointView) -> Option<String> {
    p.value?;
    let mut parts = Vec::new();
    if let Some(by) = &p.judged_by {
        parts.push(format!("judged by {by}"));
    }
    let count = match p.readings {
        1 => "1 reading".to_owned(),
        n => format!("{n} readings"),
    };
    let pair = if p.reversed { ", reversal pair" } else { "" };
    parts.push(format!("{count}{pair}"));
    if let Some(facing) = p.facing_wanted {
        parts.push(format!("a reading facing {} would complete the pair", facing_word(facing)));
    }
    parts.push(p.instrument.clone().unwrap_or_else(|| "no instrument named".to_owned()));
    if let Some(round) = p.round {
        parts.push(format!("round {round}"));
    }
    if let (Some(own), Some(shared)) = (p.u_own, p.u_shared) {
        let places = decimals(p.unit, Some(own));
        parts.push(format!("u {} own, {} shared", rounded(own, places), rounded(shared, places)));
    }
    if let Some(at) = &p.at {
        parts.push(at.clone());
    }
    if let Some(by) = &p.by {
        parts.push(format!("by {by}"));
    }
    Some(parts.join("; "))
}

const fn facing_word(facing: record::Facing) -> &'static str {
    match facing {
        record::Facing::Forward => "forward",
        record::Facing::Aft => "aft",
    }
}
