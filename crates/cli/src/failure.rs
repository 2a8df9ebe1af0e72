//! What is printed when something could not be done: text on standard error, and with `--json` an object on standard
//! output.

use crate::args::{Args, Shown};
use crate::exit::Exit;
use crate::refusal::Refusal;
use crate::show::Show;
use clap::CommandFactory;
use clap::error::{ContextKind, ContextValue};
use serde::Serialize;
use session::SessionError;
use session::nearby::LOG_ENDING;
use std::ffi::OsString;

/// The JSON document of a failed run.
#[derive(Serialize)]
struct Document<'a> {
    /// The full message, as on standard error.
    error: &'a str,
    failure: &'a Failure,
}

/// The same, in parts.
#[derive(Serialize)]
pub struct Failure {
    pub kind: Kind,
    pub message: String,
    /// What to do about it.
    pub remedy: Option<String>,
    /// The right word nearest to the wrong one.
    pub nearest: Option<String>,
    /// The entry that was recorded before it failed.
    pub entry: Option<u64>,
    /// The bad lines of a table; at most the first twenty.
    pub lines: Vec<Line>,
    pub exit_code: u8,
}

#[derive(Serialize)]
pub struct Line {
    /// Its number; the header is line 1.
    pub line: u64,
    pub message: String,
}

#[derive(Clone, Copy, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// The line typed is not understood.
    Usage,
    /// No log is named and it is unclear which one is meant, or the named one is missing.
    NoLog,
    /// A name that is not in the plan or the log.
    NotKnown,
    /// A value that must be confirmed.
    Asked,
    /// A value was confirmed without a question.
    NothingAsked,
    /// A value that cannot be recorded in any way.
    Impossible,
    /// A stage that needs a reason to begin.
    Unmet,
    /// Nothing was signed.
    NotSigned,
    Plan,
    /// A table has bad lines.
    Table,
    /// The log cannot be opened, read or written.
    Log,
    /// A file cannot be read, used or written.
    File,
    /// A port cannot be used.
    Port,
    /// Standard output cannot be written.
    Output,
    /// It cannot be done with this log.
    Refused,
}

impl Kind {
    const fn of(why: &SessionError) -> Self {
        match why {
            SessionError::File { .. } | SessionError::Io { .. } | SessionError::Unwritten { .. } => {
                Self::File
            }
            SessionError::Output(_) | SessionError::Unsaid { .. } | SessionError::Closed => Self::Output,
            SessionError::Plan { .. } => Self::Plan,
            SessionError::Log(_) => Self::Log,
            SessionError::NotSigned(_) => Self::NotSigned,
            SessionError::Refused(_)
            | SessionError::StartedWithout { .. }
            | SessionError::Input(_)
            | SessionError::Because(_) => Self::Refused,
            SessionError::NotKnown(_) => Self::NotKnown,
            SessionError::Asks(_) => Self::Asked,
            SessionError::NothingAsked => Self::NothingAsked,
            SessionError::Unmet(_) => Self::Unmet,
            SessionError::Impossible(_) => Self::Impossible,
            SessionError::Table { .. } => Self::Table,
            SessionError::Port { .. } => Self::Port,
        }
    }
}

impl Failure {
    fn new(kind: Kind, words: &str, exit: Exit) -> Self {
        let (message, remedy) =
            words.split_once('\n').map_or((words, None), |(what, rest)| (what, Some(rest)));
        let remedy = remedy.map(|rest| rest.lines().map(str::trim).collect::<Vec<_>>().join("\n"));
        Self {
            kind,
            message: message.to_owned(),
            remedy: remedy.filter(|r| !r.is_empty()),
            nearest: None,
            entry: None,
            lines: Vec::new(),
            exit_code: exit.code(),
        }
    }

    fn said(&self, words: &str, exit: Exit, show: &Show) -> Exit {
        if show.json {
            // The message is on the other stream too.
            // On one line, because earlier answers can be JSON Lines.
            let _ = show.event(String::new, &Document { error: words, failure: self });
        }
        exit
    }
}

/// It could not be done.
pub fn failed(why: &SessionError, show: &Show) -> Exit {
    let exit = match why {
        SessionError::Closed => return Exit::Done,
        why if not_understood(why) => Exit::Usage,
        SessionError::NothingAsked => Exit::Usage,
        SessionError::Unmet(unmet) => Exit::of_verdict(Some(unmet.verdict)),
        _ => Exit::Failed,
    };
    failed_as(why, exit, show)
}

/// True where the line cannot mean anything, although each of its words can.
fn not_understood(why: &SessionError) -> bool {
    let units = |cause: &Refusal| matches!(cause, Refusal::UnitsNotShown { .. });
    unclear_log(why) || matches!(why, SessionError::Because(cause) if cause.downcast_ref().is_some_and(units))
}

/// True where no log was named and which one is meant is unclear.
fn unclear_log(why: &SessionError) -> bool {
    let SessionError::Because(cause) = why else { return false };
    matches!(cause.downcast_ref(), Some(Refusal::NoLogHere | Refusal::SeveralLogs(_)))
}

/// The same, if the verb decides the exit code.
pub fn failed_as(why: &SessionError, exit: Exit, show: &Show) -> Exit {
    let near_log = why.missing_log().and_then(session::nearby::like);
    let near_log = near_log.map(|near| session::shown(&near.display().to_string()).into_owned());
    let words = match why {
        SessionError::Asks(why) => {
            format!("{why}.\n  Not recorded. If it really is so, the same again with --sure")
        }
        SessionError::NothingAsked => "--sure: there is no question about this; leave it out".to_owned(),
        SessionError::Unmet(unmet) => {
            let name = &unmet.name;
            format!("{unmet}\n  To go on anyway, say why: jigtrue stage LOG \"{name}\" --anyway REASON")
        }
        why => match &near_log {
            Some(near) => format!("{why}\n  Nearest: {near}"),
            None => why.to_string(),
        },
    };
    let no_log = why.missing_log().is_some() || unclear_log(why);
    let kind = if no_log { Kind::NoLog } else { Kind::of(why) };
    let mut failure = Failure::new(kind, &words, exit);
    match why {
        SessionError::NotKnown(not) => failure.nearest.clone_from(&not.nearest),
        SessionError::Unsaid { entry, .. } => failure.entry = Some(*entry),
        SessionError::Table { lines, .. } => {
            let line = |bad: &session::BadLine| Line { line: bad.line, message: bad.why.to_string() };
            failure.lines = lines.iter().map(line).collect();
        }
        _ => failure.nearest = near_log,
    }
    show.aside(&format!("jigtrue: {words}"));
    failure.said(&words, exit, show)
}

/// No log is named, and it is unclear which one is meant.
pub fn no_log(why: &str, words: &[OsString]) -> Exit {
    let show = as_typed(words);
    show.aside(&format!("jigtrue: {why}"));
    Failure::new(Kind::NoLog, why, Exit::Usage).said(why, Exit::Usage, &show)
}

/// Adds the nearest known word, by this program's rule, if an unknown one was typed.
fn with_nearest(mut why: clap::Error, words: &[OsString]) -> clap::Error {
    let text = |kind| match why.get(kind) {
        Some(ContextValue::String(text)) => Some(text.clone()),
        _ => None,
    };
    let list = |kind| match why.get(kind) {
        Some(ContextValue::Strings(all)) => all.clone(),
        _ => Vec::new(),
    };
    let (wrong, known, told) = match (text(ContextKind::InvalidValue), text(ContextKind::InvalidSubcommand)) {
        (Some(value), _) => (value, list(ContextKind::ValidValue), ContextKind::SuggestedValue),
        (None, Some(verb)) => {
            let mut known = list(ContextKind::SuggestedSubcommand);
            if words
                .iter()
                .skip(1)
                .find(|w| !w.as_encoded_bytes().starts_with(b"-"))
                .is_some_and(|w| *w == *verb)
            {
                known.extend(Args::command().get_subcommands().map(|c| c.get_name().to_owned()));
            }
            (verb, known, ContextKind::SuggestedSubcommand)
        }
        (None, None) => return why,
    };
    match quantity::nearest(&wrong, known.iter().map(String::as_str)).map(str::to_owned) {
        Some(near) if told == ContextKind::SuggestedValue => {
            why.insert(told, ContextValue::String(near));
        }
        Some(near) => {
            why.insert(told, ContextValue::Strings(vec![near]));
        }
        None => {
            why.remove(told);
        }
    }
    why
}

/// The message about a word that is not a verb.
fn no_verb(why: &clap::Error) -> Option<String> {
    let Some(ContextValue::String(word)) = why.get(ContextKind::InvalidSubcommand) else { return None };
    let word_shown = session::shown(word);
    let mut words = format!("no verb {word_shown}");
    if let Some(ContextValue::Strings(near)) = why.get(ContextKind::SuggestedSubcommand)
        && let [near, ..] = near.as_slice()
    {
        words.push_str(&format!(". Nearest: {near}"));
    }
    let is_log = std::path::Path::new(word).extension().is_some_and(|end| end == LOG_ENDING);
    let next = if is_log {
        format!("jigtrue check {word_shown}")
    } else {
        "jigtrue help lists every verb".to_owned()
    };
    Some(format!("{words}\n  {next}"))
}

/// What was typed cannot be understood.
pub fn usage(why: clap::Error, words: &[OsString]) -> Exit {
    let why = with_nearest(why, words);
    let show = as_typed(words);
    let plain = why.render().to_string();
    let no_verb = no_verb(&why);
    let text = no_verb.as_deref().unwrap_or(plain.trim_end());
    if no_verb.is_some() {
        show.aside(&format!("jigtrue: {text}"));
    } else if plain.lines().all(|line| session::shown(line) == line) {
        // If this cannot be written, standard error is closed and there is nowhere to report.
        let _ = why.print();
    } else {
        // The typed words are in the message, and could steer a terminal.
        Show::plain().aside(text);
    }
    let mut failure = Failure::new(Kind::Usage, text.trim_start_matches("error: "), Exit::Usage);
    let suggested =
        [ContextKind::SuggestedSubcommand, ContextKind::SuggestedArg, ContextKind::SuggestedValue];
    failure.nearest = suggested.into_iter().find_map(|kind| match why.get(kind)? {
        ContextValue::String(near) => Some(near.clone()),
        ContextValue::Strings(all) => all.first().cloned(),
        _ => None,
    });
    failure.said(text, Exit::Usage, &show)
}

/// The output options of a line that is not understood, as far as they can be read.
fn as_typed(words: &[OsString]) -> Show {
    let options = words.iter().skip(1).take_while(|word| *word != "--");
    let json = options.filter(|word| *word == "--json").count() > 0;
    Show::new(Shown { json, ..Shown::default() })
}
