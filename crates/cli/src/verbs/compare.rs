//! `compare`: two stages of one wing, or two wings.

use super::sheet::{paper, stamp};
use crate::exit::Exit;
use crate::refusal::Refusal;
use crate::show::Show;
use crate::view::wrap::{fit, wrap};
use crate::written::Holds;
use assess::Compared;
use assess::view::{Comparison, ComparisonKind, ComparisonOther, ComparisonRow};
use clap::Args;
use quantity::shown::{K95, Scale, decimals, fixed, signed};
use quantity::{Kind, Unit, Units};
use session::{Session, SessionError};
use sheet::{Fingerprint, PlotStyle, compare_pdf, compare_svg};
use std::path::{Path, PathBuf};

#[derive(Debug, Args)]
pub struct Compare {
    /// The log; that of the left wing, if two wings are compared
    log: PathBuf,
    /// The other wing's log
    other: Option<PathBuf>,
    /// Compare this stage ...
    #[arg(long, requires = "with", conflicts_with = "other")]
    stage: Option<String>,
    /// ... with this one
    #[arg(long)]
    with: Option<String>,
    /// Write it as a sheet (PDF/A) too, into a file that ends in .pdf
    #[arg(short, long)]
    output: Option<PathBuf>,
    /// Paper of the sheet: a4 or letter
    #[arg(long, default_value = "a4", requires = "output", conflicts_with = "svg")]
    paper: String,
    /// Write the differences along the span as SVG instead of the sheet
    #[arg(long, requires = "output")]
    svg: bool,
}

impl Compare {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let first = show.of(Session::open_read_only(&self.log)?);
        let second =
            self.other.as_deref().map(Session::open_read_only).transpose()?.map(|other| show.of(other));
        let compared = match (&second, &self.stage, &self.with) {
            (Some(second), _, _) => {
                taken_up(&first, second)?;
                let (a, b) = (first.assessment(), second.assessment());
                assess::compare_wings(
                    Compared { plan: first.plan(), found: &a },
                    Compared { plan: second.plan(), found: &b },
                )
            }
            (None, Some(stage), Some(with)) => {
                let (a, b) = (first.assessment_at(stage)?, first.assessment_at(with)?);
                let of = |found| Compared { plan: first.plan(), found };
                assess::compare(of(&a), of(&b))
            }
            _ => return Err(Refusal::ComparedWithWhat.into()),
        };
        let comparison = compared.map_err(SessionError::because)?;
        if let Some(output) = &self.output {
            let inputs: Vec<&Path> =
                [Some(&self.log), self.other.as_ref()].into_iter().flatten().map(PathBuf::as_path).collect();
            let holds = if self.svg { Holds::Svg } else { Holds::Pdf };
            holds.may_be_in(output, &inputs)?;
            let bytes = self.drawn(&comparison, &first, second.as_ref())?;
            session::write_whole(output, &inputs, &bytes)?;
        }
        show.view(|| text(&comparison, first.plan().shown_in), &comparison)?;
        Ok(Exit::of_verdict(comparison.verdict))
    }

    /// The sheet, or the picture.
    fn drawn(
        &self,
        c: &Comparison,
        first: &Session,
        second: Option<&Session>,
    ) -> Result<Vec<u8>, SessionError> {
        if self.svg {
            return Ok(compare_svg(c, &PlotStyle::default()).map_err(SessionError::because)?.into_bytes());
        }
        let paper = paper(&self.paper)?;
        let other = second.map(fingerprint).transpose()?;
        compare_pdf(c, &stamp(first, &first.assessment(), paper, sheet::Form::Full), other.as_ref())
            .map_err(SessionError::because)
    }
}

/// To compare an aeroplane and a wing, the aeroplane's log must have taken up the wing's log as it is.
fn taken_up(first: &Session, second: &Session) -> Result<(), SessionError> {
    let is_whole = |s: &Session| s.plan().wing.side == record::plan::Side::Both;
    let (aeroplane, wing) = match (is_whole(first), is_whole(second)) {
        (true, false) => (first, second),
        (false, true) => (second, first),
        _ => return Ok(()),
    };
    if aeroplane.took_up(wing) {
        return Ok(());
    }
    let (wing, aeroplane) = (wing.path().to_owned(), aeroplane.path().to_owned());
    Err(Refusal::NotTakenUp { wing, aeroplane }.into())
}

fn fingerprint(session: &Session) -> Result<Fingerprint, SessionError> {
    let session::LogHead { entries, hash: head } = session.head();
    Fingerprint::new(&session.plan_sha256(), &head, entries).map_err(SessionError::because)
}

fn text(c: &Comparison, units: Units) -> String {
    let angle = units.scale(Kind::Angle);
    let what = match c.kind {
        ComparisonKind::Stages => "Two stages",
        ComparisonKind::Sides => "Two wings",
        ComparisonKind::SinceJig => "Since the jig",
    };
    let mut out = vec![
        wrap("", &format!("{what}: {} less {}", session::shown(&c.first), session::shown(&c.second))),
        String::new(),
        format!(
            "{:<15}{:>9}{:>9}{:>12}{:>8}",
            if angle.unit() == Unit::Degree { "degrees" } else { angle.head() },
            "first",
            "second",
            "difference",
            "±95 %"
        ),
    ];
    out.extend(c.parts.iter().map(|row| line(row, angle)));
    out.push(String::new());
    out.extend(c.stations.iter().map(|row| line(row, angle)));
    if !c.others.is_empty() {
        out.push(String::new());
        out.push(format!("{:<26}{:>10}{:>10}{:>12}{:>9}", "", "first", "second", "difference", "±95 %"));
        out.extend(c.others.iter().map(|row| other(row, units)));
    }
    if !c.not_compared.is_empty() {
        out.push(String::new());
        out.push("Not compared".to_owned());
        out.extend(c.not_compared.iter().map(|words| wrap("  - ", words)));
    }
    out.push(String::new());
    out.push(wrap(
        "",
        &format!(
            "A station counts as changed if chance alone would give such a difference less than once in {}.",
            fixed(1.0 / c.station_alpha, 0)
        ),
    ));
    out.extend(c.remarks.iter().map(|r| wrap("", r)));
    out.join("\n")
}

fn other(row: &ComparisonOther, units: Units) -> String {
    let scale = units.scale(row.unit);
    let real = if row.real { "  changed" } else { "" };
    let decimals = decimals(K95 * scale.size(row.u));
    let name = format!("{}, {}", row.name, scale.head());
    format!(
        "{}{:>10}{:>10}{:>12}{:>9}{real}",
        fit(&name, 26),
        scale.fixed(row.first, decimals),
        scale.fixed(row.second, decimals),
        difference(scale, row.difference, decimals),
        bound(scale, row.u)
    )
}

fn difference(scale: Scale, base: f64, decimals: usize) -> String {
    match scale.unit() {
        Unit::ArcMinute => scale.signed(base, decimals),
        _ => signed(scale.size(base), decimals),
    }
}

/// Half the width of the 95 % interval.
fn bound(scale: Scale, u: f64) -> String {
    scale.with_u(0.0, u).half().trim_start_matches('±').to_owned()
}

fn line(row: &ComparisonRow, angle: Scale) -> String {
    let places = angle.decimals(3);
    let real = if row.real { "changed" } else { "same" };
    let verdict = row.difference.verdict.map_or_else(String::new, |v| format!("; {}", v.word()));
    format!(
        "{}{:>9}{:>9}{:>12}{:>8}  {real}{verdict}",
        fit(&row.name, 15),
        angle.signed(row.first_deg, places),
        angle.signed(row.second_deg, places),
        angle.signed(row.difference.value, places),
        angle.with_u(0.0, row.difference.u).at_least(places).half().trim_start_matches('±')
    )
}
