//! `repeat`: a repeat study of an instrument: persons and points, crossed; or groups alone.

use super::table::Table;
use crate::exit::Exit;
use crate::refusal::Refusal;
use crate::show::Show;
use clap::Args;
use numerics::Dd;
use numerics::anova::{Component, OneWay, Source, TwoWay, one_way, two_way};
use serde::Serialize;
use session::SessionError;
use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

#[derive(Debug, Args)]
#[command(
    after_long_help = "Columns: point, person, value, with every person measuring every point equally often; or point and value \
    alone for one person."
)]
pub struct Repeat {
    /// The table (CSV with a header row), or - for standard input
    table: PathBuf,
    /// The column of points
    #[arg(long, default_value = "point")]
    point: String,
    /// The column of persons [default: person, if there is one]
    #[arg(long)]
    person: Option<String>,
    /// The column of values
    #[arg(long, default_value = "value")]
    value: String,
}

#[derive(Serialize)]
struct SourceView {
    source: &'static str,
    dof: usize,
    sum_of_squares: f64,
    mean_square: f64,
}

#[derive(Serialize)]
struct ComponentView {
    component: &'static str,
    variance: f64,
    sd: f64,
    /// Whether the estimate was negative and set to zero.
    clipped: bool,
}

#[derive(Serialize)]
struct Answer {
    rows: usize,
    mean: f64,
    sources: Vec<SourceView>,
    components: Vec<ComponentView>,
    repeatability_sd: f64,
    reproducibility_sd: Option<f64>,
    gauge_sd: Option<f64>,
}

impl Repeat {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let table = Table::read(&self.table)?;
        let values = table.exact(table.text(&self.value)?)?;
        let points = table.text(&self.point)?;
        let persons = match &self.person {
            Some(named) => Some(table.text(named)?),
            None => table.text("person").ok(),
        };
        table.remark_unread(show);
        // A single person has nobody to be compared with.
        let answer = match persons.filter(|all| all.iter().any(|p| Some(p) != all.first())) {
            Some(persons) => crossed(points, persons, &values)?,
            None => alone(points, &values)?,
        };
        show.done(|| text(&answer), &answer)
    }
}

fn crossed(points: &[String], persons: &[String], values: &[Dd]) -> Result<Answer, SessionError> {
    let mut cells: BTreeMap<&str, BTreeMap<&str, Vec<Dd>>> = BTreeMap::new();
    for ((point, person), value) in points.iter().zip(persons).zip(values) {
        cells.entry(point).or_default().entry(person).or_default().push(*value);
    }
    balanced(&cells)?;
    let grid: Vec<Vec<Vec<Dd>>> = cells.into_values().map(|row| row.into_values().collect()).collect();
    let a: TwoWay = two_way(&grid).map_err(SessionError::because)?;
    Ok(Answer {
        rows: values.len(),
        mean: a.mean,
        sources: vec![
            source("points", &a.part),
            source("persons", &a.operator),
            source("points by persons", &a.interaction),
            source("repeats", &a.error),
            source("total", &a.total),
        ],
        components: vec![
            component("repeatability", a.repeatability),
            component("points by persons", a.interaction_component),
            component("persons", a.operator_component),
            component("points", a.part_component),
        ],
        repeatability_sd: a.repeatability.sd(),
        reproducibility_sd: Some(a.reproducibility().sqrt()),
        gauge_sd: Some(a.gauge().sqrt()),
    })
}

/// Checks that every person measured every point equally often.
fn balanced(cells: &BTreeMap<&str, BTreeMap<&str, Vec<Dd>>>) -> Result<(), SessionError> {
    let persons: BTreeSet<&str> = cells.values().flat_map(BTreeMap::keys).copied().collect();
    let wanted = cells.values().flat_map(BTreeMap::values).map(Vec::len).max().unwrap_or(0);
    for (point, row) in cells {
        for person in &persons {
            let have = row.get(person).map_or(0, Vec::len);
            if have != wanted {
                let (person, point) = ((*person).to_owned(), (*point).to_owned());
                return Err(Refusal::Unbalanced { person, point, have, wanted }.into());
            }
        }
    }
    Ok(())
}

fn alone(points: &[String], values: &[Dd]) -> Result<Answer, SessionError> {
    let mut groups: BTreeMap<&str, Vec<Dd>> = BTreeMap::new();
    for (point, value) in points.iter().zip(values) {
        groups.entry(point).or_default().push(*value);
    }
    let a: OneWay = one_way(&groups.into_values().collect::<Vec<_>>()).map_err(SessionError::because)?;
    Ok(Answer {
        rows: values.len(),
        mean: a.mean,
        sources: vec![source("points", &a.between), source("repeats", &a.within)],
        components: vec![component("points", a.between_component)],
        repeatability_sd: a.residual_sd,
        reproducibility_sd: None,
        gauge_sd: None,
    })
}

fn source(name: &'static str, s: &Source) -> SourceView {
    SourceView { source: name, dof: s.dof, sum_of_squares: s.sum_of_squares, mean_square: s.mean_square }
}

fn component(name: &'static str, c: Component) -> ComponentView {
    ComponentView { component: name, variance: c.variance, sd: c.sd(), clipped: c.clipped }
}

fn text(a: &Answer) -> String {
    let mut out = vec![format!("{:<20}{:>6}{:>18}{:>18}", "source", "dof", "sum of squares", "mean square")];
    out.extend(
        a.sources.iter().map(|s| {
            format!("{:<20}{:>6}{:>18.9}{:>18.9}", s.source, s.dof, s.sum_of_squares, s.mean_square)
        }),
    );
    out.push(format!("\n{:<20}{:>18}{:>18}", "component", "variance", "standard dev."));
    out.extend(a.components.iter().map(|c| {
        let clipped = if c.clipped { "  (negative estimate, set to zero)" } else { "" };
        format!("{:<20}{:>18.9}{:>18.9}{clipped}", c.component, c.variance, c.sd)
    }));
    out.push(format!("\nrepeatability of one seating: {:.6}", a.repeatability_sd));
    out.join("\n")
}
