//! The program `jigtrue`.

mod args;
mod complete;
mod exit;
mod failure;
mod help;
mod home;
mod input;
mod negative;
mod refusal;
mod show;
mod units;
mod verbs;
mod view;
mod which;
mod words;
mod written;

use args::{Args, Colour};
use clap::{Command, CommandFactory, FromArgMatches};
use exit::Exit;
use show::Show;
use std::ffi::OsString;
use std::process::ExitCode;

fn main() -> ExitCode {
    if std::env::var_os(complete::VAR).is_some() {
        clap_complete::CompleteEnv::with_factory(complete::program).var(complete::VAR).complete();
    }
    let words: Vec<OsString> = std::env::args_os().collect();
    let program = args::asked_for(&words);
    let line = match which::in_place(words.clone(), &program) {
        Ok(line) => line,
        Err(why) => {
            // If the line cannot be understood in any case, report that first.
            let words = which::with_any_log(words, &program);
            if let Err(wrong) = Args::command().try_get_matches_from(words.clone()) {
                return failure::usage(wrong, &words).into();
            }
            return failure::no_log(&why.to_string(), &words).into();
        }
    };
    let values = which::verb(&line.words, &program).is_some_and(|verb| verb == "take");
    let words = if values { negative::marked(line.words.clone()) } else { line.words.clone() };
    let read = |program: Command| {
        program.try_get_matches_from(words.clone()).and_then(|found| Args::from_arg_matches(&found))
    };
    let args = match read(program).or_else(|_| read(Args::command())) {
        Ok(args) => args,
        Err(why) if why.use_stderr() => return failure::usage(why, &line.words).into(),
        Err(_) => return help(line.words).into(),
    };
    let Args { shown, verb } = args;
    match shown.color {
        Colour::Auto => {}
        Colour::Always => anstream::ColorChoice::Always.write_global(),
        Colour::Never => anstream::ColorChoice::Never.write_global(),
    }
    let show = Show::new(shown);
    if let Some(aloud) = &line.aloud {
        show.remark(aloud);
    }
    let done = match verb {
        Some(verb) => verbs::run(verb, &show),
        None => home::run(&show),
    };
    done.unwrap_or_else(|why| failure::failed(&why, &show)).into()
}

/// Prints help or the version. Help shows the log as optional.
fn help(words: Vec<OsString>) -> Exit {
    if let Err(text) = help::grouped(which::optional_in_help(Args::command())).try_get_matches_from(words) {
        // A reader that went away has what it wanted.
        let _ = text.print();
    }
    Exit::Done
}
