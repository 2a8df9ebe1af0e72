//! The table of stations.

use super::number::{decimals, percent, signed};
use super::{paint, wrap};
use shop::assess::view::{StationView, Twist, Verdict};

/// With more stations than this only those that are not within are listed.
const MOST: usize = 60;

/// The table; all stations if `all`.
pub fn table(twist: &Twist, all: bool) -> Vec<String> {
    let least =
        twist.stations.iter().filter_map(|s| s.u_deg).filter(|u| *u > 0.0).fold(f64::INFINITY, f64::min);
    let places = decimals(2.0 * least).clamp(2, 3);
    let head = "station       span mm    design  measured  twist err    ±95 %  verdict      conforms";
    let mut lines = vec![paint::faint(head)];
    let listed = |s: &&StationView| all || twist.stations.len() <= MOST || s.verdict != Some(Verdict::Within);
    let mut left = 0;
    for station in &twist.stations {
        if listed(&station) {
            lines.push(row(station, twist.pointwise_factor, places));
            lines.extend(station.decide.as_deref().map(|d| wrap::wrap("    ", d)));
        } else {
            left += 1;
        }
    }
    if left > 0 {
        lines.push(format!("{left} more stations are within; --all lists them"));
    }
    lines
}

fn row(station: &StationView, factor: f64, places: usize) -> String {
    let number = |value: Option<f64>| value.map_or_else(|| "-".to_owned(), |v| signed(v, places));
    let bound = station.u_deg.map_or_else(|| "-".to_owned(), |u| format!("{:.places$}", u * factor));
    let word = match (station.verdict, station.measured_deg) {
        (Some(verdict), _) => verdict.word(),
        (None, Some(_)) => "no tolerance",
        (None, None) => "no reading",
    };
    let sure = station.probability.map(percent).unwrap_or_default();
    let again = if station.remeasure { "  ! measure again" } else { "" };
    format!(
        "{}{:>9.0}{:>10}{:>10}{:>11}{:>9}  {}{:>9}{again}",
        wrap::fit(&station.name, 12),
        station.span_mm,
        signed(station.design_deg, places),
        number(station.measured_deg),
        number(station.twist_error_deg),
        bound,
        paint::verdict(station.verdict, &wrap::fit(word, 12)),
        sure,
    )
    .trim_end()
    .to_owned()
}
