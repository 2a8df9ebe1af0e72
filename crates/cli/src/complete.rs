//! What the shell can offer: logs, and the points of a log with those still wanted first.

use crate::args::Args;
use clap::{Command, CommandFactory};
use clap_complete::{ArgValueCompleter, CompletionCandidate};
use record::Point;
use session::which::{Which, which};
use session::{Session, nearby};
use std::collections::BTreeSet;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};

/// The environment variable with which a shell asks for candidates.
pub const VAR: &str = "JIGTRUE_COMPLETE";

/// The program with what each argument is offered.
pub fn program() -> Command {
    offered(Args::command())
}

fn offered(command: Command) -> Command {
    let takes_points = command.get_positionals().any(|arg| is_point(arg.get_id().as_str()));
    command.mut_subcommands(offered).mut_args(|arg| match arg.get_id().as_str() {
        "log" if takes_points => arg.add(ArgValueCompleter::new(logs_and_points)),
        "log" | "logs" | "more" => arg.add(ArgValueCompleter::new(logs)),
        id if is_point(id) => arg.add(ArgValueCompleter::new(points)),
        _ => arg,
    })
}

fn is_point(argument: &str) -> bool {
    matches!(argument, "point" | "points")
}

/// Logs matching the typed text, written as the person would continue it.
fn logs(typed: &OsStr) -> Vec<CompletionCandidate> {
    let typed = Path::new(typed);
    let folder = typed.parent().unwrap_or_else(|| Path::new(""));
    let here = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    nearby::logs_in(here)
        .into_iter()
        .filter_map(|path| path.file_name().map(|name| folder.join(name)))
        .filter(|path| begins(path.as_os_str(), typed.as_os_str()))
        .map(CompletionCandidate::new)
        .collect()
}

/// Points of the log on the command line, or of the only one in the folder: those still wanted first.
fn points(typed: &OsStr) -> Vec<CompletionCandidate> {
    let Some(session) = named_log().and_then(|log| Session::open_read_only(&log).ok()) else {
        return Vec::new();
    };
    let assessment = session.assessment();
    let wanted: BTreeSet<&Point> = assessment.wanted.iter().collect();
    let (first, others): (Vec<Point>, Vec<Point>) =
        session.plan().points().into_iter().partition(|point| wanted.contains(point));
    let offer = |points: Vec<Point>, order: usize, help: &'static str| {
        points.into_iter().map(move |point| {
            CompletionCandidate::new(point.to_string()).help(Some(help.into())).display_order(Some(order))
        })
    };
    offer(first, 0, "still wanted")
        .chain(offer(others, 1, "in the plan"))
        .filter(|candidate| begins(candidate.get_value(), typed))
        .collect()
}

fn begins(text: &OsStr, with: &OsStr) -> bool {
    text.as_encoded_bytes().starts_with(with.as_encoded_bytes())
}

/// Logs, followed by the points of the log that is meant if none is named.
fn logs_and_points(typed: &OsStr) -> Vec<CompletionCandidate> {
    let after = |candidate: CompletionCandidate| {
        let order = candidate.get_display_order().unwrap_or_default() + 1;
        candidate.display_order(Some(order))
    };
    logs(typed).into_iter().chain(points(typed).into_iter().map(after)).collect()
}

/// The word of the command line that ends like a log, else the log that is meant if none is named.
fn named_log() -> Option<PathBuf> {
    let typed = std::env::args_os()
        .map(PathBuf::from)
        .find(|word| word.extension().is_some_and(|e| e == nearby::LOG_ENDING) && nearby::is_file(word));
    typed.or_else(|| match which(Path::new(".")) {
        Which::Variable(log) | Which::Only(log) => Some(log),
        Which::NoneHere | Which::Several(_) => None,
    })
}
