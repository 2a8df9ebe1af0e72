//! `sign`: sign the log as it stands; `sign --new-key` makes a key file.

use super::happen::{acknowledge, open};
use crate::exit::Exit;
use crate::failure::failed_as;
use crate::input::Input;
use crate::refusal::Refusal;
use crate::show::Show;
use crate::view::Listed;
use crate::view::gate;
use clap::Args;
use quantity::shown::count;
use record::GateState;
use session::{CAPACITIES, NotKnown, NotSigned, Session, SessionError, Unknown, shown};
use std::path::{Path, PathBuf};

#[derive(Debug, Args)]
pub struct Sign {
    /// The log; may be left out if it is the only one here
    log: Option<PathBuf>,
    /// Who signs (otherwise JIGTRUE_BY, or the login name)
    #[arg(long = "by", alias = "who")]
    who: Option<String>,
    /// In what capacity: builder, inspector; asked for at a terminal
    #[arg(long)]
    capacity: Option<String>,
    /// What is stated; asked for at a terminal
    #[arg(long)]
    statement: Option<String>,
    /// Sign that you have seen it as it is, although the gate holds
    #[arg(long)]
    as_seen: bool,
    /// A key file (Ed25519) to sign with
    #[arg(long)]
    key: Option<PathBuf>,
    /// Make a new key file here, and sign nothing
    #[arg(long, conflicts_with_all = ["log", "key", "who", "capacity", "statement", "as_seen"])]
    new_key: Option<PathBuf>,
}

/// The statement made by Enter alone if the gate is clear.
const USUAL: &str = "measured and found in tolerance";

impl Sign {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        if let Some(path) = &self.new_key {
            return make_key(path, show);
        }
        let log = crate::which::or_unnamed(self.log.clone(), show)?;
        let mut session = open(&log, self.who.as_deref(), show)?;
        let (capacity, statement) = match (&self.capacity, &self.statement) {
            (Some(capacity), Some(statement)) => (capacity.clone(), statement.clone()),
            _ => {
                let mut input = Input::new(show);
                if !input.asks() {
                    return Ok(failed_as(&Refusal::NobodyToAsk.into(), Exit::Usage, show));
                }
                match self.asked(&session, &mut input, show)? {
                    Asked::Signs { capacity, statement } => (capacity, statement),
                    Asked::Not(exit) => return Ok(exit),
                }
            }
        };
        known_capacity(&capacity)?;
        let signed = session.sign(session::Sign {
            who: self.who,
            capacity,
            statement,
            as_seen: self.as_seen,
            key: self.key,
        });
        match signed {
            Ok(taken) => acknowledge(&taken, show),
            // What is not met decides the exit code, as for `check`.
            Err(SessionError::NotSigned(NotSigned::Holds(gate))) => {
                let exit = Exit::of_gate(&gate);
                Ok(failed_as(&NotSigned::Holds(gate).into(), exit, show))
            }
            Err(why) => Err(why),
        }
    }

    /// Asks a person at a terminal for what is missing, and whether they sign.
    fn asked(&self, session: &Session, input: &mut Input, show: &Show) -> Result<Asked, SessionError> {
        let a = session.assessment();
        let gate = a.to_sign();
        let clear = gate.state == GateState::Clear;
        if !clear && !self.as_seen {
            for line in gate::headline(gate, a.side).into_iter().chain(gate::causes(gate, Listed::Notable)) {
                show.aside(&line);
            }
            show.aside("It cannot be signed as clear. To sign that you saw it so: jigtrue sign --as-seen");
            return Ok(Asked::Not(Exit::of_gate(gate)));
        }
        let session::LogHead { entries, hash: head } = session.head();
        let head: Vec<&str> = (0..4).filter_map(|i| head.get(4 * i..4 * i + 4)).collect();
        show.aside(&format!(
            "You sign: {}. {}, head {}",
            shown(&a.wing),
            count(entries, "entry", "entries"),
            head.join(" ")
        ));
        for line in gate::headline(gate, a.side) {
            show.aside(&line);
        }
        let not_signed = || {
            show.aside("Nothing was signed.");
            Ok(Asked::Not(Exit::Failed))
        };
        let name = shown(session.who().unwrap_or_default()).into_owned();
        let capacity = match self.capacity.clone() {
            Some(capacity) => capacity,
            None => {
                let ask = format!("Name {name}. In what capacity? 1 builder  2 inspector: ");
                match input.line(&ask, show)?.as_deref() {
                    Some("1") => CAPACITIES[0].to_owned(),
                    Some("2") => CAPACITIES[1].to_owned(),
                    None | Some("") => return not_signed(),
                    Some(other) => other.to_owned(),
                }
            }
        };
        known_capacity(&capacity)?;
        let statement = match self.statement.clone() {
            Some(statement) => statement,
            None => {
                let ask = if clear {
                    format!("Statement, or Enter for \"{USUAL}\": ")
                } else {
                    "Statement: ".to_owned()
                };
                match input.line(&ask, show)? {
                    Some(typed) if !typed.is_empty() => typed,
                    Some(_) if clear => USUAL.to_owned(),
                    _ => return not_signed(),
                }
            }
        };
        match input.line("Type sign to sign it: ", show)? {
            Some(typed) if typed.eq_ignore_ascii_case("sign") => Ok(Asked::Signs { capacity, statement }),
            _ => not_signed(),
        }
    }
}

/// A person's answer.
enum Asked {
    /// They sign.
    Signs { capacity: String, statement: String },
    /// They do not, or may not.
    Not(Exit),
}

/// A capacity that is one or two letters away from a usual one is a typing slip.
fn known_capacity(capacity: &str) -> Result<(), SessionError> {
    let typed = capacity.trim();
    if CAPACITIES.iter().any(|known| known.eq_ignore_ascii_case(typed)) {
        return Ok(());
    }
    match quantity::nearest(typed, CAPACITIES).map(str::to_owned) {
        None => Ok(()),
        nearest => Err(NotKnown { what: Unknown::Capacity(typed.to_owned()), nearest }.into()),
    }
}

fn make_key(path: &Path, show: &Show) -> Result<Exit, SessionError> {
    let made = session::keys::make(path)?;
    let text = || {
        format!(
            "Key file {} created (only you can read it); keep it private. Its public half,\n{}, is for those who check: \
             ed25519 {}",
            shown(&made.key_file),
            shown(&made.public_file),
            made.public_key
        )
    };
    show.done(text, &made)
}
