//! `form`: a blank form for a stage, to fill in at the jig: a page of text, or a table for `import`.

mod printed;

use crate::exit::Exit;
use crate::refusal::Refusal;
use crate::show::Show;
use crate::view::instrument::with_steps;
use crate::view::wrap::{WIDTH, fit, width};
use crate::written::Holds;
use clap::Args;
use quantity::Kind;
use quantity::shown::counted;
use record::plan::Plan;
use record::point::Design;
use record::{Facing, Instrument, Point};
use serde::Serialize;
use session::{Session, SessionError, shown};
use sheet::Paper;
use std::path::PathBuf;

#[derive(Debug, Args)]
#[command(after_long_help = "  jigtrue form                    a page of the present stage, to print\n  \
    jigtrue form -o round.pdf         the same as PDF/A, with boxes to write in\n  \
    jigtrue form --csv -o round.csv   a table: fill in the values, then jigtrue import round.csv")]
pub struct Form {
    /// The log; may be left out if it is the only one here
    log: PathBuf,
    /// The stage; without it the present one, or the first
    #[arg(long)]
    stage: Option<String>,
    /// As a table, which `import` reads once it is filled in
    #[arg(long)]
    csv: bool,
    /// Write it into this file; as PDF/A if its name ends in .pdf
    #[arg(short, long)]
    output: Option<PathBuf>,
    /// a4 or letter, for a PDF
    #[arg(long, requires = "output")]
    paper: Option<String>,
}

#[derive(Serialize)]
struct Blank {
    /// As `incidence@S4`.
    point: Point,
    /// `forward` or `aft`, or null.
    facing: Option<Facing>,
    instrument: Option<String>,
    #[serde(skip)]
    quantity: Kind,
}

impl Blank {
    /// Where it is along the span, in the shown unit.
    fn span(&self, plan: &Plan) -> Option<String> {
        let length = plan.shown_in.scale(Kind::Length);
        plan.station(self.point.place()).map(|s| length.exact(s.span.value()))
    }

    /// The design value, in the shown unit.
    fn design(&self, plan: &Plan) -> Option<String> {
        let scale = plan.shown_in.scale(self.quantity);
        plan.design_of(&self.point).map(|d| match self.point.kind().row().design {
            Design::Incidence | Design::Zero => scale.signed(d, scale.decimals(2)),
            _ => scale.exact(d),
        })
    }

    /// The group of readings under one heading.
    fn group(&self) -> String {
        let word = self.point.kind().row().word;
        format!("{word} {} {}", self.point.spar().unwrap_or_default(), self.quantity.word())
    }

    fn title(&self) -> String {
        let spar = self.point.spar().map(|spar| format!(" of {spar}")).unwrap_or_default();
        format!("{}{spar}", self.point.kind().row().words)
    }
}

#[derive(Serialize)]
struct Answer<'a> {
    stage: &'a str,
    values: &'a [Blank],
}

impl Form {
    /// Prints it, or writes it.
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let session = show.of(Session::open_read_only(&self.log)?);
        let present = session.assessment().stage.clone();
        let name = match self.stage.as_deref().or(present.as_deref()) {
            Some(name) => session.stage_named(name)?,
            None => match session.plan().stages.first() {
                Some(first) => first.name.clone(),
                None => return Err(Refusal::NoStages.into()),
            },
        };
        let blanks = blanks(&session, &name);
        if blanks.is_empty() {
            return Err(Refusal::NoReadings(name).into());
        }
        let text = if self.csv {
            csv(&blanks).map_err(SessionError::because)?
        } else {
            page(&session, &name, &blanks)
        };
        if let Some(output) = &self.output {
            let pdf = output.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("pdf"));
            let bytes = match (pdf, self.csv, &self.paper) {
                (true, true, _) => return Err(Refusal::TableAsPdf.into()),
                (false, _, Some(_)) => return Err(Refusal::PaperWithoutPdf.into()),
                (false, csv, _) => {
                    let holds = if csv { Holds::Csv } else { Holds::Text };
                    holds.may_be_in(output, &[&self.log])?;
                    text.into_bytes()
                }
                (true, false, paper) => {
                    let word = paper.as_deref().unwrap_or(Paper::A4.word());
                    let paper = super::sheet::paper(word)?;
                    printed::pdf(&session, &name, &blanks, paper)?
                }
            };
            session::write_whole(output, &[&self.log], &bytes)?;
            show.text(&format!(
                "{}: {} to fill in",
                shown(&output.display().to_string()),
                counted(blanks.len(), "value", "values")
            ))?;
            return Ok(Exit::Done);
        }
        show.done(|| text, &Answer { stage: &name, values: &blanks })
    }
}

/// What the stage requires, with the level turned once at each place.
fn blanks(session: &Session, stage: &str) -> Vec<Blank> {
    let plan = session.plan();
    let requires = plan.stage(stage).map(|s| s.requires.as_slice()).unwrap_or_default();
    let mut out: Vec<Blank> = Vec::new();
    let mut turned: Option<(record::PointKind, Facing)> = None;
    for point in requires {
        let Some(quantity) = plan.quantity_of(point) else { continue };
        let instrument = instrument(session, point, quantity).map(|i| i.name);
        let mut blank = |facing: Option<Facing>| {
            out.push(Blank { point: point.clone(), facing, instrument: instrument.clone(), quantity });
        };
        if point.kind().reverses() {
            let first = turned
                .filter(|(kind, _)| *kind == point.kind())
                .map_or(Facing::Forward, |(_, facing)| facing);
            blank(Some(first));
            blank(Some(first.turned()));
            turned = Some((point.kind(), first.turned()));
        } else {
            blank(None);
        }
    }
    out
}

fn instrument(session: &Session, point: &Point, quantity: Kind) -> Option<Instrument> {
    let mut fitting = session.instruments_for(quantity);
    if fitting.len() == 1 { fitting.pop() } else { session.instrument_last_used(point, quantity) }
}

fn csv(blanks: &[Blank]) -> Result<String, csv::Error> {
    let mut out = csv::Writer::from_writer(Vec::new());
    out.write_record(["point", "facing", "value", "instrument", "temperature_C", "at", "by", "note"])?;
    for blank in blanks {
        let instrument = blank.instrument.as_deref().unwrap_or_default();
        let facing = blank.facing.map(Facing::word).unwrap_or_default();
        out.write_record([blank.point.to_string().as_str(), facing, "", instrument, "", "", "", ""])?;
    }
    let bytes = out.into_inner().map_err(|why| why.into_error())?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

/// A page, one line for each place, each kind of reading under its own heading.
fn page(session: &Session, stage: &str, blanks: &[Blank]) -> String {
    let plan = session.plan();
    let date = "date ____________  by ____________";
    let wing = fit(&shown(&plan.wing.name), WIDTH.saturating_sub(width(date) + 1));
    let mut out = vec![format!("{wing} {date}"), format!("{}   {}", shown(stage), plan.wing.side.word())];
    let mut group = String::new();
    let mut places: Vec<&Point> = Vec::new();
    for blank in blanks {
        let this = blank.group();
        if this != group {
            group = this;
            out.push(String::new());
            let with = with(session, blank).unwrap_or_else(|| "instrument ____________".to_owned());
            out.push(shown(&format!("{}: {with}", blank.title())).into_owned());
            out.push(if blank.point.kind().reverses() {
                format!(
                    "{:<14}{:>9}{:>9}  {:<8}  {:<12}{:<12}{}",
                    "", "span", "design", "first", "forward", "aft", "remark"
                )
            } else {
                format!("{:<14}{:>9}{:>9}  {:<14}{}", "", "span", "design", "value", "remark")
            });
        }
        if places.contains(&&blank.point) {
            continue;
        }
        places.push(&blank.point);
        let (span, design) = (blank.span(plan).unwrap_or_default(), blank.design(plan).unwrap_or_default());
        let begin = format!("{}{span:>9}{design:>9}  ", fit(&shown(blank.point.place()), 14));
        out.push(match blank.facing {
            Some(first) => {
                format!("{begin}{:<8}  __________  __________  ____________", first.word())
            }
            None => format!("{begin}____________  ______________"),
        });
    }
    out.push(String::new());
    out.push("Then type the columns with jigtrue take; or fill in jigtrue form --csv.".to_owned());
    out.iter().map(|line| line.trim_end()).collect::<Vec<_>>().join("\n") + "\n"
}

/// The instrument, its number and its steps; `None` if it is not determined.
fn with(session: &Session, blank: &Blank) -> Option<String> {
    instrument(session, &blank.point, blank.quantity).map(|i| with_steps(&i, blank.quantity))
}
