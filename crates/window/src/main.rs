//! The program `jigtrue-window`: the window over a log.

mod app;

use std::process::ExitCode;

const USAGE: &str = "jigtrue-window [LOG]

Opens the window; with LOG, on that log. Everything else is done in the window.
";

fn main() -> ExitCode {
    let mut log = None;
    for arg in std::env::args_os().skip(1) {
        match arg.to_str() {
            Some("-h" | "--help") => {
                print!("{USAGE}");
                return ExitCode::SUCCESS;
            }
            Some("-V" | "--version") => {
                println!("jigtrue-window {}", env!("CARGO_PKG_VERSION"));
                return ExitCode::SUCCESS;
            }
            Some(other) if other.starts_with('-') => {
                eprintln!("`{other}` is not known here.\n\n{USAGE}");
                return ExitCode::from(2);
            }
            _ if log.is_some() => {
                eprintln!("One log at a time.\n\n{USAGE}");
                return ExitCode::from(2);
            }
            _ => log = Some(std::path::PathBuf::from(arg)),
        }
    }
    match app::run(log) {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("The window could not be opened: {why}");
            ExitCode::FAILURE
        }
    }
}
