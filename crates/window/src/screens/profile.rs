//! The twist profile with all its numbers.

use super::table::{self, Cell, Row, marked};
use super::{Cx, card};
use crate::model::Wing;
use crate::paint::marks::{self, Mark};
use crate::plots;
use crate::theme::palette;
use crate::words;
use assess::view::{Finding, Judged, Twist};
use egui::{RichText, Ui};
use record::{Point, PointKind};

/// The screen.
pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let Some(twist) = &wing.assessment.twist else {
        ui.label("The profile needs usable readings at two stations at least.");
        return;
    };
    parts(ui, cx, twist);
    let height = (ui.available_height() - 60.0).clamp(200.0, 760.0);
    plots::profile::show(ui, wing, twist, height, cx.state.absolute, None);
    legend(ui, wing);
    card(ui, |ui| stations(ui, cx, twist));
    card(ui, |ui| changes(ui, wing));
    card(ui, |ui| about_fit(ui, twist));
}

fn parts(ui: &mut Ui, cx: &mut Cx<'_>, twist: &Twist) {
    ui.horizontal_wrapped(|ui| {
        found(ui, &twist.washout_error);
        found(ui, &twist.setting);
        for (absolute, name) in [(false, "Twist error"), (true, "Incidence")] {
            if ui.selectable_label(cx.state.absolute == absolute, name).clicked() {
                cx.state.absolute = absolute;
            }
        }
    });
}

/// A judged value, or why there is none.
fn found(ui: &mut Ui, found: &Finding) {
    let not = match found {
        Finding::Judged(j) => return judged(ui, j),
        Finding::Not(not) => not,
    };
    let p = palette(ui);
    ui.label(RichText::new(&not.what).color(p.pale));
    match not.verdict {
        Some(v) => marks::label(ui, &p, Mark::Of(v), v.word()),
        None => marks::label(ui, &p, Mark::Plain, "not known"),
    };
    ui.label(RichText::new(&not.why).color(p.pale));
    ui.add_space(10.0);
}

/// A judged value in a row: name, value, uncertainty, limits, verdict.
pub fn judged(ui: &mut Ui, j: &Judged) {
    let p = palette(ui);
    ui.label(RichText::new(&j.what).color(p.pale));
    ui.label(RichText::new(words::judged(j)).strong());
    ui.label(
        RichText::new(format!("({})", words::limits(j.lower, j.upper, j.unit.base_symbol()))).color(p.pale),
    );
    match j.verdict {
        Some(v) => marks::label(ui, &p, Mark::Of(v), v.word()),
        None => marks::label(ui, &p, Mark::Plain, "no tolerance"),
    };
    ui.add_space(10.0);
}

fn legend(ui: &mut Ui, wing: &Wing) {
    let p = palette(ui);
    ui.horizontal_wrapped(|ui| {
        let line = |ui: &mut Ui, colour, dashed: bool, name: &str| {
            let (rect, _) = ui.allocate_exact_size(egui::vec2(26.0, 14.0), egui::Sense::hover());
            let y = rect.center().y;
            let parts = if dashed { 3 } else { 1 };
            for k in 0..parts {
                let step = rect.width() / parts as f32;
                let from = rect.left() + step * k as f32;
                let to = from + step * if dashed { 0.6 } else { 1.0 };
                ui.painter().hline(from..=to, y, egui::Stroke::new(2.5, colour));
            }
            ui.label(RichText::new(name).color(p.pale));
        };
        line(ui, p.ink, false, "design");
        line(ui, p.within, false, "tolerance");
        line(ui, p.chosen, false, "curve with its 95 % band");
        if let Some(before) = &wing.assessment.previous {
            line(ui, p.ghost, true, &format!("stage before: {}", before.stage));
        }
        if wing.assessment.twist.as_ref().is_some_and(|t| t.stations.iter().any(|s| s.stands_out)) {
            ui.label(RichText::new("ringed: stands out from the others").color(p.outside));
        }
        ui.label(RichText::new("bars: 95 % of each station's own readings").color(p.pale));
    });
}

fn stations(ui: &mut Ui, cx: &mut Cx<'_>, twist: &Twist) {
    ui.label(RichText::new("Station by station").strong());
    let heads = ["station", "span", "design", "measured", "twist error ± U", "verdict", "conforms", "remark"];
    let rows: Vec<Row> = twist
        .stations
        .iter()
        .map(|s| {
            let measured = match (s.measured_deg, s.measured_u_deg) {
                (Some(m), Some(u)) => {
                    format!("{} ± {}", words::with_unit(m, "deg", 2), words::with_unit(2.0 * u, "deg", 2))
                }
                (Some(m), None) => words::with_unit(m, "deg", 2),
                _ => "–".to_owned(),
            };
            let fitted = match (s.twist_error_deg, s.u_deg) {
                (Some(t), Some(u)) => words::with_u(t, u, "deg"),
                _ => String::new(),
            };
            let verdict = match s.verdict {
                Some(v) => marked(Mark::Of(v), v.word()),
                None => Cell::default(),
            };
            let remark = s.standing().map_or_else(
                || s.decide.clone().or_else(|| s.why.clone()).unwrap_or_default(),
                str::to_owned,
            );
            let chosen = cx.state.point.as_ref().is_some_and(|p| p.place() == s.name);
            Row {
                cells: vec![
                    s.name.as_str().into(),
                    format!("{:.0} mm", s.span_mm).into(),
                    words::with_unit(s.design_deg, "deg", 2).into(),
                    measured.into(),
                    fitted.into(),
                    verdict,
                    s.probability.map_or_else(String::new, |p| format!("{:.1} %", p * 100.0)).into(),
                    remark.into(),
                ],
                chosen,
            }
        })
        .collect();
    if let Some(i) = table::show(ui, "stations", &heads, &rows, true)
        && let Some(s) = twist.stations.get(i)
    {
        cx.state.choose(Point::at(PointKind::Incidence, &s.name));
    }
    if !twist.neighbours.is_empty() {
        ui.add_space(6.0);
        ui.label(RichText::new("From one station to the next").strong());
        let rows: Vec<Row> = twist.neighbours.iter().map(|s| found_row(&s.finding)).collect();
        table::show(ui, "neighbours", &JUDGED_HEADS, &rows, false);
    }
}

/// Heads of a table of judged values.
pub const JUDGED_HEADS: [&str; 5] = ["what", "value ± U", "limits", "verdict", "to decide it"];

/// A judged value as a row.
pub fn judged_row(j: &Judged) -> Row {
    let verdict = match j.verdict {
        Some(v) => marked(Mark::Of(v), v.word()),
        None => marked(Mark::Plain, "no tolerance"),
    };
    Row::new(vec![
        j.what.as_str().into(),
        words::judged(j).into(),
        words::limits(j.lower, j.upper, j.unit.base_symbol()).into(),
        verdict,
        j.decide.clone().unwrap_or_default().into(),
    ])
}

fn found_row(found: &Finding) -> Row {
    let not = match found {
        Finding::Judged(j) => return judged_row(j),
        Finding::Not(not) => not,
    };
    let verdict = match not.verdict {
        Some(v) => marked(Mark::Of(v), v.word()),
        None => marked(Mark::Plain, "not known"),
    };
    let limits = words::limits(not.lower, not.upper, not.unit.base_symbol());
    Row::new(vec![not.what.as_str().into(), "".into(), limits.into(), verdict, not.why.as_str().into()])
}

fn changes(ui: &mut Ui, wing: &Wing) {
    let Some(changes) = &wing.assessment.changes else {
        ui.label("No earlier stage has a profile to compare with.");
        return;
    };
    ui.label(RichText::new(format!("Changed since {}", changes.since)).strong());
    let row = |name: &str, change: f64, u: f64, p: f64, real: bool| {
        let words = if real { "more than measurement" } else { "could be measurement" };
        Row::new(vec![
            name.into(),
            words::with_u(change, u, "deg").into(),
            format!("{p:.3}").into(),
            words.into(),
        ])
    };
    let parts = changes.parts.iter().map(|c| row(&c.part, c.change_deg, c.u_deg, c.p, c.real));
    let stations = changes.stations.iter().map(|c| row(&c.name, c.change_deg, c.u_deg, c.p, c.real));
    let rows: Vec<Row> = parts.chain(stations).collect();
    table::show(ui, "changes", &["what", "change ± U", "by chance", "so"], &rows, false);
}

fn about_fit(ui: &mut Ui, twist: &Twist) {
    let p = palette(ui);
    ui.label(RichText::new(format!("Curve of order {}", twist.order)).strong());
    for remark in &twist.remarks {
        ui.label(remark);
    }
    let band = twist.simultaneous_factor.map_or_else(String::new, |f| format!("; band factor {f:.2}"));
    ui.label(
        RichText::new(format!("χ² {:.2} on {} degrees of freedom{band}", twist.chi2, twist.dof))
            .color(p.pale),
    );
}
