//! Every screen and state that is looked at: each a model, and what brings the window there.

use super::Bench;
use super::hand::{self, Window};
use egui::Key;
use window::Screen;
use window::model::live::{Levelling, LiveState, Phase, Turn};
use window::model::{Listing, LogRow, Model, Person, Place};

/// A state of the window.
pub struct State {
    pub name: &'static str,
    pub model: Model,
    pub go: fn(&mut Window),
}

fn nothing(_: &mut Window) {}

fn on(w: &mut Window, screen: Screen) {
    w.state_mut().face.go(screen);
    w.run_steps(3);
}

fn at_s7(w: &mut Window) {
    on(w, Screen::Measure);
    w.state_mut().face.choose("incidence@S7".parse().unwrap());
    w.run_steps(2);
}

fn rows() -> Vec<LogRow> {
    let row = |file: &str, wing: &str, stage: &str, last: &str, gate, problem: Option<&str>| LogRow {
        path: format!("/wings/{file}.jigtrue"),
        file: file.to_owned(),
        wing: wing.to_owned(),
        stage: stage.to_owned(),
        last: last.to_owned(),
        gate,
        problem: problem.map(str::to_owned),
    };
    use record::GateState::{Clear, Hold};
    vec![
        row(
            "left-wing",
            "Orrelby trainer, left wing",
            "stage 4 of 6, ribs outboard",
            "last reading 8 Jun 2031 11:42, Tam",
            Some(Hold),
            None,
        ),
        row(
            "right-wing",
            "Orrelby trainer, right wing",
            "stage 2 of 6, spar bolted",
            "last reading 2 Jun 2031 16:20, Oke",
            Some(Hold),
            None,
        ),
        row(
            "flap",
            "Orrelby trainer, flap",
            "stage 5 of 5, ready to skin",
            "last reading 28 May 2031 09:14, Ruel",
            Some(Clear),
            None,
        ),
        row(
            "practice",
            "Bench piece",
            "",
            "",
            None,
            Some("not found: the stick is out, or the folder is gone"),
        ),
    ]
}

fn levelling(tilt: f64, phase: Phase) -> Levelling {
    Levelling {
        post: "root-post".to_owned(),
        point: "cross@root-post".parse().unwrap(),
        tilt: Some(tilt),
        zero_out: true,
        phase,
        start: Some(-0.35),
        turn: Some(Turn {
            foot: "root-post aft foot".to_owned(),
            mm: -3.4,
            turns: Some(-2.25),
            give_or_take: Some(0.5),
        }),
        coarse: None,
        reasons: Vec::new(),
        moved: None,
    }
}

/// All of them.
pub fn all() -> Vec<State> {
    let walking = Bench::case("two-post", |s| s.action == "take" && s.what.starts_with("incidence@S7"));
    let mut walking = walking;
    // The demo's readings were taken by this person, who can undo them.
    walking.model.who.name = "builder".to_owned();
    let empty = Bench::empty();
    let whole = Bench::whole("two-post");
    let hold = Bench::whole("hold");
    let advised = |bench: &Bench| {
        let mut model = bench.model.clone();
        let wing = model.wing.as_mut().unwrap();
        let advice = assess::advice::advise(&wing.plan, &wing.entries, &wing.assessment);
        wing.advice = Some(std::sync::Arc::new(advice));
        model
    };
    let (whole_model, hold_model) = (advised(&whole), advised(&hold));
    let live = |state: LiveState| {
        let mut bench = Bench::showing(&walking.model);
        bench.live(state);
        bench.model.clone()
    };
    let mut level = Bench::case("two-post", |s| s.action == "take" && s.what.starts_with("cross@tip-post"));
    level.live(LiveState::Settling { shown: -0.22, share: 0.75 });
    level.model.wing.as_mut().unwrap().live.levelling =
        Some(levelling(-0.22, Phase::Turning { done_mm: -2.0 }));
    let mut start = Bench::at_start();
    start.model.recent = rows();
    let mut nobody = Bench::at_start();
    nobody.model.who = Person::default();
    nobody.model.people.clear();
    let mut files = Bench::showing(&start.model);
    files.model.listing = Some(Listing {
        folder: "/home/bench/wings".to_owned(),
        above: Some("/home/bench".to_owned()),
        folders: Vec::new(),
        files: rows(),
        places: vec![
            Place { name: "This machine".to_owned(), path: "/home/bench".to_owned() },
            Place { name: "Stick".to_owned(), path: "/media/stick".to_owned() },
        ],
    });
    let state = |name, model: &Model, go| State { name, model: model.clone(), go };
    let settled = live(LiveState::Settled { shown: -0.47 });
    let at = |name, model: &Model| state(name, model, at_s7);
    let mut out = vec![
        at("measure", &settled),
        at("measure-moving", &live(LiveState::Moving { shown: -0.31 })),
        at("measure-settling", &live(LiveState::Settling { shown: -0.46, share: 0.7 })),
        at("measure-still-taken", &live(LiveState::Taken { shown: -0.47 })),
        at("measure-long", &live(LiveState::Settled { shown: -12.47 })),
        at("measure-last", &walking.model),
        at("measure-lost", &live(LiveState::Lost { seconds: 8, last: Some(-0.47) })),
        at(
            "measure-wrong",
            &live(LiveState::Wrong { here: "T-0002".to_owned(), wanted: "T-0001".to_owned() }),
        ),
        state("measure-type", &settled, |w| {
            at_s7(w);
            hand::tap(w, "Type it");
            hand::tap_text(w, "\u{2212}0.4");
        }),
        state("undo", &walking.model, |w| {
            at_s7(w);
            hand::ctrl(w, Key::Z);
        }),
        state("find", &settled, |w| {
            at_s7(w);
            hand::types(w, "s1");
            w.event(egui::Event::PointerMoved(egui::pos2(400.0, 2.0)));
            w.run_steps(1);
        }),
        state("find-touch", &settled, |w| {
            at_s7(w);
            let name =
                hand::buttons(w).into_iter().map(|b| b.0).find(|n| n.starts_with("Find another")).unwrap();
            hand::tap(w, &name);
        }),
        state("stages", &walking.model, |w| hand::ctrl(w, Key::G)),
        state("begin", &empty.model, nothing),
        state("stage-done", &whole_model, |w| on(w, Screen::Measure)),
        state("level", &level.model, |w| {
            on(w, Screen::Level);
            w.state_mut().face.choose("cross@root-post".parse().unwrap());
            w.run_steps(2);
        }),
        state("level-last", &whole_model, |w| on(w, Screen::Level)),
        state("moves", &hold_model, |w| on(w, Screen::Moves)),
        state("moves-nothing", &whole_model, |w| on(w, Screen::Moves)),
        state("profile", &whole_model, |w| on(w, Screen::Profile)),
        state("profile-hold", &hold_model, |w| on(w, Screen::Profile)),
        state("gate", &hold_model, |w| on(w, Screen::Gate)),
        state("gate-clear", &whole_model, |w| on(w, Screen::Gate)),
        state("gate-evidence", &hold_model, |w| {
            on(w, Screen::Gate);
            hand::press(w, Key::Enter);
        }),
        state("sign", &hold_model, |w| {
            on(w, Screen::Gate);
            hand::tap(w, "Sign");
        }),
        state("more", &whole_model, |w| on(w, Screen::More)),
        state("shape", &whole_model, |w| on(w, Screen::Shape)),
        state("history", &whole_model, |w| {
            on(w, Screen::History);
            w.state_mut().face.choose("incidence@S4".parse().unwrap());
            w.run_steps(2);
        }),
        state("watch", &whole_model, |w| on(w, Screen::Watch)),
        state("start", &start.model, nothing),
        state("start-empty", &nobody.model, nothing),
        state("start-name", &nobody.model, |w| {
            hand::tap(w, "Add a name");
            hand::tap_text(w, "Ruel");
            hand::tap(w, "inspector");
        }),
        state("files", &files.model, |w| hand::tap(w, "Open a log")),
        state("setup", &start.model, |w| on(w, Screen::Setup)),
        state("keys", &start.model, |w| hand::ctrl(w, Key::Questionmark)),
    ];
    let mut cautions = start.model.clone();
    cautions.cautions_due = true;
    out.push(state("cautions", &cautions, nothing));
    let mut wrong = walking.model.clone();
    wrong.notice = Some(window::model::Notice {
        wrong: true,
        words: "Not written: the disk is full. The reading is still here; try again.".to_owned(),
    });
    out.push(state("measure-not-written", &wrong, at_s7));
    out
}
