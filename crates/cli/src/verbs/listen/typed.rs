//! What can be typed while listening.

use bench::{Answer, Key, Question, View};
use session::port::Typed as When;

#[derive(Clone, Debug, PartialEq)]
pub enum Typed {
    Key(Key),
    Choose(String),
    Quit,
    /// Enter meant for something else, just before the question whether to record a move: not a yes.
    TooEarly,
    Unknown(String),
}

const HELP: &str = "Enter takes it; ! takes it unsettled; r turned end for end; n next point; k back; \
                    s POINT another point; b REASON withdraws the last; q leaves";
const HELP_WITH_ZERO: &str = "Enter takes it; ! takes it unsettled; r turned end for end; n next point; k back; \
                              s POINT another point; z zeroes; b REASON withdraws the last; q leaves";
const HELP_LEVEL: &str =
    "Enter does what the line says; f turned end for end; t takes it; b REASON withdraws the last; q leaves";
const HELP_LEVEL_WITH_ZERO: &str = "Enter does what the line says; f turned end for end; z zeroes; t takes it; b REASON withdraws the last; q leaves";

/// What can be typed now, in one line.
pub fn help(view: &View) -> &'static str {
    let can_zero = view.instrument.as_ref().is_some_and(|device| device.can_zero);
    match (&view.level, can_zero) {
        (None, false) => HELP,
        (None, true) => HELP_WITH_ZERO,
        (Some(_), false) => HELP_LEVEL,
        (Some(_), true) => HELP_LEVEL_WITH_ZERO,
    }
}

impl Typed {
    /// Reads a line; if a question is open, its answers come first.
    pub fn read(line: &str, asked: Option<&Question>, typed: When) -> Self {
        let line = line.trim();
        if let ("", Some(Question::Record { .. }), When::BeforeAsked) = (line, asked, typed) {
            return Self::TooEarly;
        }
        if let Some(answer) = asked.and_then(|question| answer(line, question)) {
            return Self::Key(Key::Answer(answer));
        }
        let (word, rest) = line.split_once(char::is_whitespace).unwrap_or((line, ""));
        let rest = rest.trim().to_owned();
        Self::Key(match word {
            "" => Key::Main,
            "!" => Key::TakeAnyway,
            "t" => Key::Take,
            "r" | "f" => Key::Turn,
            "n" => Key::Skip,
            "k" => Key::Back,
            "z" => Key::Zero,
            "b" => Key::Withdraw { reason: rest },
            "s" => return Self::Choose(rest),
            "q" => return Self::Quit,
            _ => return Self::Unknown(line.to_owned()),
        })
    }
}

fn answer(line: &str, question: &Question) -> Option<Answer> {
    match (line, question) {
        ("y", Question::Record { .. } | Question::Touched { .. } | Question::Moved { .. }) => {
            Some(Answer::Yes)
        }
        ("m", Question::Moved { .. }) => Some(Answer::Yes),
        ("o", Question::Record { .. }) => Some(Answer::Other(usize::MAX)),
        ("n", _) => Some(Answer::No),
        (number, Question::Which { .. }) => {
            number.parse::<usize>().ok().and_then(|at| at.checked_sub(1)).map(Answer::Other)
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests;
