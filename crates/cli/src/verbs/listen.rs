//! `listen`: readings from an instrument on a port, guided along the points still wanted.

mod big;
mod guide;
mod round;
mod screen;
mod typed;

pub use round::figure;

use super::happen::open;
use super::table::refused;
use super::take::Way;
use crate::exit::Exit;
use crate::show::Show;
use clap::Args;
use guide::Guide;
use round::{Counts, Round, TakenView};
use screen::Screen;
use serde::Serialize;
use session::gauges::Connected;
use session::port::{Leave, Listener, TypedLines};
use session::{Session, SessionError, shown};
use std::path::PathBuf;
use std::time::Duration;

/// How long to wait for something to come in before looking at what was typed.
const LOOK: Duration = Duration::from_millis(50);

/// `listen`
#[derive(Debug, Args)]
pub struct Listen {
    /// The log
    #[arg(add = clap_complete::ArgValueCompleter::new(crate::complete::logs))]
    log: PathBuf,
    /// The port the instrument is on; `jigtrue instruments` lists ports, and any path may be given
    #[arg(long)]
    port: String,
    /// The instrument's file (TOML)
    #[arg(long)]
    instrument: PathBuf,
    /// Take each value by itself once it has settled; move on to the next and it is taken there
    #[arg(long)]
    hands_free: bool,
    /// One facing for every point; without it, points that reverse are asked for both ways
    #[arg(long, value_enum)]
    facing: Option<Way>,
    /// Begin with this point instead of the first still wanted
    #[arg(long)]
    point: Option<String>,
    /// Temperature of the part: 21, 70 °F
    #[arg(long, allow_hyphen_values = true)]
    temp: Option<String>,
    /// Who takes them (else JIGTRUE_BY, else the login name)
    #[arg(long)]
    by: Option<String>,
}

#[derive(Serialize)]
struct Answer {
    format: u32,
    port: String,
    instrument: String,
    taken: Vec<TakenView>,
    still_wanted: Vec<record::Point>,
    counts: Counts,
}

impl Listen {
    /// Listens until nothing more is wanted, or the person leaves (`q`, or Ctrl-C).
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let device = Connected::read(&self.instrument)?;
        let mut session = open(&self.log, self.by.as_deref())?;
        let temperature = self.temp.as_deref().map(session::part_temperature).transpose()?;
        let guide = Guide::new(self.facing.map(Into::into), Some(device.quantity()));
        let first = match &self.point {
            Some(point) => Some(guide.choose(&session, point)?),
            None => guide.next(&session),
        };
        if first.is_none() {
            return Err(refused(
                "nothing that this instrument measures is still wanted at this stage; begin the next stage with \
                 `jigtrue stage`, or name a point with --point",
            ));
        }
        // First what may fail: nothing comes into the log for a port that is not there.
        let listener = Listener::open(&self.port, device.settings, device.dialect)?;
        let leave = Leave::begin()?;
        enter(&mut session, &device, show)?;
        let mut round = Round::new(session, &device, &listener, guide, Screen::new(show));
        (round.target, round.temperature) = (first, temperature);
        round.screen.say(&format!(
            "listening on {} to `{}`",
            shown(&self.port),
            shown(&device.facts.name)
        ))?;
        self.walk(&mut round, &leave)?;
        round.screen.clear()?;
        let answer = Answer {
            format: 1,
            port: shown(&self.port).into_owned(),
            instrument: device.facts.name.clone(),
            still_wanted: round.session.assessment().wanted.clone(),
            taken: round.taken,
            counts: round.counts,
        };
        show.answer(|| text(&answer), &answer)?;
        Ok(Exit::Done)
    }

    fn walk(&self, round: &mut Round<'_>, leave: &Leave) -> Result<(), SessionError> {
        let lines = TypedLines::begin()?;
        while round.target.is_some() && !leave.asked() {
            for event in round.listener.wait(LOOK) {
                round.event(event)?;
                if self.hands_free {
                    // After each: of an instrument that sends a value when its button is pressed, none may be passed over.
                    round.take_by_itself()?;
                }
            }
            while let Some(line) = lines.next() {
                if !round.typed(&line)? {
                    return Ok(());
                }
            }
            round.draw()?;
            if self.hands_free {
                round.take_by_itself()?;
            } else if lines.ended() {
                // Nobody is left to say when to take one.
                return Ok(());
            }
        }
        Ok(())
    }
}

/// Enters the instrument, if the log does not know it; says so where it knows it otherwise.
pub fn enter(session: &mut Session, device: &Connected, show: &Show) -> Result<(), SessionError> {
    let facts = &device.facts;
    match session.instruments().get(&facts.name) {
        None => {
            let taken = session.add_instrument(facts.clone())?;
            show.text(&taken.ack)
        }
        Some(known) if known == facts => Ok(()),
        Some(_) => {
            show.aside(&format!(
                "note: the log has other facts of `{}` than its file; those of the log count. `jigtrue instrument add` \
                 enters the file's",
                shown(&facts.name)
            ));
            Ok(())
        }
    }
}

fn text(answer: &Answer) -> String {
    let count = answer.taken.iter().filter(|taken| !taken.withdrawn).count();
    let mut text = match count {
        1 => "1 reading taken.".to_owned(),
        n => format!("{n} readings taken."),
    };
    match answer.still_wanted.as_slice() {
        [] => text.push_str(" Nothing more is wanted at this stage."),
        [only] => text.push_str(&format!(" Still wanted: {}.", shown(&only.to_string()))),
        [first, rest @ ..] => {
            text.push_str(&format!(" Still wanted: {} and {} more.", shown(&first.to_string()), rest.len()));
        }
    }
    text
}
