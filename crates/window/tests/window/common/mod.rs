//! A bench for the window: a real log in a folder of its own, on which the actions are done.
#![allow(dead_code, reason = "each test file uses its own part of the bench")]
#![allow(clippy::disallowed_methods, reason = "the bench has a folder of its own on the disk")]

pub mod doubts;
pub mod hand;
pub mod letters;
pub mod live;
pub mod paint;
pub mod picture;
pub mod states;

use bench::{DeviceView, Live, PortView, View};
use egui_kittest::Harness;
use session::demo::CASES;
use session::{Session, Sign, Take};
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};
use stories::trainer::{PLANE, WING};
use window::model::{Model, Notice, Person, Role, Wing};
use window::{Action, Face};

/// The window on a log.
pub struct Bench {
    pub face: Face,
    pub model: Model,
    pub session: Option<Session>,
    /// Everything asked for so far.
    pub asked: Vec<Action>,
    folder: PathBuf,
}

impl Drop for Bench {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.folder);
    }
}

fn folder() -> PathBuf {
    static N: AtomicU32 = AtomicU32::new(0);
    let name = format!("jigtrue-window-{}-{}", std::process::id(), N.fetch_add(1, Ordering::Relaxed));
    let folder = std::env::temp_dir().join(name);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

fn celsius(text: &str) -> quantity::Celsius {
    quantity::Celsius::new(quantity::typed(text, quantity::Kind::Temperature).unwrap().amount.base())
}

impl Bench {
    /// No log is open.
    pub fn at_start() -> Self {
        let folder = folder();
        let who = Person { name: "Tam".to_owned(), role: Role::Builder };
        let people = [("Tam", Role::Builder), ("Oke", Role::Builder), ("Ruel", Role::Inspector)];
        let people = people.map(|(name, role)| Person { name: name.to_owned(), role }).to_vec();
        let model = Model { folder: folder.display().to_string(), who, people, ..Model::default() };
        Self { face: Face::new(), model, session: None, asked: Vec::new(), folder }
    }

    /// The window on an existing model, with nothing behind it.
    pub fn showing(model: &Model) -> Self {
        let mut bench = Self::at_start();
        bench.model = model.clone();
        bench
    }

    /// A shipped case, played until `stop` is true of the next step.
    pub fn case(name: &str, stop: impl Fn(&session::demo::Step) -> bool) -> Self {
        Self::played(CASES.iter().find(|c| c.name == name).unwrap(), stop)
    }

    /// The same of any case.
    pub fn played(case: &session::demo::Case, stop: impl Fn(&session::demo::Step) -> bool) -> Self {
        let mut bench = Self::at_start();
        let log = bench.folder.join("wing.jigtrue");
        let mut halted = false;
        let result = session::demo::play(case, &log, &mut |_, step| {
            if step.is_some_and(&stop) {
                halted = true;
                return Err(session::SessionError::Closed);
            }
            Ok(())
        });
        let session = match result {
            Ok(session) => session,
            Err(_) if halted => Session::open(&log).unwrap(),
            Err(e) => panic!("{e}"),
        };
        bench.take_up(session);
        bench
    }

    /// A shipped case to its end.
    pub fn whole(name: &str) -> Self {
        Self::case(name, |_| false)
    }

    /// The first shipped case, with an empty jig and no stage begun.
    pub fn empty() -> Self {
        Self::case("two-post", |_| true)
    }

    /// Opens a log from a plan's text.
    pub fn with_plan(plan: &str) -> Self {
        let mut bench = Self::at_start();
        let (file, log) = (bench.folder.join("plan.toml"), bench.folder.join("wing.jigtrue"));
        std::fs::write(&file, plan).unwrap();
        bench.take_up(Session::create(&file, &log, Some("Tam")).unwrap());
        bench
    }

    /// A log from a plan's text, begun on the day of the shipped cases: what the window shows is the same every day.
    fn dated(&self, plan: &'static str, log: &str) -> Session {
        let header = "minute,action,what,value,facing,instrument,temperature_C,by,note\n";
        let case = session::demo::Case { name: "bench", plan, steps: header };
        let mut session = session::demo::play(&case, &self.folder.join(log), &mut |_, _| Ok(())).unwrap();
        session.set_clock(record::At::from_millis(1_938_153_600_000 + 60_000));
        session.set_who("Tam");
        session
    }

    fn take_up(&mut self, mut session: Session) {
        session.set_who("Tam");
        self.session = Some(session);
        self.show_session();
    }

    /// Something happens to the log.
    pub fn does(&mut self, what: impl FnOnce(&mut Session)) {
        what(self.session.as_mut().unwrap());
        self.show_session();
    }

    /// Another log in the same folder.
    pub fn wing_beside(&mut self, plan: &'static str, log: &str, what: impl FnOnce(&mut Session)) {
        what(&mut self.dated(plan, log));
    }

    /// The aeroplane on which the left wing is to be taken up, with its log beside.
    pub fn plane() -> Self {
        let mut bench = Self::at_start();
        let session = bench.dated(PLANE, "wing.jigtrue");
        bench.take_up(session);
        bench.wing_beside(WING, "left.jigtrue", |s| {
            Self::cleared(s);
        });
        bench
    }

    /// The wing of [`WING`] measured, clear and signed.
    fn cleared(s: &mut Session) {
        Self::walk(s, "ribs on", 0.0);
        Self::walk(s, "ready to skin", 0.0);
        s.sign(Sign {
            who: Some("Ruel".to_owned()),
            capacity: "inspector".to_owned(),
            statement: "all readings seen".to_owned(),
            as_seen: false,
            key: None,
        })
        .unwrap();
    }

    /// That wing, with the stage after the closing one begun.
    pub fn closed() -> Self {
        let mut bench = Self::at_start();
        let session = bench.dated(WING, "wing.jigtrue");
        bench.take_up(session);
        bench.does(|s| {
            Self::cleared(s);
            s.stage(&session::BeginStage::named("off the jig")).unwrap();
        });
        bench
    }

    /// The same with its wing taken up and mounted.
    pub fn with_a_wing() -> Self {
        let mut bench = Self::plane();
        bench.does(|s| {
            let log = s.path().with_file_name("left.jigtrue");
            s.take_up(&session::WingLog { which: "left".to_owned(), log }).unwrap();
            s.stage(&session::BeginStage::named("wings on")).unwrap();
            for (point, forward, aft) in [
                ("pitch@fuselage", "0.40", "-0.20"),
                ("rig-incidence@left root", "2.45", "-2.25"),
                ("rig-incidence@left tip", "0.10", "0.10"),
            ] {
                Self::pair(s, point, forward, aft);
            }
        });
        bench
    }

    /// A pair, typed.
    pub fn pair(s: &mut Session, point: &str, forward: &str, aft: &str) {
        for (text, facing) in [(forward, record::Facing::Forward), (aft, record::Facing::Aft)] {
            let take = Take {
                point: point.to_owned(),
                text: text.to_owned(),
                facing: Some(facing),
                ..Take::default()
            };
            // A value far from the design is questioned, and confirmed.
            match s.take(take.clone()) {
                Err(session::SessionError::Asks(_)) => {
                    drop(s.take(Take { sure: bench::Sure::Yes, ..take }).unwrap())
                }
                done => drop(done.unwrap()),
            }
        }
    }

    /// The three stations of [`WING`] with so much more twist at the tip.
    pub fn readings(s: &mut Session, tip: f64) {
        for (station, value) in [("S1", 2.0), ("S2", 1.0 + tip * 1750.0 / 3750.0), ("S3", -0.5 + tip)] {
            let text = |v: f64| format!("{v:.2}");
            Self::pair(s, &format!("incidence@{station}"), &text(value), &text(-value));
        }
    }

    /// A stage begun and measured.
    pub fn walk(s: &mut Session, stage: &str, tip: f64) {
        s.stage(&session::BeginStage::named(stage)).unwrap();
        Self::readings(s, tip);
    }

    /// Puts the session's state into the model.
    pub fn show_session(&mut self) {
        let Some(session) = &mut self.session else { return };
        session.refresh().unwrap();
        let live = self.model.wing.as_ref().map(|w| w.live.clone()).unwrap_or_default();
        self.model.wing = Some(Wing {
            plan: Arc::new(session.plan().clone()),
            assessment: session.assessment(),
            entries: session.shared_entries(),
            log: "wing.jigtrue".to_owned(),
            chain: session.chain().clone(),
            live,
            trace: self.model.wing.as_ref().and_then(|w| w.trace.clone()),
            advice: None,
            read_only: false,
        });
    }

    /// The open wing.
    pub fn wing(&self) -> &Wing {
        self.model.wing.as_ref().unwrap()
    }

    /// What comes over the port from now on: a beam level that reads to 0.01°.
    pub fn live(&mut self, state: Live) {
        let wing = self.model.wing.as_mut().unwrap();
        wing.live = View {
            port: PortView::Open("bench port".to_owned()),
            instrument: Some(DeviceView {
                name: "beam level".to_owned(),
                kind: quantity::Kind::Angle,
                resolution: 0.01,
                two_axes: false,
                can_zero: false,
            }),
            live: state,
            ..View::default()
        };
    }

    /// A level at rest that shows this.
    pub fn settled(&mut self, shown: f64) {
        self.live(live::settled(shown));
    }

    fn act(&mut self, action: Action) {
        self.asked.push(action.clone());
        let meant = action.clone().meant();
        self.model.asks = None;
        let live = self.model.wing.as_ref().and_then(|w| w.live.live.shown());
        let Some(s) = &mut self.session else {
            match &action {
                Action::SetWho(who) => self.model.who = who.clone(),
                Action::CautionsRead => self.model.cautions_due = false,
                _ => {}
            }
            if let Action::NewLog { plan, .. } = &action {
                let made = Self::with_plan(plan);
                self.model.wing.clone_from(&made.model.wing);
            }
            return;
        };
        let done = match action {
            Action::Advise => {
                let advice = assess::advice::advise(s.plan(), s.entries(), &s.assessment());
                self.model.wing.as_mut().unwrap().advice = Some(Arc::new(advice));
                return;
            }
            Action::Take { point, text, facing, instrument, temperature, new_round, sure } => {
                let point = point.to_string();
                s.take(Take {
                    point,
                    text,
                    facing,
                    instrument,
                    temperature,
                    new_round,
                    sure,
                    ..Take::default()
                })
            }
            Action::TakeLive { point, facing, temperature } => {
                let value = live.unwrap().value;
                s.take_settled(&bench::NewReading {
                    point,
                    quantity: quantity::Kind::Angle,
                    text: quantity::Amount::from_base(quantity::Kind::Angle, value).to_string(),
                    value,
                    scatter: 0.0,
                    samples: 10,
                    resolution: 0.01,
                    rest: bench::Rested::Settled,
                    facing,
                    instrument: s.instruments_for(quantity::Kind::Angle).remove(0),
                    temperature: temperature.map(|t| celsius(&t)),
                    round: bench::Round::GoesOn,
                    asked: None,
                })
            }
            Action::Withdraw { seq, reason } => s.withdraw(seq, &reason),
            Action::BeginStage(name) => s.stage(&session::BeginStage::named(&name)),
            Action::BeginAnyway { name, reason } => s.stage(&session::BeginStage::anyway(&name, &reason)),
            Action::Move { support, text, sure } => {
                s.record_move(&session::TypedMove { sure, ..session::TypedMove::new(&support, &text) })
            }
            Action::Rework { point, what } => s.rework(&[point.to_string()], &what),
            Action::TakeUp { wing, log } => {
                s.take_up(&session::WingLog { which: wing, log: self.folder.join(log) })
            }
            Action::Note(text) => s.note(&text),
            Action::OpenItem { item, action, reason } => s.open_item(&item, action, reason.as_deref()),
            Action::Sign { capacity, statement, as_seen, key } => {
                let key = key.map(|k| self.folder.join(k));
                s.sign(Sign { who: None, capacity, statement, as_seen, key })
            }
            Action::MakeKey(path) => {
                self.model.notice = Some(match session::keys::make(&self.folder.join(path)) {
                    Ok(made) => Notice { wrong: false, words: made.public_key },
                    Err(e) => Notice { wrong: true, words: e.to_string() },
                });
                return;
            }
            Action::SetWho(who) => {
                s.set_who(&who.name);
                self.model.who = who;
                return;
            }
            Action::DismissNotice => {
                self.model.notice = None;
                return;
            }
            Action::CloseLog => {
                self.model.wing = None;
                return;
            }
            _ => return,
        };
        self.model.notice = Some(match done {
            Ok(taken) => Notice { wrong: false, words: taken.ack },
            Err(session::SessionError::Asks(q)) => {
                self.model.asks = meant.map(|again| window::model::Asks { words: q.to_string(), again });
                return;
            }
            Err(e) => Notice { wrong: true, words: e.to_string() },
        });
        self.show_session();
    }

    /// One frame.
    pub fn frame(&mut self, ui: &mut egui::Ui) {
        let actions = self.face.show(ui, &self.model);
        let any = !actions.is_empty();
        for action in actions {
            self.act(action);
        }
        if any {
            ui.ctx().request_repaint();
        }
    }

    /// A harness of that size in points.
    pub fn harness(self, width: f32, height: f32) -> Harness<'static, Self> {
        Harness::builder()
            .with_size(egui::vec2(width, height))
            .with_max_steps(12)
            .with_context_setup(letters::unfitted)
            .build_ui_state(
                |ui, bench: &mut Self| {
                    bench.frame(ui);
                    letters::unfitted(ui.ctx());
                },
                self,
            )
    }
}
