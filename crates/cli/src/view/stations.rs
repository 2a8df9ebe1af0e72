//! The table of stations.

use super::{paint, wrap};
use assess::view::{PointState, PointView, StationView, Twist, Verdict};
use quantity::shown::{K95, decimals, fixed, percent, signed};
use record::point::Judgement;

/// With more stations than this only those that are not within are listed.
const MOST: usize = 60;

/// The table; all stations if `all`. The points say why a station has no value.
pub fn table(twist: &Twist, points: &[PointView], all: bool) -> Vec<String> {
    let least =
        twist.stations.iter().filter_map(|s| s.u_deg).filter(|u| *u > 0.0).fold(f64::INFINITY, f64::min);
    let places = decimals(2.0 * least).clamp(2, 3);
    let head = "station    span mm   design  measured  twist err   ±95 %  verdict      conforms";
    let mut lines = vec![paint::faint(head)];
    let listed = |s: &&StationView| {
        all || twist.stations.len() <= MOST || s.verdict != Some(Verdict::Within) || s.stands_out
    };
    let mut left = 0;
    for station in &twist.stations {
        if listed(&station) {
            lines.push(row(station, points, places));
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

fn row(station: &StationView, points: &[PointView], places: usize) -> String {
    let number = |value: Option<f64>| value.map_or_else(|| "-".to_owned(), |v| signed(v, places));
    let bound = station
        .u_deg
        .map_or_else(|| "-".to_owned(), |u| if u > 0.0 { fixed(K95 * u, places) } else { "?".to_owned() });
    let word = match (station.verdict, station.measured_deg) {
        (_, None) if is_stale(station, points) => "stale",
        (Some(verdict), _) => verdict.word(),
        (None, Some(_)) => "no tolerance",
        (None, None) => "no reading",
    };
    let word = if station.stands_out { format!("{word} !") } else { word.to_owned() };
    let sure = station.probability.map(percent).unwrap_or_default();
    format!(
        "{}{:>8.0}{:>9}{:>10}{:>11}{:>8}  {}{:>9}",
        wrap::fit(&station.name, 10),
        station.span_mm,
        signed(station.design_deg, places),
        number(station.measured_deg),
        number(station.twist_error_deg),
        bound,
        paint::verdict(station.verdict, &wrap::fit(&word, 12)),
        sure,
    )
    .trim_end()
    .to_owned()
}

/// True where a reading that would give the station's incidence went stale.
fn is_stale(station: &StationView, points: &[PointView]) -> bool {
    points
        .iter()
        .filter(|p| p.state == PointState::Stale)
        .any(|p| p.point.kind().row().judgement == Judgement::Twist && p.point.place() == station.name)
}
