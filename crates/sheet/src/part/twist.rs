//! The twist profile in figures: station by station, from station to station, and the curve behind them.

use super::judged;
use crate::flow::{Cell, Column, Flow, Row, Style, Table};
use crate::number::{decimals, half, probability};
use assess::view::{StationView, Twist};
use quantity::shown::{self, exact, fixed, signed};

pub(crate) fn twist(flow: &mut Flow<'_>, twist: &Twist) {
    flow.section("Twist, station by station", 60.0, |flow| {
        let words = "Deviation is measured less design. Twist error is the deviation less the setting, by the station’s own \
                     readings. Residual is deviation less the curve. All \
                     angles in degrees.";
        flow.paragraph(words, Style::SMALL);
        flow.table(&stations(twist));
        flow.list(twist.remarks.iter().map(String::as_str), Style::BODY);
    });
    if !twist.neighbours.is_empty() {
        flow.section("From each station to the next", 50.0, |flow| {
            let columns = [Column::words("", 1.0)].into_iter().chain(judged::columns()).collect();
            let rows = twist
                .neighbours
                .iter()
                .map(|s| judged::finding([Cell::text(s.finding.what())], &s.finding))
                .collect();
            flow.table(&Table { name: "From each station to the next", columns, rows, size: 8.0 });
        });
    }
    flow.section("The curve behind the stations", 36.0, |flow| {
        flow.paragraph(&curve_words(twist), Style::BODY);
    });
}

/// A number of the station table with its sign, to the decimal places of its uncertainty.
fn degrees(value: Option<f64>, u: Option<f64>) -> Cell {
    Cell::maybe(value.map(|v| signed(v, decimals(u))))
}

/// A 95 % half width of the station table.
fn bound(u: Option<f64>) -> Cell {
    Cell::maybe(u.map(half))
}

fn stations(twist: &Twist) -> Table {
    let heads =
        ["span\nmm", "η", "design", "measured", "±95 %", "deviation", "twist\nerror", "±95 %", "residual"];
    let columns = [Column::text("station", 70.0)]
        .into_iter()
        .chain(heads.map(Column::figures))
        .chain([Column::text("from", 60.0), Column::figures("conforms"), Column::text("verdict", 70.0)])
        .collect();
    Table {
        name: "Twist, station by station",
        columns,
        rows: twist.stations.iter().map(station).collect(),
        size: 7.5,
    }
}

fn station(s: &StationView) -> Row {
    let from =
        s.from.map(|from| if s.reversed { format!("{}, pair", from.word()) } else { from.word().to_owned() });
    let standing = s.standing().map(|words| format!("{} {words}.", s.name));
    Row::new(vec![
        Cell::text(s.name.as_str()),
        Cell::text(exact(s.span_mm)),
        Cell::text(fixed(s.eta, 4)),
        Cell::text(given(s.design_deg)),
        degrees(s.measured_deg, s.measured_u_deg),
        bound(s.measured_u_deg),
        degrees(s.deviation_deg, s.measured_u_deg),
        degrees(s.twist_error_deg, s.u_deg),
        bound(s.u_deg),
        degrees(s.residual_deg, s.measured_u_deg),
        Cell::maybe(from),
        Cell::maybe(s.probability.map(probability)),
        Cell::Verdict(s.verdict),
    ])
    .noted(standing)
    .noted(s.why.clone().filter(|_| s.verdict.is_some()))
    .noted(s.decide.as_deref().filter(|_| s.why.is_none()).map(judged::decide))
}

/// A design angle: as given, with two decimals at least.
fn given(value: f64) -> String {
    let decimals = shown::step_decimals(value).max(2);
    signed(value, decimals)
}

fn curve_words(twist: &Twist) -> String {
    let band = twist.simultaneous_factor.map_or_else(String::new, |factor| {
        format!(
            " The 95 % band of the whole line at once is {} standard uncertainties wide either side.",
            fixed(factor, 3)
        )
    });
    let scatter = twist.scatter_deg.map_or_else(String::new, |tau| {
        format!(" Scatter of the ribs about it beyond the readings: about {}°, allowed for.", fixed(tau, 3))
    });
    if twist.order == 0 {
        return "Too few stations for a curve.".to_owned();
    }
    format!(
        "Generalised least squares with a polynomial of order {} in η, which follows from the number of stations and not from \
         what they read. χ² = {} with {} degrees of freedom.{scatter}{band}",
        twist.order,
        fixed(twist.chi2, 3),
        twist.dof,
    )
}
