//! `new`: start a log from a plan.

use crate::exit::Exit;
use crate::show::Show;
use crate::view::wrap::wrap;
use crate::written::Holds;
use clap::Args;
use quantity::shown::count;
use serde::Serialize;
use session::nearby::LOG_ENDING;
use session::{Session, SessionError, WingLog, shown};
use std::path::{Path, PathBuf};

#[derive(Debug, Args)]
pub struct New {
    /// The plan's file
    plan: PathBuf,
    /// The log to start; named after the plan if no name is given
    #[arg(value_name = "LOG")]
    to: Option<PathBuf>,
    /// Of an aeroplane: a wing, by its name in the plan or its side, and the log of its jig: left=left.jigtrue; may be repeated
    #[arg(long = "wing", value_name = "WING=LOG")]
    wings: Vec<WingLog>,
    /// Who starts it (otherwise JIGTRUE_BY, or the login name)
    #[arg(long)]
    by: Option<String>,
}

#[derive(Serialize)]
struct Answer {
    log: String,
    wing: String,
    stations: usize,
    stages: Vec<String>,
    warnings: Vec<String>,
    /// What was taken up from each wing's log.
    wings: Vec<String>,
}

impl New {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let beside = || Path::new(self.plan.file_stem().unwrap_or_default()).with_extension(LOG_ENDING);
        let log = self.to.clone().unwrap_or_else(beside);
        Holds::Log.may_be_in(&log, &[&self.plan])?;
        let mut session = Session::create(&self.plan, &log, self.by.as_deref())?;
        let wings = session.take_up_at_start(&self.wings)?;
        let plan = session.plan();
        // An aeroplane has no stations.
        let measured = match plan.stations.len() as u64 {
            0 => count(plan.points().len(), "point", "points"),
            stations => count(stations, "station", "stations"),
        };
        let answer = Answer {
            log: log.display().to_string(),
            wing: plan.wing.name.clone(),
            stations: plan.stations.len(),
            stages: plan.stages.iter().map(|s| s.name.clone()).collect(),
            warnings: plan.warnings().iter().map(ToString::to_string).collect(),
            wings,
        };
        let text = || {
            let mut text = format!(
                "{} is started for {}: {}, {}.\n\n{}\n",
                shown(&answer.log),
                shown(&answer.wing),
                measured,
                count(answer.stages.len(), "stage", "stages"),
                wrap("", crate::view::check::CAUTION)
            );
            for wing in &answer.wings {
                text.push_str(&wrap("", wing));
                text.push('\n');
            }
            for warning in &answer.warnings {
                text.push_str(&wrap("Mind: ", &shown(warning)));
                text.push('\n');
            }
            if let Some(first) = answer.stages.first() {
                text.push_str(&format!("\nNext: jigtrue stage {} \"{}\"", shown(&answer.log), shown(first)));
            }
            text
        };
        show.done(text, &answer)
    }
}
