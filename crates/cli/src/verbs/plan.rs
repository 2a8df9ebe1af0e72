//! `plan`: an example to start from.

use crate::exit::Exit;
use crate::show::Show;
use clap::Args;
use serde::Serialize;
use session::SessionError;

/// A commented example, small and complete.
const EXAMPLE: &str = include_str!("plan.toml");

/// `plan`
#[derive(Debug, Args)]
pub struct Plan {}

#[derive(Serialize)]
struct Answer {
    format: u32,
    plan: &'static str,
}

impl Plan {
    /// Prints it.
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        show.answer(|| EXAMPLE.to_owned(), &Answer { format: 1, plan: EXAMPLE })?;
        Ok(Exit::Done)
    }
}
