//! The program `jigtrue`.

mod args;
mod complete;
mod exit;
mod home;
mod input;
mod negative;
mod show;
mod units;
mod verbs;
mod view;
mod which;

use args::{Args, Colour};
use clap::{CommandFactory, FromArgMatches};
use exit::Exit;
use serde::Serialize;
use session::SessionError;
use show::Show;
use std::ffi::OsString;
use std::process::ExitCode;

/// The JSON document of a run that could not do what was asked.
#[derive(Serialize)]
struct Failure {
    format: u32,
    error: String,
}

fn main() -> ExitCode {
    clap_complete::CompleteEnv::with_factory(Args::command).var(complete::VAR).complete();
    let program = Args::command();
    let words: Vec<OsString> = std::env::args_os().collect();
    let line = match which::in_place(words.clone(), &program) {
        Ok(line) => line,
        Err(why) => {
            // Where the line cannot be understood anyway, that is said first.
            let words = which::with_any_log(words, &program);
            if let Err(wrong) = Args::command().try_get_matches_from(words) {
                return usage(&wrong).into();
            }
            Show::plain().aside(&format!("jigtrue: {why}"));
            return Exit::Usage.into();
        }
    };
    let values = which::verb(&line.words, &program).is_some_and(|verb| verb == "take");
    let words = if values { negative::marked(line.words.clone()) } else { line.words.clone() };
    let read = program.try_get_matches_from(words).and_then(|found| Args::from_arg_matches(&found));
    let args = match read {
        Ok(args) => args,
        Err(why) if why.use_stderr() => return usage(&why).into(),
        Err(_) => return help(line.words).into(),
    };
    match args.color {
        Colour::Auto => {}
        Colour::Always => anstream::ColorChoice::Always.write_global(),
        Colour::Never => anstream::ColorChoice::Never.write_global(),
    }
    let show = Show::new(args.json, args.ascii, args.quiet).in_units(args.units);
    if let Some(aloud) = &line.aloud {
        show.remark(aloud);
    }
    let done = match args.verb {
        Some(verb) => verbs::run(verb, &show),
        None => home::run(&show),
    };
    done.unwrap_or_else(|why| failed(&why, &show)).into()
}

/// What was typed cannot be understood.
fn usage(why: &clap::Error) -> Exit {
    let plain = why.render().to_string();
    if plain.lines().all(|line| session::shown(line) == line) {
        // If this cannot be written, standard error is closed and there is nowhere to report.
        let _ = why.print();
    } else {
        // What was typed is in the message, and could steer a terminal.
        Show::plain().aside(plain.trim_end());
    }
    Exit::Usage
}

/// Help and version are asked for. The log is shown as what may be left out.
fn help(words: Vec<OsString>) -> Exit {
    if let Err(text) = which::optional_in_help(Args::command()).try_get_matches_from(words) {
        // A reader that went away has what they wanted.
        let _ = text.print();
    }
    Exit::Done
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
        why => match why.missing_log().and_then(session::nearby::like) {
            Some(near) => format!("{why}\n  Nearest: {}", session::shown(&near.display().to_string())),
            None => why.to_string(),
        },
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
