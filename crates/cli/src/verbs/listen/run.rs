//! One run of `listen`: port events and typed lines, until it ends.

use super::answer::{Answer, Heard, TakenView};
use super::screen::{Line, Screen};
use super::status;
use super::typed::{Typed, help};
use crate::exit::Exit;
use crate::show::Show;
use bench::{Came, HandsFree, Key, NotTaken, PortEvent, Question, Said, Written};
use instrument::Fault;
use session::gauges::Connected;
use session::port::{Driver, Leave, Typed as When, TypedLine, TypedLines};
use session::{Session, SessionError, shown};
use std::time::Duration;

/// How long to wait for an event before looking at what was typed.
const LOOK: Duration = Duration::from_millis(50);

pub struct Run<'a> {
    pub session: Session,
    driver: Driver,
    device: &'a Connected,
    screen: Screen<'a>,
    heard: Heard,
    /// How many readings were reported.
    told: usize,
    asked: Option<Question>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// Nothing more is wanted.
    Done,
    Left,
    /// Standard input ended, and nothing is taken automatically.
    NoInput,
}

impl<'a> Run<'a> {
    pub fn new(session: Session, driver: Driver, device: &'a Connected, screen: Screen<'a>) -> Self {
        Self { session, driver, device, screen, heard: Heard::default(), told: 0, asked: None }
    }

    /// Reports the port and presses the keys that the options stand for.
    pub fn begin(&mut self, port: &str, keys: Vec<Key>) -> Result<(), SessionError> {
        let on = format!("listening on {} to `{}`", shown(port), shown(&self.device.facts.name));
        self.screen.say(Line::Plain, &on)?;
        self.driver.look(&self.session);
        for key in keys {
            self.key(key)?;
        }
        if let Some(level) = self.driver.view(&self.session).level {
            self.screen.say(
                Line::Plain,
                &status::seat_words(&level, self.driver.bench(), self.session.plan().shown_in),
            )?;
        }
        Ok(())
    }

    pub fn walk(&mut self, leave: &Leave) -> Result<End, SessionError> {
        let lines = TypedLines::begin()?;
        while !leave.asked() {
            for event in self.driver.wait(LOOK) {
                self.event(&event)?;
            }
            // A move or a reading may have been typed in another program.
            if self.session.refresh()? {
                self.driver.look(&self.session);
            }
            let said = self.driver.tick(&mut self.session)?;
            self.told(said)?;
            while let Some(line) = lines.next() {
                if !self.typed(&line)? {
                    return Ok(End::Left);
                }
            }
            let view = self.driver.view(&self.session);
            if view.target.is_none() {
                return Ok(End::Done);
            }
            self.screen.draw(&status::picture(&view, self.device, help(&view)))?;
            if view.question != self.asked {
                lines.asked();
                self.asked = view.question;
            }
            if lines.ended() && self.driver.is_typed() {
                return Ok(End::Left);
            }
            if lines.ended() && view.hands_free == HandsFree::Off {
                return Ok(End::NoInput);
            }
        }
        Ok(End::Left)
    }

    pub fn end(mut self, port: &str, end: End, show: &Show) -> Result<Exit, SessionError> {
        self.screen.clear()?;
        if end == End::NoInput {
            show.aside(
                "standard input has ended: nobody can say when to take a value. --hands-free takes each rest \
                    automatically",
            );
        }
        let answer = Answer::of(&self.session, self.driver.bench(), port, self.heard);
        show.event(String::new, &answer)?;
        show.text(&answer.text())?;
        Ok(Exit::Done)
    }

    /// Handles an event from the port.
    pub fn event(&mut self, event: &PortEvent) -> Result<(), SessionError> {
        let Heard { counts, unfit_line, last_fault } = &mut self.heard;
        match &event.what {
            Came::Sample(_) => counts.values += 1,
            Came::Fault(Fault::Start) => {}
            Came::Fault(fault) => {
                counts.faults += 1;
                *last_fault = Some(fault.to_string());
                if let Fault::Unfit { line } = fault {
                    counts.unfit += 1;
                    // After a button press the bench reports it each time.
                    let first = unfit_line.replace(line.as_str().to_owned()).is_none();
                    if first && !self.device.settle.each_value() {
                        let words = format!("{fault}; such lines are counted");
                        self.screen.say(Line::Named("note"), &shown(&words))?;
                    }
                }
            }
            Came::Missed(values) => counts.missed += values,
            Came::Lost(_) => counts.lost += 1,
            Came::Found | Came::Notice(_) => {}
        }
        let said = self.driver.event(&mut self.session, event)?;
        self.told(said)
    }

    /// Handles a typed line; false to leave.
    pub fn typed(&mut self, line: &TypedLine) -> Result<bool, SessionError> {
        self.screen.entered();
        let TypedLine { text: line, typed } = line;
        if let Some(events) = self.driver.line(line) {
            events.iter().try_for_each(|event| self.event(event))?;
            return Ok(true);
        }
        let view = self.driver.view(&self.session);
        let typed = if view.question == self.asked { *typed } else { When::BeforeAsked };
        let key = match Typed::read(line, view.question.as_ref(), typed) {
            Typed::Quit => return Ok(false),
            Typed::TooEarly => {
                self.screen.say(Line::Indented, &NotTaken::Asked.to_string())?;
                return Ok(true);
            }
            Typed::Key(key) => key,
            Typed::Choose(text) => match self.session.target_named(&text, self.device.quantity()) {
                Ok(target) => Key::Go(target),
                Err(why) => {
                    self.screen.say(Line::Indented, &why.to_string())?;
                    return Ok(true);
                }
            },
            Typed::Unknown(text) => {
                self.screen.say(Line::Indented, &format!("`{}`? {}.", shown(&text), help(&view)))?;
                return Ok(true);
            }
        };
        self.key(key)?;
        Ok(true)
    }

    fn key(&mut self, key: Key) -> Result<(), SessionError> {
        let said = self.driver.key(&mut self.session, key)?;
        self.told(said)
    }

    fn told(&mut self, said: Vec<Said>) -> Result<(), SessionError> {
        for said in said {
            let line = match &said {
                Said::Written { what: Written::Readings, .. } => Line::Named("taken"),
                Said::Written { what: Written::Move, .. } => Line::Named("moved"),
                Said::Lost { .. } => Line::Named("lost"),
                Said::Found => Line::Named("found"),
                Said::Hears { .. } => Line::Named("hears"),
                Said::Passed(_) => Line::Named("passed"),
                Said::Started(_)
                | Said::NothingMoved(_)
                | Said::NotAsTold
                | Said::Written { .. }
                | Said::NotTaken(_)
                | Said::NotWritten(_) => Line::Indented,
                _ => Line::Named("note"),
            };
            if let Said::Written { what: Written::Readings | Written::Move, .. } = said {
                self.screen.ring()?;
            }
            let words = self.driver.words(&said);
            if matches!(said, Said::Written { what: Written::Readings, .. }) {
                let all = TakenView::all(&self.session, self.driver.bench());
                self.screen.taken(&shown(&words), all.get(self.told..).unwrap_or_default())?;
                self.told = all.len();
            } else {
                self.screen.say(line, &shown(&words))?;
            }
        }
        Ok(())
    }
}
