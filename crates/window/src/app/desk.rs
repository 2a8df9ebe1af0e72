//! Does on the session what a person asks for, and keeps the model that the window shows.

use super::device;
mod around;
mod opening;
#[cfg(test)]
mod tests;

use super::keep::Keep;
use super::listing;
use super::port::PortSide;
use super::sheet_file;
use super::sound::Sound;
use bench::{Said, Target};
use eframe::egui::Context;
use session::importing::Importing;
use session::{BeginStage, PlanPoint, Session, SessionError, Sign, Take, TypedMove, Watcher, WingLog};
use std::error::Error;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use window::model::{Asks, Model, Notice, Person, Role, Wing};
use window::{Action, Looks};

/// The open session and what the window shows.
pub struct Desk {
    ctx: Context,
    session: Option<Session>,
    watcher: Option<Watcher>,
    port: PortSide,
    importing: Option<Importing>,
    keep: Keep,
    sound: Sound,
    model: Model,
}

impl Desk {
    pub fn new(ctx: Context) -> Self {
        Self::keeping(ctx, Keep::load())
    }

    pub fn keeping(ctx: Context, keep: Keep) -> Self {
        let folder = std::env::current_dir().map(|d| d.display().to_string()).unwrap_or_default();
        let by_login = || session::default_name().map(|name| Person { name, role: Role::Builder });
        let model = Model {
            recent: keep.recent.iter().map(listing::recent).collect(),
            folder,
            cautions_due: !keep.cautions_read,
            who: keep.who.clone().or_else(by_login).unwrap_or_default(),
            people: keep.people.clone(),
            ..Model::default()
        };
        Self {
            ctx,
            session: None,
            watcher: None,
            port: PortSide::default(),
            importing: None,
            keep,
            sound: Sound::default(),
            model,
        }
    }

    pub fn model(&self) -> &Model {
        &self.model
    }

    pub const fn looks(&self) -> Looks {
        self.keep.looks
    }

    pub fn keep_looks(&mut self, looks: Looks) {
        if self.keep.looks != looks {
            self.keep.looks = looks;
            self.keep.save();
        }
    }

    pub fn watching(&self) -> bool {
        self.port.watching()
    }

    pub fn listening(&self) -> bool {
        self.port.listening()
    }

    /// Takes in what other programs wrote and what came over the port.
    pub fn keep_up(&mut self) {
        self.keep_up_import();
        if let Some(session) = &mut self.session {
            match session.refresh() {
                Ok(true) => self.show_session(),
                Ok(false) => {}
                Err(why) => self.look_anew(&why),
            }
        }
        if let Err(why) = self.port.opened() {
            self.wrong(&why);
        }
        if let Some(session) = &mut self.session {
            // The model shares the entries with the session; adding one must not copy them all.
            let before = session.entries().len();
            let polled = self.port.poll(session);
            let grown = session.entries().len() != before;
            self.heard(polled);
            if grown {
                self.show_session();
            }
        }
        // While a table is being imported the log is locked; what a watch has seen waits.
        if let Some(session) = self.session.as_mut().filter(|_| self.importing.is_none()) {
            let written = self.port.write_spans(session);
            self.show_written(written);
        }
        if let Some(wing) = &mut self.model.wing {
            if let Some(session) = &self.session {
                wing.live = self.port.view(session);
            }
            self.port.add_to(&mut wing.trace);
        }
    }

    /// Shows what the bench said last.
    fn heard(&mut self, said: Result<Vec<Said>, SessionError>) {
        match said {
            Ok(said) => {
                for said in said {
                    let wrong = matches!(said, Said::NotTaken(_) | Said::NotWritten(_) | Said::Wrong { .. });
                    // An error stays on the screen until it is dealt with.
                    if wrong || !self.model.notice.as_ref().is_some_and(|notice| notice.wrong) {
                        self.model.notice = Some(Notice { wrong, words: said.by_touch() });
                    }
                }
            }
            Err(why) => self.wrong(&why),
        }
    }

    /// Shows what the bench answered, and the log after it.
    fn answered(&mut self, said: Result<Vec<Said>, SessionError>) {
        self.heard(said);
        self.show_session();
    }

    /// Shows the log again if something was written into it.
    fn show_written(&mut self, written: Result<bool, SessionError>) {
        match written {
            Ok(true) => self.show_session(),
            Ok(false) => {}
            Err(why) => self.wrong(&why),
        }
    }

    fn say(&mut self, words: impl Into<String>) {
        self.model.notice = Some(Notice { wrong: false, words: words.into() });
    }

    fn wrong(&mut self, why: &dyn Error) {
        self.wrong_words(window::words::by_touch(&why.to_string()));
    }

    fn wrong_words(&mut self, words: String) {
        self.model.notice = Some(Notice { wrong: true, words });
    }

    fn show_session(&mut self) {
        let Some(session) = &self.session else { return };
        let was = self.model.wing.take();
        self.model.wing = Some(Wing {
            plan: Arc::new(session.plan().clone()),
            assessment: session.assessment(),
            entries: session.shared_entries(),
            log: session.path().display().to_string(),
            chain: session.chain().clone(),
            live: self.port.view(session),
            trace: was.and_then(|w| w.trace),
            advice: None,
            read_only: !session.is_writable(),
        });
    }

    pub fn act(&mut self, action: Action) {
        match action {
            Action::OpenLog(path) => self.open(Path::new(&path)),
            Action::CloseLog => self.close(),
            Action::NewLog { plan, folder, name } => self.new_log(&plan, Path::new(&folder), &name),
            Action::NewLogFromPlan { plan, log } => self.create(Path::new(&plan), Path::new(&log)),
            Action::Demo => self.demo(),
            Action::DemoFromEmpty => self.demo_from_empty(),
            Action::SetWho(who) => self.set_who(who),
            Action::LookAgain => self.look_again(),
            Action::ListFolder { path, files } => self.list(path, files),
            Action::Tone => self.sound.tone(),
            Action::CautionsRead => {
                self.model.cautions_due = false;
                self.keep.cautions_read = true;
                self.keep.save();
            }
            Action::DismissNotice => self.model.notice = None,
            Action::DropAsked => self.model.asks = None,
            Action::OpenPort { port, instrument } => self.open_port(&port, &instrument),
            Action::ClosePort => {
                self.end_watch();
                self.port.close();
            }
            Action::ListPorts => self.list_ports(),
            Action::StopImport => self.importing.iter().for_each(Importing::stop),
            Action::Watch(None) => self.end_watch(),
            Action::Watch(Some(point)) => self.port.watch(point),
            other => self.act_on_log(other),
        }
    }

    fn act_on_log(&mut self, action: Action) {
        let Some(session) = self.session.as_mut() else { return };
        // Telling the bench something does not answer its question.
        if !matches!(action, Action::Bench(_) | Action::Advise) {
            self.model.asks = None;
        }
        let meant = action.clone().meant();
        let done: Result<String, SessionError> = match action {
            Action::Take { point, text, facing, instrument, temperature, new_round, sure } => session
                .take(Take {
                    sure,
                    point: point.to_string(),
                    text,
                    facing,
                    instrument,
                    temperature,
                    new_round,
                    ..Take::default()
                })
                .map(|t| t.ack),
            // Without a port nobody listens.
            Action::Bench(_) if !self.port.listening() => return,
            Action::Bench(key) => {
                let said = self.port.key(session, key);
                return self.answered(said);
            }
            Action::TakeLive { point, facing, temperature } => {
                let said = temperature
                    .as_deref()
                    .map(|text| session::part_temperature(text, session.plan().units))
                    .transpose()
                    .and_then(|part| {
                        let PlanPoint { point, quantity } = session.point_named(&point.to_string())?;
                        self.port.take(session, Target { point, quantity, facing }, part)
                    });
                return self.answered(said);
            }
            Action::Withdraw { seq, reason } => session.withdraw(seq, &reason).map(|t| t.ack),
            Action::BeginStage(name) => session.stage(&BeginStage::named(&name)).map(|t| t.ack),
            Action::BeginAnyway { name, reason } => {
                session.stage(&BeginStage::anyway(&name, &reason)).map(|t| t.ack)
            }
            Action::Move { support, text, sure } => {
                session.record_move(&TypedMove { sure, ..TypedMove::new(&support, &text) }).map(|t| t.ack)
            }
            Action::Rework { point, what } => session.rework(&[point.to_string()], &what).map(|t| t.ack),
            Action::TakeUp { wing, log } => {
                session.take_up(&WingLog { which: wing, log: log.into() }).map(|t| t.ack)
            }
            Action::OpenItem { item, action, reason } => {
                session.open_item(&item, action, reason.as_deref()).map(|t| t.ack)
            }
            Action::Sign { capacity, statement, as_seen, key } => {
                let key = key.map(PathBuf::from);
                session.sign(Sign { who: None, capacity, statement, as_seen, key }).map(|t| t.ack)
            }
            Action::MakeKey(path) => session::keys::make(Path::new(&path)).map(|made| {
                format!("Key file {path} created; keep it private. Its public key is {}", made.public_key)
            }),
            Action::Note(text) => session.note(&text).map(|t| t.ack),
            Action::Import(table) => {
                let ctx = self.ctx.clone();
                let (log, table, who) = (session.path(), Path::new(&table), &self.model.who.name);
                let begun = Importing::begin(log, table, who, move || ctx.request_repaint());
                self.model.import = Some(around::so_far(&begun));
                self.importing = Some(begun);
                return;
            }
            Action::OnPaper(text) => {
                let read = text.parse::<session::HashOnPaper>().map_err(SessionError::from);
                let found = read.and_then(|paper| {
                    let log = session::Verified::of(session.path())?;
                    let found = log.on_paper(&paper)?;
                    let wrong = !matches!(found, session::OnPaper::Fits(_));
                    Ok(Notice { wrong, words: found.words(&paper, log.head().entries) })
                });
                return match found {
                    // What does not fit stays until it is dealt with.
                    Ok(notice) => self.model.notice = Some(notice),
                    Err(why) => self.wrong(&why),
                };
            }
            Action::WalkChain => {
                session.verify().map(|head| format!("The chain is whole: {} entries", head.entries))
            }
            Action::Advise => {
                let advice = assess::advice::go_on(session.plan(), session.entries(), &session.assessment());
                if let Some(wing) = &mut self.model.wing {
                    wing.advice = Some(Arc::new(advice));
                }
                return;
            }
            Action::WriteSheet => {
                return match sheet_file::write(session) {
                    Ok(path) => self.say(format!("The sheet was written to {}", path.display())),
                    Err(why) => self.wrong(&why),
                };
            }
            _ => return,
        };
        match done {
            Ok(ack) => {
                self.say(ack);
                let _ = self.session.as_mut().map(Session::refresh);
                self.show_session();
            }
            Err(SessionError::Asks(question)) => {
                let why = window::words::by_touch(&question.to_string());
                let words = format!("{why}. Expected: {}.", question.expected());
                self.model.asks = meant.map(|again| Asks { words, again });
            }
            Err(why) => self.wrong(&why),
        }
    }

    fn open_port(&mut self, port: &str, instrument: &str) {
        let Some(session) = &mut self.session else { return };
        let device = match device::find(session, instrument) {
            Ok(device) => device,
            Err(why) => return self.wrong(&why),
        };
        // An instrument that the log does not know yet, or with other data, is entered before its first reading.
        if session.instruments().get(&device.facts.name) != Some(&device.facts)
            && let Err(why) = session.add_instrument(device.facts.clone())
        {
            return self.wrong(&why);
        }
        (self.keep.port, self.keep.instrument) = (port.to_owned(), instrument.to_owned());
        self.keep.save();
        self.port.open(port, device, &self.ctx);
        self.show_session();
    }

    fn end_watch(&mut self) {
        let Some(session) = &mut self.session else { return };
        let ended = self.port.end_watch(session);
        self.show_written(ended.map(|()| true));
        if let Some(wing) = &mut self.model.wing {
            wing.trace = None;
        }
    }
}
