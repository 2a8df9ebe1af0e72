//! The rest of the geometry: spars, spacing, bays, the shaft in its bushes, rows of holes.

use super::profile::{JUDGED_HEADS, judged, judged_row};
use super::table::{self, Row, marked};
use super::{Cx, card};
use crate::model::Wing;
use crate::paint::marks::Mark;
use crate::paint::shaft;
use crate::plots::series::{self, Bar, Hover};
use crate::theme::palette;
use crate::words;
use assess::view::{OffsetView, RowStep, RowTrend, RowView, Shift, SparView};
use egui::{RichText, Ui};
use record::plan::Side;

/// The screen.
pub fn show(ui: &mut Ui, wing: &Wing, _cx: &mut Cx<'_>) {
    let a = &wing.assessment;
    if a.spars.is_empty()
        && a.spacing.is_empty()
        && a.bays.is_empty()
        && a.bore_line.is_none()
        && a.rows.is_empty()
    {
        ui.label(
            "Straightness, spacing, squareness, the shaft in its bushes and rows of holes stand here once their points are \
             measured.",
        );
    }
    for spar in &a.spars {
        card(ui, |ui| straightness(ui, wing, spar));
    }
    if !a.spacing.is_empty() {
        card(ui, |ui| spacing(ui, wing));
    }
    if let Some(line) = &a.bore_line {
        card(ui, |ui| bores(ui, line));
    }
    if !a.bays.is_empty() {
        card(ui, |ui| {
            ui.label(RichText::new("Squareness").strong());
            let rows: Vec<Row> = a.bays.iter().map(|b| judged_row(&b.out_of_square)).collect();
            table::show(ui, "bays", &JUDGED_HEADS, &rows, false);
            for b in &a.bays {
                ui.label(format!(
                    "{}: diagonals differ by {}",
                    b.bay,
                    words::signed_unit(b.difference_mm, "mm", 2)
                ));
            }
        });
    }
    for row in &a.rows {
        card(ui, |ui| spots(ui, row));
    }
}

fn straightness(ui: &mut Ui, wing: &Wing, spar: &SparView) {
    let p = palette(ui);
    let how = spar.method.words();
    ui.label(RichText::new(format!("Straightness of the {} spar, {how}", spar.spar)).strong());
    ui.horizontal_wrapped(|ui| judged(ui, &spar.minimum_zone));
    let zone = spar.minimum_zone.value / 2.0;
    let bars: Vec<Bar> = spar
        .offsets
        .iter()
        .map(|o| Bar { x: o.span_mm, y: o.offset_mm, u: o.u_mm, mark: Mark::Plain, name: o.station.clone() })
        .collect();
    let say = |o: &OffsetView| {
        let off = words::with_u(o.offset_mm, o.u_mm, "mm");
        (o.span_mm, format!("{} at {:.0} mm\n{off} off the middle", o.station, o.span_mm))
    };
    let hover = Hover(spar.offsets.iter().map(say).collect());
    let mirrored = wing.plan.wing.side == Side::Left;
    let ends = spar
        .offsets
        .iter()
        .map(|o| o.span_mm)
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), x| (a.min(x), b.max(x)));
    let id = format!("straight {}", spar.spar);
    let plot = series::along_span(&id, 190.0, mirrored, "span in mm", "offset in mm", hover, &p);
    plot.show(ui, |plot| {
        for edge in [-zone, zone] {
            series::line(plot, "minimum zone", vec![[ends.0, edge], [ends.1, edge]], p.chosen, 1.5, true);
        }
        series::line(plot, "spar", bars.iter().map(|b| [b.x, b.y]).collect(), p.ink, 1.5, false);
        series::bars(plot, &p, &id, &bars, (ends.1 - ends.0) * 0.006);
    });
    let sag = if spar.sag_mm == 0.0 {
        String::new()
    } else {
        format!("; line sag of up to {} taken out", words::with_unit(spar.sag_mm, "mm", 2))
    };
    ui.label(format!(
        "Dashed: the minimum zone. About the least-squares line {}, about the line through the ends {}{sag}.",
        words::with_unit(spar.least_squares_mm, "mm", 2),
        words::with_unit(spar.end_point_mm, "mm", 2)
    ));
    let rows: Vec<Row> = spar
        .offsets
        .iter()
        .map(|o| {
            Row::new(vec![
                o.station.as_str().into(),
                format!("{:.0} mm", o.span_mm).into(),
                words::with_u(o.offset_mm, o.u_mm, "mm").into(),
            ])
        })
        .collect();
    table::show(ui, &format!("offsets {}", spar.spar), &["station", "span", "offset ± U"], &rows, false);
}

fn spacing(ui: &mut Ui, wing: &Wing) {
    let p = palette(ui);
    let list = &wing.assessment.spacing;
    ui.label(RichText::new("Spacing of the stations, at 20 °C").strong());
    let bars: Vec<Bar> = list
        .iter()
        .map(|s| Bar {
            x: s.design_mm,
            y: s.deviation.value,
            u: s.deviation.u,
            mark: Mark::from(s.deviation.verdict),
            name: s.station.clone(),
        })
        .collect();
    let hover = Hover(
        list.iter()
            .map(|s| (s.design_mm, format!("{}\n{}", s.station, words::judged(&s.deviation))))
            .collect(),
    );
    let mirrored = wing.plan.wing.side == Side::Left;
    let span = list.last().map_or(1.0, |s| s.design_mm);
    series::along_span(
        "spacing",
        170.0,
        mirrored,
        "distance from the root datum in mm",
        "deviation in mm",
        hover,
        &p,
    )
    .show(ui, |plot| {
        series::line(plot, "design", vec![[0.0, 0.0], [span, 0.0]], p.ink, 1.5, false);
        for edge in list.first().into_iter().flat_map(|s| [s.deviation.lower, s.deviation.upper]).flatten() {
            series::line(plot, "limit", vec![[0.0, edge], [span, edge]], p.within, 1.5, false);
        }
        series::bars(plot, &p, "spacing", &bars, span * 0.006);
    });
    let rows: Vec<Row> = list
        .iter()
        .map(|s| {
            let verdict = s
                .deviation
                .verdict
                .map_or_else(|| marked(Mark::Plain, "no tolerance"), |v| marked(Mark::Of(v), v.word()));
            Row::new(vec![
                s.station.as_str().into(),
                words::with_unit(s.design_mm, "mm", 1).into(),
                words::with_unit(s.measured_mm, "mm", 2).into(),
                words::signed_unit(s.correction_mm, "mm", 2).into(),
                words::judged(&s.deviation).into(),
                s.gap_deviation_mm.map_or_else(String::new, |g| words::signed_unit(g, "mm", 2)).into(),
                verdict,
            ])
        })
        .collect();
    let heads = ["station", "design", "measured", "corrected by", "deviation ± U", "gap", "verdict"];
    table::show(ui, "spacing table", &heads, &rows, false);
}

fn bores(ui: &mut Ui, line: &assess::view::BoreLine) {
    ui.label(RichText::new(format!("The {} in its bushes", line.shaft)).strong());
    ui.horizontal_wrapped(|ui| judged(ui, &line.clearance));
    ui.label(if line.passes {
        "A straight shaft goes through."
    } else {
        "A straight shaft does not go through."
    });
    shaft::show(ui, line);
    for advice in &line.advice {
        ui.label(advice);
    }
    let rows: Vec<Row> = line
        .bushes
        .iter()
        .map(|b| {
            let shift = b.shift_mm.map_or_else(String::new, |Shift { aft, up }| {
                if aft == 0.0 && up == 0.0 {
                    String::new()
                } else {
                    format!(
                        "{} aft, {} up",
                        words::signed_unit(aft, "mm", 2),
                        words::signed_unit(up, "mm", 2)
                    )
                }
            });
            let off = (b.aft_mm - b.line_aft_mm, b.up_mm - b.line_up_mm);
            Row::new(vec![
                b.bush.as_str().into(),
                format!("{:.0} mm", b.span_mm).into(),
                words::with_unit(b.bore_mm, "mm", 2).into(),
                format!("{}, {}", words::signed_unit(off.0, "mm", 3), words::signed_unit(off.1, "mm", 3))
                    .into(),
                words::signed_unit(b.clearance_mm, "mm", 3).into(),
                shift.into(),
            ])
        })
        .collect();
    let heads = ["bush", "span", "bore", "centre off the line, aft and up", "clearance", "moving it alone"];
    table::show(ui, "bushes", &heads, &rows, false);
}

fn spots(ui: &mut Ui, row: &RowView) {
    let unit = row.unit.base_symbol();
    ui.label(RichText::new(format!("Row: {}", row.row)).strong());
    let places = words::usual_decimals(unit);
    let mut text = format!(
        "mean {}, standard deviation {}, spread {}",
        words::with_unit(row.mean, unit, places),
        words::with_unit(row.sd, unit, places),
        words::with_unit(row.spread, unit, places)
    );
    if let Some(RowTrend { slope, p }) = row.trend {
        text +=
            &format!("; trend {} per place (by chance {p:.3})", words::signed_unit(slope, unit, places + 1));
    }
    if let Some(RowStep { after: at, step }) = row.worst_step {
        text +=
            &format!("; worst step {} from place {at} to the next", words::signed_unit(step, unit, places));
    }
    ui.label(text);
    let rows: Vec<Row> = row
        .values
        .iter()
        .map(|v| Row::new(vec![v.place.to_string().into(), words::with_unit(v.value, unit, places).into()]))
        .collect();
    table::show(ui, &format!("row {}", row.row), &["place", "value"], &rows, false);
}
