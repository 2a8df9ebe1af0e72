//! What lies over a screen until it is answered: keypads, questions, lists to choose from. Pages have no rail.

pub(crate) mod ask;
mod cautions;
mod files;
mod find;
mod importing;
mod keyboard;
mod keypad;
mod keys;
mod letters;
mod port;
mod sign;
mod stages;
mod undo;

use crate::action::Action;
use crate::draft::fields::FieldRef;
use crate::screens::Cx;
use bench::{Answer as Reply, Key, Measured, Question};
use egui::Ui;
use record::Point;

pub use ask::{Answer, Ask, Enter, Then};
pub use files::FilesFor;
pub use letters::{Words, WordsFor};
pub(crate) use sign::signs;

/// A page over a screen.
#[derive(Clone, Debug)]
pub enum Page {
    /// A reading, or another number, is typed.
    Keypad(Typing),
    /// A name, a reason or another text is typed.
    Letters(Words),
    Find {
        text: String,
        /// The first hit shown.
        from: usize,
    },
    Undo {
        /// The entry that would be taken back.
        seq: u64,
        reason: Option<usize>,
    },
    Stages {
        at: usize,
    },
    Ask(Ask),
    Sign {
        /// A key file to sign with; empty for none.
        key: String,
        /// What is stated; empty for the usual words.
        statement: String,
    },
    Files {
        to: FilesFor,
        at: usize,
    },
    Port {
        port: String,
        instrument: String,
        /// The first row shown of the two lists.
        from: usize,
    },
    Supports {
        /// The first row shown.
        at: usize,
        names: Vec<String>,
    },
    Who {
        /// The first name shown.
        from: usize,
    },
    Keys,
    Cautions,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Typing {
    pub to: TypeFor,
    pub text: String,
    /// Which of the units offered goes with a bare number, if one was chosen.
    pub unit: Option<usize>,
    /// What is wrong with it, after Done was pressed.
    pub wrong: Option<String>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TypeFor {
    Reading(Point),
    /// Turns of a screw, or a length.
    Move(String),
    Part,
    /// A field of the form for a new wing.
    Field(FieldRef),
}

impl Typing {
    pub fn new(to: TypeFor, text: &str) -> Self {
        Self { to, text: text.replace('-', "\u{2212}"), unit: None, wrong: None }
    }
}

/// Draws the top page.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>) {
    if let Some(import) = &cx.model.import {
        importing::show(ui, cx, import);
        return;
    }
    let Some(page) = cx.s.pages.last().cloned() else { return };
    match page {
        Page::Keypad(typing) => keypad::show(ui, cx, typing),
        Page::Letters(words) => letters::show(ui, cx, words),
        Page::Find { text, from } => find::show(ui, cx, &text, from),
        Page::Undo { seq, reason } => undo::show(ui, cx, seq, reason),
        Page::Stages { at } => stages::show(ui, cx, at),
        Page::Ask(ask) => ask::show(ui, cx, &ask),
        Page::Sign { key, statement } => sign::show(ui, cx, &key, &statement),
        Page::Files { to, at } => files::show(ui, cx, to, at),
        Page::Port { port, instrument, from } => port::show(ui, cx, &port, &instrument, from),
        Page::Supports { at, names } => crate::screens::moves::supports(ui, cx, at, &names),
        Page::Who { from } => crate::screens::more::who(ui, cx, from),
        Page::Keys => keys::show(ui, cx),
        Page::Cautions => cautions::show(ui, cx),
    }
}

/// Replaces the top page by another state of it.
pub(crate) fn change(cx: &mut Cx<'_>, page: Page) {
    if let Some(top) = cx.s.pages.last_mut() {
        *top = page;
    }
}

/// Shows in full a text that was cut.
pub(crate) fn read_it(text: &str) -> Ask {
    Ask::new("In full", text, [("Back", Then::Nothing)])
}

pub(crate) fn is_it_meant(asks: &crate::model::Asks) -> Page {
    let answers =
        [("No: look again", Then::Do(Action::DropAsked)), ("Yes: record it", Then::Do(asks.again.clone()))];
    Page::Ask(Ask { enter: Enter::Nothing, ..Ask::new("Is it so?", &asks.words, answers) })
}

/// The bench's question, with its answers; nothing is written until it is answered. `None` for a measured move, which
/// has its own button.
pub(crate) fn bench_asks(live: &bench::View) -> Option<Ask> {
    let (question, units) = (live.question.as_ref()?, live.units);
    let answer = |text: &str, key| Answer::new(text, Then::Do(Action::Bench(Key::Answer(key))));
    let screws = |list: &[Measured], none: &str| {
        let one = |(i, m): (usize, &Measured)| {
            let text = format!("{} {} {}", m.foot, m.effect.did(), m.amount(units));
            Answer::one_of(&text, Then::Do(Action::Bench(Key::Answer(Reply::Other(i)))))
        };
        let mut answers: Vec<Answer> = list.iter().enumerate().map(one).collect();
        answers.push(answer(none, Reply::No));
        answers
    };
    let (title, answers) = match question {
        Question::Record { .. } => return None,
        Question::Which { candidates } => ("Which screw was it?", screws(candidates, "None of these")),
        Question::Moved { candidates, .. } => {
            let mut answers = screws(candidates, "Nothing was moved: a new round");
            // Perhaps no foot was moved and the value is wrong: then nothing is written.
            answers.insert(0, answer("Leave it: look again", Reply::Leave));
            ("Was something moved?", answers)
        }
        Question::Touched { .. } => (
            "Was the level touched?",
            vec![answer("Yes, begin again", Reply::Yes), answer("No, go on", Reply::No)],
        ),
        Question::Implausible { .. } => {
            ("Is it so?", vec![answer("No: look again", Reply::No), answer("Yes: record it", Reply::Yes)])
        }
    };
    Some(Ask { title: title.to_owned(), words: question.facts(units), answers, enter: Enter::Nothing })
}
