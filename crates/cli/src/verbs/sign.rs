//! `sign`: sign the log as it stands; `sign --new-key` makes a key file.

use super::happen::{acknowledge, open};
use crate::exit::Exit;
use crate::show::Show;
use clap::Args;
use serde::Serialize;
use session::{NotSigned, SessionError, shown};
use std::path::{Path, PathBuf};

/// `sign`
#[derive(Debug, Args)]
pub struct Sign {
    /// The log; may be left out where it is the only one here
    #[arg(add = clap_complete::ArgValueCompleter::new(crate::complete::logs))]
    log: Option<PathBuf>,
    /// Who signs (else JIGTRUE_BY, else the login name)
    #[arg(long)]
    who: Option<String>,
    /// In what capacity: builder, inspector
    #[arg(long, required_unless_present = "new_key")]
    capacity: Option<String>,
    /// What is stated
    #[arg(long, required_unless_present = "new_key")]
    statement: Option<String>,
    /// Sign that you have seen it as it stands, though the gate holds
    #[arg(long)]
    as_seen: bool,
    /// A key file (Ed25519) to sign with
    #[arg(long)]
    key: Option<PathBuf>,
    /// Make a new key file here, and sign nothing
    #[arg(long, conflicts_with_all = ["log", "key"])]
    new_key: Option<PathBuf>,
}

#[derive(Serialize)]
struct Made {
    format: u32,
    key_file: String,
    public_file: String,
    public_key: String,
}

impl Sign {
    /// Signs it.
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        if let Some(path) = &self.new_key {
            return make_key(path, show);
        }
        let log = crate::which::or_unnamed(self.log, show)?;
        let mut session = open(&log, self.who.as_deref())?;
        let signed = session.sign(session::Sign {
            who: self.who,
            capacity: self.capacity.unwrap_or_default(),
            statement: self.statement.unwrap_or_default(),
            as_seen: self.as_seen,
            key: self.key,
        });
        match signed {
            Ok(taken) => acknowledge(&taken, show),
            // What is not met says how the run ends, as `check` would.
            Err(SessionError::NotSigned(NotSigned::Holds(gate))) => {
                super::super::failed(&NotSigned::Holds(gate.clone()).into(), show);
                Ok(Exit::of_gate(&gate))
            }
            Err(why) => Err(why),
        }
    }
}

fn make_key(path: &Path, show: &Show) -> Result<Exit, SessionError> {
    let key = session::keys::make(path)?;
    let made = Made {
        format: 1,
        key_file: path.display().to_string(),
        public_file: key.public_file.display().to_string(),
        public_key: key.public_key,
    };
    let text = || {
        format!(
            "Key file {} created (only you can read it); keep it private. Its public half,\n{}, is for those who check: \
             ed25519 {}",
            shown(&made.key_file),
            shown(&made.public_file),
            made.public_key
        )
    };
    show.answer(text, &made)?;
    Ok(Exit::Done)
}
