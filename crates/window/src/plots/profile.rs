//! The twist profile: tolerance, fit with its bands, readings, the stage before and what is expected of the moves.

use super::series::{self, Bar, Hover};
use crate::model::Wing;
use crate::paint::marks::Mark;
use crate::theme::{Palette, palette};
use crate::words;
use assess::view::{BandPoint, StationView, Twist};
use egui::{Color32, Ui};
use egui_plot::{FilledArea, PlotUi};
use quantity::Millimetres;
use record::plan::Side;

/// A ghosted profile: span in mm and twist error in degrees.
pub type Ghost = Vec<(f64, f64)>;

/// Twist error of a station as measured: its deviation less the setting.
#[must_use]
pub fn measured_twist(twist: &Twist, station: &StationView) -> Option<f64> {
    station.deviation_deg.map(|d| d - twist.setting.value)
}

/// Draws it. `absolute` shows incidence instead of twist error.
pub fn show(ui: &mut Ui, wing: &Wing, twist: &Twist, height: f32, absolute: bool, ghost: Option<&Ghost>) {
    let p = palette(ui);
    let base = |span_mm: f64| {
        if absolute {
            wing.plan.design_incidence(Millimetres::new(span_mm)).value() + twist.setting.value
        } else {
            0.0
        }
    };
    let bars = readings(twist, &base);
    let hover = Hover(twist.stations.iter().map(|s| (s.span_mm, station_words(twist, s))).collect());
    let y = if absolute { "incidence in °" } else { "twist error in °" };
    let mirrored = wing.plan.wing.side == Side::Left;
    let plot = series::along_span("profile", height, mirrored, "span in mm", y, hover, &p);
    plot.show(ui, |plot| {
        tolerance(plot, &p, twist, &base);
        band(plot, &p, twist, &base);
        design(plot, &p, wing, &base);
        previous(plot, &p, wing, &base);
        let fit = twist.band.iter().map(|b| [b.span_mm, b.fit_deg + base(b.span_mm)]).collect();
        series::line(plot, "fit", fit, p.chosen, 2.5, false);
        if let Some(ghost) = ghost {
            let points = ghost.iter().map(|&(x, y)| [x, y + base(x)]).collect();
            series::line(plot, "expected", points, p.within, 3.0, true);
        }
        let cap = (wing.plan.wing.tip - wing.plan.wing.root).value().abs() * 0.006;
        series::bars(plot, &p, "profile", &bars, cap);
        let out = twist.stations.iter().filter(|s| s.stands_out);
        let at = out.filter_map(|s| measured_twist(twist, s).map(|y| [s.span_mm, y + base(s.span_mm)]));
        series::rings(plot, at.collect(), p.outside);
    });
}

fn readings(twist: &Twist, base: &impl Fn(f64) -> f64) -> Vec<Bar> {
    let bar = |s: &StationView| {
        measured_twist(twist, s).map(|y| Bar {
            x: s.span_mm,
            y: y + base(s.span_mm),
            u: s.measured_u_deg.unwrap_or(0.0),
            mark: Mark::from(s.verdict),
            name: s.name.clone(),
        })
    };
    twist.stations.iter().filter_map(bar).collect()
}

/// A station's numbers as a sentence.
pub fn station_words(twist: &Twist, s: &StationView) -> String {
    let mut words = format!("{} at {:.0} mm", s.name, s.span_mm);
    if let Some(m) = s.measured_deg {
        let u = s.measured_u_deg.unwrap_or(0.0);
        words += &format!(
            "\nincidence {} ± {}",
            words::with_unit(m, "deg", 2),
            words::with_unit(2.0 * u, "deg", 2)
        );
    }
    words += &format!("\ndesign {}", words::with_unit(s.design_deg, "deg", 2));
    if let Some(t) = measured_twist(twist, s) {
        words += &format!("\nmeasured twist error {}", words::signed_unit(t, "deg", 2));
    }
    if let (Some(t), Some(u)) = (s.twist_error_deg, s.u_deg) {
        words += &format!("\nfitted twist error {}", words::with_u(t, u, "deg"));
    }
    if let Some(v) = s.verdict {
        words += &format!("\n{}", v.word());
    }
    words
}

fn area(name: &str, points: &[(f64, f64, f64)], fill: Color32) -> Option<FilledArea> {
    if points.len() < 2 {
        return None;
    }
    let xs: Vec<f64> = points.iter().map(|p| p.0).collect();
    let low: Vec<f64> = points.iter().map(|p| p.1).collect();
    let high: Vec<f64> = points.iter().map(|p| p.2).collect();
    Some(FilledArea::new(name, &xs, &low, &high).fill_color(fill).allow_hover(false))
}

fn tolerance(plot: &mut PlotUi<'_>, p: &Palette, twist: &Twist, base: &impl Fn(f64) -> f64) {
    let at =
        |b: &BandPoint| Some((b.span_mm, b.lower_deg? + base(b.span_mm), b.upper_deg? + base(b.span_mm)));
    let points: Vec<(f64, f64, f64)> = twist.band.iter().filter_map(at).collect();
    if let Some(area) = area("tolerance", &points, p.within.gamma_multiply(0.13)) {
        plot.add(area);
    }
    for limit in [|b: &BandPoint| b.lower_deg, |b: &BandPoint| b.upper_deg] {
        let edge: Vec<[f64; 2]> =
            twist.band.iter().filter_map(|b| limit(b).map(|v| [b.span_mm, v + base(b.span_mm)])).collect();
        series::line(plot, "limit", edge, p.within, 1.5, false);
    }
}

fn band(plot: &mut PlotUi<'_>, p: &Palette, twist: &Twist, base: &impl Fn(f64) -> f64) {
    let wide = |half: fn(&BandPoint) -> f64| -> Vec<(f64, f64, f64)> {
        let at = |b: &BandPoint| {
            let mid = b.fit_deg + base(b.span_mm);
            (b.span_mm, mid - half(b), mid + half(b))
        };
        twist.band.iter().map(at).collect()
    };
    for (name, half, strength) in [
        ("simultaneous 95 % band", (|b| b.simultaneous_deg) as fn(&BandPoint) -> f64, 0.14),
        ("pointwise 95 % band", |b| b.pointwise_deg, 0.2),
    ] {
        if let Some(area) = area(name, &wide(half), p.chosen.gamma_multiply(strength)) {
            plot.add(area);
        }
    }
}

fn design(plot: &mut PlotUi<'_>, p: &Palette, wing: &Wing, base: &impl Fn(f64) -> f64) {
    let mut spans: Vec<f64> = wing.plan.stations.iter().map(|s| s.span.value()).collect();
    spans.extend([wing.plan.wing.root.value(), wing.plan.wing.tip.value()]);
    spans.sort_by(f64::total_cmp);
    series::line(plot, "design", spans.into_iter().map(|x| [x, base(x)]).collect(), p.ink, 1.5, false);
}

fn previous(plot: &mut PlotUi<'_>, p: &Palette, wing: &Wing, base: &impl Fn(f64) -> f64) {
    let Some(before) = &wing.assessment.previous else { return };
    let points = before.stations.iter().map(|&(x, t, _)| [x, t + base(x)]).collect();
    series::line(plot, &before.stage, points, p.ghost, 2.0, true);
}
