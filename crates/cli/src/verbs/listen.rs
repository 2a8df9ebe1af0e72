//! `listen`: readings from an instrument on a port, guided along the points still wanted; and posts levelled live.

mod answer;
mod big;
mod run;
mod screen;
mod status;
mod typed;

pub use status::figure;

use super::happen::open;
use crate::exit::Exit;
use crate::refusal::Refusal;
use crate::show::Show;
use crate::words::{self, Word, one_of};
use bench::{Arrow, HandsFree, Key, Seat, Second};
use clap::Args;
use record::Facing;
use run::Run;
use screen::Screen;
use session::gauges::Connected;
use session::port::{Driver, Leave, Listener};
use session::{Session, SessionError, shown};
use std::path::PathBuf;

/// Along what the instrument's arrow lies on a post.
const ARROWS: [Word<Arrow>; 2] = [
    (
        "leading-edge",
        Arrow::ForeAndAft,
        "Across the post, forward toward the leading edge: the first axis measures cross",
    ),
    ("outboard", Arrow::AlongSpan, "Along the span, forward outboard: the first axis measures level"),
];

/// Which way the second axis counts.
const SECONDS: [Word<Second>; 2] = [
    ("grows", Second::Grows, "It grows as the outboard end (arrow outboard: the leading edge) goes up"),
    ("falls", Second::Falls, "It falls then"),
];

#[derive(Debug, Args)]
pub struct Listen {
    /// The log; may be left out if it is the only one here
    log: PathBuf,
    /// Its port (`jigtrue ports` lists them); - is standard input, for one that types like a
    /// keyboard
    #[arg(long)]
    port: String,
    /// The instrument's file (TOML)
    #[arg(long)]
    instrument: PathBuf,
    /// Take each value by itself once it has settled
    #[arg(long)]
    hands_free: bool,
    /// Level this post: hold still, turn, hold still, record
    #[arg(long, group = "turning", conflicts_with_all = ["point", "hands_free"])]
    level: Option<String>,
    /// Move the spars as advised: the level stays on a station; hold still, turn, hold still, record
    #[arg(long, group = "turning", conflicts_with_all = ["point", "hands_free"])]
    moves: bool,
    /// Record each move without asking (--level, --moves)
    #[arg(long, requires = "turning")]
    record: bool,
    /// How the instrument lies on a post
    #[arg(long, value_parser = one_of(&ARROWS), default_value = "leading-edge")]
    arrow: Arrow,
    /// Use its second axis, too: which way that counts while the arrow faces forward
    #[arg(hide_short_help = true, long, value_parser = one_of(&SECONDS))]
    second: Option<Second>,
    /// One facing for every point; without it, points that reverse are asked for both ways
    #[arg(hide_short_help = true, long, value_parser = words::facing(), ignore_case = true)]
    facing: Option<Facing>,
    /// Begin with this point instead of the first still wanted
    #[arg(hide_short_help = true, long)]
    point: Option<String>,
    /// Temperature of the part: 21, 70 °F
    #[arg(hide_short_help = true, long, allow_hyphen_values = true)]
    temp: Option<String>,
    /// Who takes them (otherwise JIGTRUE_BY, or the login name)
    #[arg(hide_short_help = true, long)]
    by: Option<String>,
}

impl Listen {
    /// Listens until nothing more is wanted, or the person leaves (`q` or Ctrl-C).
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let device = Connected::read(&self.instrument)?;
        let mut session = open(&self.log, self.by.as_deref(), show)?;
        let keys = self.keys(&session, &device)?;
        // First what may fail: nothing enters the log for a missing port.
        let driver = self.driver(&device)?;
        let leave = Leave::begin()?;
        enter(&mut session, &device, show)?;
        let mut run = Run::new(session, driver, &device, Screen::new(show));
        run.begin(&self.port, keys)?;
        let end = run.walk(&leave)?;
        run.end(&self.port, end, show)
    }

    fn driver(&self, device: &Connected) -> Result<Driver, SessionError> {
        if self.port != "-" {
            let listener = Listener::open(&self.port, device.settings, device.dialect)?;
            return Ok(Driver::new(device, listener));
        }
        if device.settle.each_value() {
            return Ok(Driver::typed(device));
        }
        Err(Refusal::TypedOnce.into())
    }

    /// The keys that the options stand for; refused if there is nothing to do.
    fn keys(&self, session: &Session, device: &Connected) -> Result<Vec<Key>, SessionError> {
        let temperature = self
            .temp
            .as_deref()
            .map(|text| session::part_temperature(text, session.plan().units))
            .transpose()?;
        let seat = Seat { arrow: self.arrow, second: self.second.unwrap_or_default() };
        let mut keys = vec![Key::Temperature(temperature), Key::Seat(seat)];
        keys.extend(self.facing.map(|facing| Key::Only(Some(facing))));
        if let Some(turning) = self.turning(session)? {
            if device.quantity() != quantity::Kind::Angle {
                return Err(Refusal::NotALevel.into());
            }
            keys.push(turning);
            keys.extend(self.facing.map(Key::Face));
        } else if let Some(point) = &self.point {
            keys.push(Key::Go(session.target_named(point, device.quantity())?));
        } else if nothing_wanted(session, device) {
            return Err(Refusal::NothingToMeasure.into());
        }
        if self.hands_free || self.record {
            keys.push(Key::HandsFree(HandsFree::On));
        }
        Ok(keys)
    }

    /// The loop of moves requested, if any; refused if there is nothing to turn.
    fn turning(&self, session: &Session) -> Result<Option<Key>, SessionError> {
        if let Some(post) = &self.level {
            session.post_named(post)?;
            return Ok(Some(Key::Level(post.clone())));
        }
        if !self.moves {
            return Ok(None);
        }
        let advice = assess::advice::go_on(session.plan(), session.entries(), &session.assessment());
        if advice.steps.is_empty() {
            return Err(Refusal::NothingToTurn(advice.words).into());
        }
        Ok(Some(Key::Moves))
    }
}

/// Whether this instrument has nothing to measure at this stage.
fn nothing_wanted(session: &Session, device: &Connected) -> bool {
    let mut driver = Driver::recording(device);
    driver.look(session);
    driver.view(session).target.is_none()
}

/// Enters the instrument if the log does not know it; reports if the log has other data for it.
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
                "note: the log has other data for `{}` than its file; the log's data count. `jigtrue \
                    instrument add` enters the file's",
                shown(&facts.name)
            ));
            Ok(())
        }
    }
}
