//! Which log a verb is about: the word that ends like a log's name, wherever it is; else the log in `JIGTRUE_LOG`;
//! else the only log in the folder.
//!
//! A verb about a log has a positional argument called `log`, the first one. The word is moved there before the line
//! is parsed, so that every verb finds its log in the same place.

use crate::refusal::Refusal;
use crate::show::Show;
use clap::{Arg, Command};
use session::SessionError;
use session::nearby::{LOG_ENDING, is_file, is_folder};
use session::shown;
use session::which::{VARIABLE, Which, which};
use std::ffi::{OsStr, OsString};
use std::path::{Path, PathBuf};

/// The line with its log in place.
#[derive(Debug)]
pub struct Line {
    pub words: Vec<OsString>,
    /// What to print if the log was not named.
    pub aloud: Option<String>,
}

/// The line as typed, with the log where the verb expects it.
///
/// # Errors
/// With a message, if no log is named and it is unclear which is meant.
pub fn in_place(words: Vec<OsString>, program: &Command) -> Result<Line, Refusal> {
    let as_typed = |words| Ok(Line { words, aloud: None });
    let Some(form) = Form::of(&words, program) else { return as_typed(words) };
    if let Some(at) = form.log(&words) {
        let mut words = words;
        let log = words.remove(at);
        words.insert(form.begins, log);
        return as_typed(words);
    }
    if !form.needed {
        return as_typed(words);
    }
    let Unnamed { log, aloud } = unnamed()?;
    let mut words = words;
    words.insert(form.begins, log.into_os_string());
    Ok(Line { words, aloud: Some(aloud) })
}

/// The line's verb, as typed.
pub fn verb<'w>(words: &'w [OsString], program: &Command) -> Option<&'w OsStr> {
    words.get(next_place(words, 1, &[program])?).map(OsString::as_os_str)
}

/// A log that was not named.
#[derive(Debug)]
pub struct Unnamed {
    pub log: PathBuf,
    /// What to print: its name and how it was found.
    pub aloud: String,
}

/// The log that is meant if none is named.
///
/// # Errors
/// With a message, if it is unclear which.
pub fn unnamed() -> Result<Unnamed, Refusal> {
    let found = |log: PathBuf, how: &str| {
        let aloud = format!("log    {} ({how})", shown(&log.display().to_string()));
        Ok(Unnamed { log, aloud })
    };
    match which(Path::new(".")) {
        Which::Variable(log) => found(log, VARIABLE),
        Which::Only(log) => found(log, "the only log here"),
        Which::NoneHere => Err(Refusal::NoLogHere),
        Which::Several(logs) => Err(Refusal::SeveralLogs(logs)),
    }
}

/// The log named, else the one that is meant, which is printed.
///
/// # Errors
/// If none is named and it is unclear which is meant.
pub fn or_unnamed(named: Option<PathBuf>, show: &Show) -> Result<PathBuf, SessionError> {
    if let Some(named) = named {
        return Ok(named);
    }
    let found = unnamed()?;
    show.remark(&found.aloud);
    Ok(found.log)
}

/// The line with a word in place of the log, to see whether the rest is understood.
pub fn with_any_log(words: Vec<OsString>, program: &Command) -> Vec<OsString> {
    let mut words = words;
    if let Some(form) = Form::of(&words, program) {
        words.insert(form.begins, OsString::from("LOG"));
    }
    words
}

/// The verbs with the log shown as optional.
pub fn optional_in_help(program: Command) -> Command {
    optional_under("jigtrue", program)
}

fn optional_under(before: &str, command: Command) -> Command {
    command.mut_subcommands(|verb| {
        let name = format!("{before} {}", verb.get_name());
        if verb.has_subcommands() {
            return optional_under(&name, verb);
        }
        if !verb.get_positionals().any(|arg| arg.get_id() == "log") {
            return verb;
        }
        let usage = verb.clone().bin_name(name).render_usage().to_string();
        let usage = usage.trim_start_matches("Usage: ").replace("<LOG>", "[LOG]");
        verb.override_usage(usage)
    })
}

/// The command of a verb about a log, and its words in the line.
struct Form {
    /// Where in the line the verb's own words begin.
    begins: usize,
    /// Positions in the line of the words that are neither options nor values of options.
    places: Vec<usize>,
    /// Whether the verb needs a log.
    needed: bool,
    /// How many words the verb needs besides the log.
    least: usize,
    /// How many words it can have besides.
    most: usize,
    /// Whether it writes a log with another name.
    copies: bool,
    /// Whether it takes several logs, or folders of them.
    folders: bool,
}

impl Form {
    /// The command of the line's verb; `None` if it is not about a log, or help is requested.
    fn of(words: &[OsString], program: &Command) -> Option<Self> {
        let (mut at, mut verb) = (1, program);
        while verb.has_subcommands() {
            at = next_place(words, at, &[program, verb])?;
            verb = verb.find_subcommand(words.get(at)?)?;
            at += 1;
        }
        let log = verb.get_positionals().find(|arg| arg.get_id() == "log")?;
        let mut places = Vec::new();
        let mut look = at;
        while let Some(place) = next_place(words, look, &[program, verb]) {
            places.push(place);
            look = place + 1;
        }
        let help = words.iter().skip(at).any(|word| word == "--help" || word == "-h");
        let others: Vec<&Arg> = verb.get_positionals().filter(|arg| arg.get_id() != log.get_id()).collect();
        let most = |arg: &Arg| arg.get_num_args().map_or(1, |range| range.max_values());
        (!help).then(|| Self {
            begins: at,
            places,
            needed: log.is_required_set(),
            least: others.iter().filter(|arg| arg.is_required_set()).count(),
            most: others.into_iter().map(most).fold(0, usize::saturating_add),
            copies: verb.get_name() == "backup",
            folders: verb.get_positionals().any(|arg| arg.get_id() == "more"),
        })
    }

    /// The position of the log's name in the line.
    fn log(&self, words: &[OsString]) -> Option<usize> {
        let ends = |at: &usize| {
            Path::new(&words[*at]).extension().is_some_and(|end| end.eq_ignore_ascii_case(LOG_ENDING))
        };
        let first = *self.places.first()?;
        // A required word can end like a log too: a remark, the name of a copy.
        let spare = self.places.len() > self.least;
        let there = |at: usize| is_file(Path::new(&words[at]));
        let named = self.places.iter().copied().find(ends);
        if let Some(named) = named.filter(|at| spare || (there(*at) && !self.copies)) {
            return Some(named);
        }
        let other_ending = Path::new(&words[first]).extension().is_some() && there(first);
        let path = words[first].to_str().is_some_and(|w| ["/", "./", "../"].iter().any(|p| w.starts_with(p)));
        let folder = self.folders && is_folder(Path::new(&words[first]));
        (self.places.len() > self.most || (spare && (other_ending || path || folder))).then_some(first)
    }
}

/// The next word that is neither an option nor the value of one.
fn next_place(words: &[OsString], from: usize, commands: &[&Command]) -> Option<usize> {
    let mut at = from;
    let mut only_words = words.iter().take(from).skip(1).any(|word| word == "--");
    while let Some(word) = words.get(at) {
        if only_words || !is_option(word) {
            return Some(at);
        }
        only_words = word == "--";
        at += 1 + usize::from(takes_next(word, words.get(at + 1), commands));
    }
    None
}

/// An option begins with `-`; so does a negative number, which is not one.
fn is_option(word: &OsStr) -> bool {
    match word.as_encoded_bytes() {
        [b'-', next, ..] => !(next.is_ascii_digit() || *next == b'.'),
        _ => false,
    }
}

/// Whether the option's value is the next word.
fn takes_next(word: &OsStr, next: Option<&OsString>, commands: &[&Command]) -> bool {
    let Some(word) = word.to_str() else { return false };
    let mut all = commands.iter().flat_map(|command| command.get_arguments());
    let option = match word.strip_prefix("--") {
        Some(long) => all.find(|arg| {
            arg.get_long() == Some(long) || arg.get_all_aliases().is_some_and(|others| others.contains(&long))
        }),
        // `-o FILE`; `-oFILE` has its value in it.
        None => all.find(|arg| arg.get_short().is_some_and(|short| word[1..] == short.to_string())),
    };
    let Some(option) = option.filter(|option| option.get_action().takes_values()) else { return false };
    let may_be_alone = option.get_num_args().is_some_and(|range| range.min_values() == 0);
    !(may_be_alone && next.is_none_or(|next| is_option(next)))
}
