//! `completions`: the lines that teach a shell to complete what is typed after `jigtrue`.

use crate::complete::VAR;
use crate::exit::Exit;
use crate::show::Show;
use clap::{Args, ValueEnum};
use clap_complete::env::{Bash, EnvCompleter, Fish, Zsh};
use serde::Serialize;
use session::SessionError;

/// Name of the program, as it is typed.
const PROGRAM: &str = "jigtrue";

#[derive(Clone, Copy, Debug, ValueEnum, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Shell {
    /// GNU bash
    Bash,
    /// Z shell
    Zsh,
    /// fish
    Fish,
}

#[derive(Debug, Args)]
pub struct Completions {
    /// Which shell; for bash: source <(jigtrue completions bash)
    shell: Shell,
}

#[derive(Serialize)]
struct Answer {
    shell: Shell,
    script: String,
}

impl Completions {
    /// Prints the lines to source.
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let completer: &dyn EnvCompleter = match self.shell {
            Shell::Bash => &Bash,
            Shell::Zsh => &Zsh,
            Shell::Fish => &Fish,
        };
        let mut script = Vec::new();
        completer
            .write_registration(VAR, PROGRAM, PROGRAM, PROGRAM, &mut script)
            .map_err(SessionError::because)?;
        let script = String::from_utf8_lossy(&script).into_owned();
        show.done(|| script.clone(), &Answer { shell: self.shell, script: script.clone() })
    }
}
