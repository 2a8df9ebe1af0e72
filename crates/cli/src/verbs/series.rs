//! `series`: what many wings of one kind teach.

use crate::exit::Exit;
use crate::show::Show;
use crate::view::Listed;
use crate::view::series::text;
use clap::Args;
use session::{Session, SessionError};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Series {
    /// The logs, or folders of logs, of one kind of wing
    #[arg(required = true)]
    logs: Vec<PathBuf>,
    /// Every wing as it was at the end of this stage, instead of the closing stage
    #[arg(long)]
    stage: Option<String>,
    /// Every figure and every change, and not only those that stand out
    #[arg(long)]
    all: bool,
}

impl Series {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let series = Session::series(&self.logs, self.stage.as_deref())?;
        let extent = Listed::from(self.all);
        show.view(|| text(&series, extent, show.units(quantity::Units::INSIDE)), &series)?;
        Ok(if series.not_counted.is_empty() { Exit::Done } else { Exit::Open })
    }
}
