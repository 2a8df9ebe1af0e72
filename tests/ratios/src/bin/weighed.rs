//! Runs a program and prints the most memory it had, in KiB, on the last line of its own standard error.
//!
//! `weighed PROGRAM ARGUMENTS...`

use nix::sys::resource::{UsageWho, getrusage};
use std::process::{Command, ExitCode, Stdio};

fn main() -> ExitCode {
    let mut words = std::env::args_os().skip(1);
    let Some(program) = words.next() else { return ExitCode::from(2) };
    let Ok(status) = Command::new(program).args(words).stdout(Stdio::null()).status() else {
        return ExitCode::FAILURE;
    };
    let Ok(usage) = getrusage(UsageWho::RUSAGE_CHILDREN) else { return ExitCode::FAILURE };
    eprintln!("{}", usage.max_rss());
    // A verdict is not a failure.
    ExitCode::from(u8::from(!matches!(status.code(), Some(0 | 10 | 11))))
}
