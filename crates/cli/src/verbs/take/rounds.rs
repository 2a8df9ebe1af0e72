//! Rounds one after another, while the person continues.

use super::round::{Round, Walked};
use super::{Take, end};
use crate::exit::Exit;
use crate::show::Show;
use session::{Session, SessionError};

/// Takes a round, and whatever follows from it while the person continues.
///
/// # Errors
/// If a value from a pipe cannot be recorded, or the log cannot be written.
pub fn run(session: Session, take: &Take, show: &Show) -> Result<Exit, SessionError> {
    let mut round = Round::new(session, take, show);
    if round.input.asks() { asking(&mut round) } else { round.piped() }
}

fn asking(round: &mut Round<'_>) -> Result<Exit, SessionError> {
    loop {
        if round.session.assessment().stage.is_none() {
            if end::next_stage(round)? == end::After::Stop {
                return Ok(Exit::Done);
            }
            round.begin();
        }
        if !round.typing.steps().is_empty() {
            round.head();
            if matches!(round.walk()?, Walked::Stopped) {
                round.stopped();
                return Ok(Exit::Done);
            }
        }
        if end::round(round)? == end::After::Stop {
            return Ok(Exit::Done);
        }
        round.begin();
    }
}
