//! `take`: typed readings; one, several, or a whole round.

mod end;
mod gauges;
mod round;
mod rounds;
mod said;
mod short;

use super::happen::{Answer, open, unsaid};
use crate::exit::Exit;
use crate::negative::typed;
use crate::refusal::Refusal;
use crate::show::Show;
use crate::words;
use clap::Args;
use record::Facing;
use session::{SessionError, Taken, TypedLog, default_name};
use std::path::PathBuf;

const EXAMPLES: &str = "\
Without a point it walks along what is still wanted: a value a line, b back, s skip,
a point's name to go there, ! to keep a value that was asked about, ? help, q stop.
From a pipe each line is answered, and the first that cannot be taken ends it.

  jigtrue take                       a round
  jigtrue take S4 f 1.45 a -1.2      both readings at S4
  jigtrue take spot@BR1 9.4          a torque

It reads only the round in progress: check and verify find a change elsewhere in the log.

Exit codes: 0 recorded; 1 a value was not recorded, or is questioned; 2 not understood.";

#[derive(Debug, Args)]
#[command(after_long_help = EXAMPLES)]
pub struct Take {
    /// The log; may be left out if it is the only one here
    log: PathBuf,
    /// What is measured and where: S4 (its incidence), height@rear:S9, level@root-post
    point: Option<String>,
    /// The value as the instrument shows it (0.35, 0°21', 6.1 mm/m, 1:164, 5/64 in, 60 in-lb), with f or a before it
    /// for facing forward or aft; and further values
    #[arg(value_name = "VALUE", value_parser = value)]
    values: Vec<String>,
    /// Which way the instrument faced
    #[arg(long, value_parser = words::facing(), ignore_case = true, requires = "point")]
    facing: Option<Facing>,
    /// Which instrument, if the plan has several that would do
    #[arg(long)]
    instrument: Option<String>,
    /// Temperature of the part: 21, 70 °F
    #[arg(long, alias = "temperature", value_parser = value)]
    temp: Option<String>,
    /// Who took it (otherwise JIGTRUE_BY, or the login name)
    #[arg(long)]
    by: Option<String>,
    /// Begin a new round: the instrument was set up again
    #[arg(hide_short_help = true, long)]
    new_round: bool,
    /// It was read no finer than this step: 0.5
    #[arg(long, value_name = "STEP")]
    read_to: Option<String>,
    /// Record it although it is questioned
    #[arg(long)]
    sure: bool,
    /// In a round, do not show what is expected; automatic for whoever signed this log as inspector
    #[arg(hide_short_help = true, long, conflicts_with = "point")]
    blind: bool,
    /// Show what is expected, to an inspector too
    #[arg(hide_short_help = true, long, conflicts_with_all = ["blind", "point"])]
    expected: bool,
    /// A remark
    #[arg(hide_short_help = true, long, value_parser = value)]
    note: Option<String>,
}

/// A value as typed, negative or not.
#[expect(clippy::unnecessary_wraps, reason = "that is what reads an argument")]
fn value(word: &str) -> Result<String, std::convert::Infallible> {
    Ok(typed(word.to_owned()))
}

impl Take {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let Some(point) = self.point.clone() else {
            if self.sure {
                return Err(SessionError::NothingAsked);
            }
            let session = open(&self.log, self.by.as_deref(), show)?;
            return rounds::run(session, &self, show);
        };
        if self.values.is_empty() {
            return Err(Refusal::NoValue(session::shown(&point).into_owned()).into());
        }
        let mut log = TypedLog::open(&self.log)?;
        let values = short::read(log.plan(), &point, &self.values, self.facing)?;
        let takes = values.into_iter().enumerate().map(|(i, value)| session::Take {
            new_round: self.new_round && i == 0,
            ..self.reading(value.point, value.text, value.facing)
        });
        let takes: Vec<session::Take> = takes.collect();
        log.readable(&takes)?;
        let mut taken = Vec::new();
        for take in &takes {
            match log.take(default_name().as_deref(), take) {
                Ok(one) => {
                    acknowledge(&one, takes.len(), show)?;
                    taken.push(one.entry.seq);
                }
                Err(why) => {
                    said::on_disk(&taken, show);
                    return Err(why);
                }
            }
        }
        Ok(Exit::Done)
    }

    /// A reading with the options given for all of them.
    fn reading(&self, point: String, text: String, facing: Option<Facing>) -> session::Take {
        session::Take {
            point,
            text,
            facing,
            instrument: self.instrument.clone(),
            temperature: self.temp.clone(),
            by: self.by.clone(),
            new_round: false,
            note: self.note.clone(),
            read_to: self.read_to.clone(),
            sure: self.sure.into(),
        }
    }
}

/// Says that a reading was taken; it is on disk by now. `of` is how many readings the command takes.
fn acknowledge(taken: &Taken, of: usize, show: &Show) -> Result<(), SessionError> {
    let answer = Answer::of(taken);
    let said = || said::taken(taken);
    let told = if of > 1 { show.event(said, &answer) } else { show.answer(said, &answer) };
    told.map_err(|why| unsaid(taken.entry.seq, why))
}
