//! `take`: a typed reading.

use super::happen::{acknowledge, who};
use crate::exit::Exit;
use crate::show::Show;
use clap::{Args, ValueEnum};
use record::Facing;
use session::{Session, SessionError};
use std::path::PathBuf;

/// Which way the instrument's arrow points.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Way {
    /// Toward the leading edge; for a tilt along the span, outboard
    Forward,
    /// Toward the trailing edge; for a tilt along the span, inboard
    Aft,
}

impl From<Way> for Facing {
    fn from(way: Way) -> Self {
        match way {
            Way::Forward => Self::Forward,
            Way::Aft => Self::Aft,
        }
    }
}

/// `take`
#[derive(Debug, Args)]
pub struct Take {
    /// The log
    #[arg(add = clap_complete::ArgValueCompleter::new(crate::complete::logs))]
    log: PathBuf,
    /// What is measured and where: incidence@S4, height@rear:S9, level@root-post
    #[arg(add = clap_complete::ArgValueCompleter::new(crate::complete::points))]
    point: String,
    /// The value as the instrument shows it: 0.35, 0°21', 6.1 mm/m, 1:164, 5/64 in, 60 in-lb
    #[arg(allow_hyphen_values = true)]
    value: String,
    /// Which way the instrument faced
    #[arg(long, value_enum)]
    facing: Option<Way>,
    /// Which instrument, where the plan has several that would do
    #[arg(long)]
    instrument: Option<String>,
    /// Temperature of the part: 21, 70 °F
    #[arg(long, allow_hyphen_values = true)]
    temp: Option<String>,
    /// Who took it (else JIGTRUE_BY, else the login name)
    #[arg(long)]
    by: Option<String>,
    /// Begin a new round: the instrument was set up again
    #[arg(long)]
    new_round: bool,
    /// It was read no finer than this step: 0.5
    #[arg(long, value_name = "STEP")]
    read_to: Option<String>,
    /// It really is so, though it would be asked about
    #[arg(long)]
    sure: bool,
    /// A remark
    #[arg(long)]
    note: Option<String>,
}

impl Take {
    /// Takes it.
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let take = session::Take {
            point: self.point,
            text: self.value,
            facing: self.facing.map(Facing::from),
            instrument: self.instrument,
            temperature: self.temp,
            by: self.by,
            new_round: self.new_round,
            note: self.note,
            read_to: self.read_to,
            sure: self.sure,
        };
        let taken = Session::take_one(&self.log, who().as_deref(), &take)?;
        acknowledge(&taken, show)
    }
}
