//! `compare`: two stages of one wing, or two wings.

use crate::exit::Exit;
use crate::show::Show;
use clap::Args;
use shop::assess::view::{Comparison, ComparisonKind, ComparisonRow};
use shop::{Session, ShopError};
use std::path::PathBuf;

/// `compare`
#[derive(Debug, Args)]
pub struct Compare {
    /// The log; of the left wing, where two wings are compared
    log: PathBuf,
    /// The other wing's log
    other: Option<PathBuf>,
    /// Compare this stage ...
    #[arg(long, requires = "with", conflicts_with = "other")]
    stage: Option<String>,
    /// ... with this one
    #[arg(long)]
    with: Option<String>,
}

impl Compare {
    /// Compares them.
    pub fn run(self, show: &Show) -> Result<Exit, ShopError> {
        let first = Session::open_read_only(&self.log)?;
        let compared = match (&self.other, &self.stage, &self.with) {
            (Some(other), _, _) => {
                let second = Session::open_read_only(other)?;
                shop::assess::compare(first.plan(), &first.assessment(), &second.assessment())
            }
            (None, Some(stage), Some(with)) => {
                let (a, b) = (first.assessment_at(stage)?, first.assessment_at(with)?);
                shop::assess::compare(first.plan(), &a, &b)
            }
            _ => {
                return Err(ShopError::Refused(
                    "name the other wing's log, or two stages: --stage \"ribs on\" --with \"rear spar on\""
                        .to_owned(),
                ));
            }
        };
        let comparison = compared.map_err(|e| ShopError::Refused(e.to_string()))?;
        show.answer(|| text(&comparison), &comparison)?;
        let judged = comparison.parts.iter().chain(&comparison.stations);
        Ok(Exit::worst(judged.map(|row| Exit::of_verdict(row.difference.verdict))))
    }
}

fn text(c: &Comparison) -> String {
    let what = match c.kind {
        ComparisonKind::Stages => "Two stages",
        ComparisonKind::Sides => "Two wings",
    };
    let mut out = vec![
        format!("{what}: {} less {}", shop::shown(&c.first), shop::shown(&c.second)),
        String::new(),
        format!("{:<18}{:>9}{:>9}{:>12}{:>8}  {}", "degrees", "first", "second", "difference", "± u", ""),
    ];
    out.extend(c.parts.iter().map(line));
    out.push(String::new());
    out.extend(c.stations.iter().map(line));
    out.push(String::new());
    out.push(format!(
        "A station counts as changed where chance gives so much less than once in {:.0}.",
        1.0 / c.station_alpha
    ));
    out.extend(c.remarks.iter().cloned());
    out.join("\n")
}

fn line(row: &ComparisonRow) -> String {
    let real = if row.real { "more than measurement" } else { "within measurement" };
    let verdict = row.difference.verdict.map_or_else(String::new, |v| format!("; {}", v.word()));
    format!(
        "{:<18}{:>9.3}{:>9.3}{:>12.3}{:>8.3}  {real}{verdict}",
        shop::shown(&row.name),
        row.first_deg,
        row.second_deg,
        row.difference.value,
        row.difference.u
    )
}
