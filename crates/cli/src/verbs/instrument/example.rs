//! `instrument example`: a commented instrument file to begin with.

use crate::exit::Exit;
use crate::show::Show;
use clap::Args;
use instrument::EXAMPLES;
use serde::Serialize;
use session::{NotKnown, SessionError};

#[derive(Debug, Args)]
pub struct Example {
    /// What it is of: inclinometer, caliper, torque-wrench, modbus, nmea, jigtrue, bcd
    kind: String,
}

#[derive(Serialize)]
struct Answer {
    kind: &'static str,
    text: &'static str,
}

impl Example {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let wanted = match self.kind.as_str() {
            "lines" => "inclinometer",
            "keyboard" => "caliper",
            other => other,
        };
        let Some(example) = EXAMPLES.iter().find(|example| example.word == wanted) else {
            let words = EXAMPLES.iter().map(|example| example.word);
            return Err(NotKnown::word("example", &self.kind, words).into());
        };
        let answer = Answer { kind: example.word, text: example.text };
        show.done(|| example.text.to_owned(), &answer)
    }
}
