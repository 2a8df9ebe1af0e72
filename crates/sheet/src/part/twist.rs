//! The twist profile in figures: station by station, from station to station, and which order the fit has.

use super::judged;
use crate::flow::{Cell, Column, Flow, Row, Style, Table};
use crate::number::{decimals, half, probability, significance};
use assess::view::{StationView, Twist};
use quantity::shown::{self, exact, fixed, signed};

pub(crate) fn twist(flow: &mut Flow<'_>, twist: &Twist) {
    flow.section("Twist, station by station", 60.0, |flow| {
        let words = "Deviation is measured less design. Twist error is the fit less the setting; its verdict counts. Residual is \
                     deviation less fit, and t the same in its own standard deviations, each reading judged by a fit to the \
                     others. All angles in degrees.";
        flow.paragraph(words, Style::SMALL);
        flow.table(&stations(twist));
        flow.list(twist.remarks.iter().map(String::as_str), Style::BODY);
    });
    if !twist.neighbours.is_empty() {
        flow.section("From each station to the next", 50.0, |flow| {
            let columns = [Column::words("", 1.0)].into_iter().chain(judged::columns()).collect();
            let rows =
                twist.neighbours.iter().map(|j| judged::row([Cell::text(j.what.as_str())], j)).collect();
            flow.table(&Table { name: "From each station to the next", columns, rows, size: 8.0 });
        });
    }
    let orders = orders(twist);
    flow.section("How the profile was fitted", 36.0 + flow.table_keep(&orders), |flow| {
        flow.paragraph(&fit_words(twist), Style::BODY);
        flow.table(&orders);
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
    let heads = [
        "span\nmm",
        "η",
        "design",
        "measured",
        "±95 %",
        "deviation",
        "twist\nerror",
        "±95 %",
        "residual",
        "t",
    ];
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
        Cell::maybe(s.studentised.map(|t| fixed(t, 2))),
        Cell::maybe(from),
        Cell::maybe(s.probability.map(probability)),
        Cell::Verdict(s.verdict),
    ])
    .noted(standing)
    .noted(s.decide.as_deref().map(judged::decide))
}

/// A design angle: as given, with two decimals at least.
fn given(value: f64) -> String {
    let decimals = shown::step_decimals(value).max(2);
    signed(value, decimals)
}

fn fit_words(twist: &Twist) -> String {
    let scatter = if twist.scale > 1.0 {
        format!(
            "The readings scatter more than their instruments claim, so all uncertainties were enlarged {} times and \
             Student’s t was used",
            fixed(twist.scale, 3)
        )
    } else {
        "The readings scatter no more than their instruments claim".to_owned()
    };
    format!(
        "Generalised least squares with a polynomial of order {} in η. χ² = {} with {} degrees of freedom. {scatter}. Factors \
         of the 95 % bands: {} at one place, {} for the whole line at once.",
        twist.order,
        fixed(twist.chi2, 3),
        twist.dof,
        fixed(twist.pointwise_factor, 3),
        fixed(twist.simultaneous_factor, 3),
    )
}

fn orders(twist: &Twist) -> Table {
    let rows = twist
        .orders
        .iter()
        .map(|o| {
            let order = o.order.to_string();
            Row::new(vec![
                if o.order == twist.order {
                    Cell::Strong(format!("{order}, taken"))
                } else {
                    Cell::Text(order)
                },
                Cell::text(fixed(o.chi2, 3)),
                Cell::maybe(o.aicc.map(|v| fixed(v, 2))),
                Cell::maybe(o.f.map(|v| fixed(v, 2))),
                Cell::maybe(o.p.map(significance)),
                Cell::text(o.why.as_str()),
            ])
        })
        .collect();
    let columns = vec![
        Column::text("order", 60.0),
        Column::figures("χ²"),
        Column::figures("AICc"),
        Column::figures("F"),
        Column::figures("p"),
        Column::words("why", 1.0),
    ];
    Table { name: "Orders tried", columns, rows, size: 8.0 }
}
