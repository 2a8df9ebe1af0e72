//! The program `jigtrue`.

mod args;
mod complete;
mod exit;
mod show;
mod verbs;
mod view;

use args::Args;
use clap::{CommandFactory, Parser};
use exit::Exit;
use serde::Serialize;
use session::SessionError;
use show::Show;
use std::process::ExitCode;

/// The JSON document of a run that could not do what was asked.
#[derive(Serialize)]
struct Failure {
    format: u32,
    error: String,
}

fn main() -> ExitCode {
    clap_complete::CompleteEnv::with_factory(Args::command).var(complete::VAR).complete();
    let args = match Args::try_parse() {
        Ok(args) => args,
        Err(why) => {
            // Help and version are asked for; anything else is usage.
            let exit = if why.use_stderr() { Exit::Usage } else { Exit::Done };
            let plain = why.render().to_string();
            if plain.lines().all(|line| session::shown(line) == line) {
                // If this cannot be written, standard error is closed and there is nowhere to report.
                let _ = why.print();
            } else {
                // What was typed is in the message, and could steer a terminal.
                Show::new(false, false).aside(plain.trim_end());
            }
            return exit.into();
        }
    };
    let show = Show::new(args.json, args.ascii);
    let exit = verbs::run(args.verb, &show).unwrap_or_else(|why| failed(&why, &show));
    exit.into()
}

fn failed(why: &SessionError, show: &Show) -> Exit {
    if matches!(why, SessionError::Closed) {
        return Exit::Done;
    }
    let words = match why {
        SessionError::Asks(question) => {
            let why = &question.why;
            format!("{why}.\n  Not recorded. If it really is so, the same again with --sure")
        }
        SessionError::NothingAsked => "--sure: nothing would be asked about this; leave it out".to_owned(),
        SessionError::Unmet(unmet) => {
            format!(
                "{unmet}\n  To go on anyway, say why: jigtrue stage LOG \"{}\" --anyway REASON",
                unmet.name
            )
        }
        why => why.to_string(),
    };
    if show.json {
        // The message stands on the other stream too.
        let _ = show.answer(String::new, &Failure { format: 1, error: words.clone() });
    }
    show.aside(&format!("jigtrue: {words}"));
    match why {
        SessionError::NothingAsked => Exit::Usage,
        SessionError::Unmet(unmet) => Exit::of_verdict(Some(unmet.verdict)),
        _ => Exit::Failed,
    }
}
