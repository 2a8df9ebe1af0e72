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

/// Draws it. `absolute` shows incidence instead of twist error.
pub fn show(ui: &mut Ui, wing: &Wing, twist: &Twist, height: f32, absolute: bool, ghost: Option<&Ghost>) {
    let p = palette(ui);
    let setting = twist.setting.judged().map_or(0.0, |s| s.value);
    let base = |span_mm: f64| {
        if absolute { wing.plan.design_incidence(Millimetres::new(span_mm)).value() + setting } else { 0.0 }
    };
    let bars = readings(twist, &base);
    let hover = Hover(twist.stations.iter().map(|s| (s.span_mm, station_words(s))).collect());
    let y = if absolute { "incidence in °" } else { "twist error in °" };
    let mirrored = wing.plan.wing.side == Side::Left;
    let plot = series::along_span("profile", height, mirrored, "span in mm", y, hover, &p);
    plot.show(ui, |plot| {
        tolerance(plot, &p, twist, &base);
        band(plot, &p, twist, &base);
        design(plot, &p, wing, &base);
        previous(plot, &p, wing, &base);
        let fit = twist.band.iter().map(|b| [b.span_mm, b.fit_deg + base(b.span_mm)]).collect();
        series::line(plot, "curve", fit, p.chosen, 2.5, false);
        if let Some(ghost) = ghost {
            let points = ghost.iter().map(|&(x, y)| [x, y + base(x)]).collect();
            series::line(plot, "expected", points, p.within, 3.0, true);
        }
        let cap = (wing.plan.wing.tip - wing.plan.wing.root).value().abs() * 0.006;
        series::bars(plot, &p, "profile", &bars, cap);
        let out = twist.stations.iter().filter(|s| s.stands_out);
        let at = out.filter_map(|s| s.twist_error_deg.map(|y| [s.span_mm, y + base(s.span_mm)]));
        series::rings(plot, at.collect(), p.outside);
    });
}

fn readings(twist: &Twist, base: &impl Fn(f64) -> f64) -> Vec<Bar> {
    let bar = |s: &StationView| {
        s.twist_error_deg.map(|y| Bar {
            x: s.span_mm,
            y: y + base(s.span_mm),
            u: s.u_deg.unwrap_or(0.0),
            mark: Mark::from(s.verdict),
            name: s.name.clone(),
        })
    };
    twist.stations.iter().filter_map(bar).collect()
}

/// A station's numbers as a sentence.
pub fn station_words(s: &StationView) -> String {
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
    if let (Some(t), Some(u)) = (s.twist_error_deg, s.u_deg) {
        words += &format!("\ntwist error {}", words::with_u(t, u, "deg"));
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
    let spans = [twist.root_mm, twist.tip_mm];
    if let (Some(low), Some(high)) = (twist.lower_deg, twist.upper_deg) {
        let points = spans.map(|x| (x, low + base(x), high + base(x)));
        if let Some(area) = area("tolerance", &points, p.within.gamma_multiply(0.13)) {
            plot.add(area);
        }
    }
    for limit in [twist.lower_deg, twist.upper_deg].into_iter().flatten() {
        let edge = spans.map(|x| [x, limit + base(x)]).to_vec();
        series::line(plot, "limit", edge, p.within, 1.5, false);
    }
}

fn band(plot: &mut PlotUi<'_>, p: &Palette, twist: &Twist, base: &impl Fn(f64) -> f64) {
    let at = |b: &BandPoint| {
        let mid = b.fit_deg + base(b.span_mm);
        (b.span_mm, mid - b.simultaneous_deg, mid + b.simultaneous_deg)
    };
    let points: Vec<(f64, f64, f64)> = twist.band.iter().map(at).collect();
    if let Some(area) = area("95 % band of the curve", &points, p.chosen.gamma_multiply(0.14)) {
        plot.add(area);
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
    let points = before.stations.iter().map(|s| [s.span_mm, s.twist_error_deg + base(s.span_mm)]).collect();
    series::line(plot, &before.stage, points, p.ghost, 2.0, true);
}
