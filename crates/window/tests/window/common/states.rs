//! Every screen and state that is tested: each a model, and what brings the window there.

use super::Bench;
use super::hand::{self, Window};
use super::live;
use bench::{LevelView, Live, Phase, Site, Turn};
use egui::Key;
use window::Screen;
use window::model::{Listing, LogRow, Model, Person, Place};

/// A state of the window.
#[derive(Clone)]
pub struct State {
    pub name: &'static str,
    pub model: Model,
    pub go: fn(&mut Window),
}

fn nothing(_: &mut Window) {}

pub fn on(w: &mut Window, screen: Screen) {
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

fn levelling(tilt: f64, phase: Phase) -> LevelView {
    let point: record::Point = "cross@root-post".parse().unwrap();
    let place = bench::Place {
        point: point.clone(),
        value: tilt,
        zero_out: true,
        design: Some(0.0),
        lower: Some(-0.15),
        upper: Some(0.15),
    };
    LevelView {
        site: Site::Post("root-post".to_owned()),
        point: Some(point),
        facing: record::Facing::Forward,
        phase,
        tilts: vec![place],
        start: Some(-0.35),
        left: 0,
        turn: Some(Turn {
            by: bench::By::Level,
            foot: "root aft foot".to_owned(),
            mm: -5.4,
            turns: Some(-3.625),
            to_go: Some(-2.25),
            give_or_take: Some(0.5),
            words: String::new(),
        }),
        coarse: None,
        reasons: Vec::new(),
    }
}

/// The rear screw at the tip, half turned, with the level on a station near it.
fn under_spars(wing: &window::model::Wing) -> LevelView {
    let step = wing.advice.as_ref().unwrap().steps.first().unwrap();
    let at = step.watch_at.clone().unwrap();
    let point = record::Point::at(record::PointKind::Incidence, &at);
    let view = wing.assessment.points.iter().find(|p| p.point == point).unwrap();
    let (now, half) = (view.value.unwrap(), step.watch_deg.unwrap() / 2.0);
    LevelView {
        site: Site::Spars,
        tilts: vec![bench::Place {
            point: point.clone(),
            value: now + half,
            zero_out: true,
            design: view.design,
            lower: view.lower,
            upper: view.upper,
        }],
        point: Some(point),
        facing: record::Facing::Forward,
        phase: Phase::Turning { done_mm: step.amount_mm / 2.0, to_go_mm: step.amount_mm / 2.0 },
        start: Some(now),
        left: wing.advice.as_ref().unwrap().steps.len(),
        turn: Some(Turn {
            by: bench::By::Level,
            foot: step.support.clone(),
            mm: step.amount_mm,
            turns: step.turns,
            to_go: step.turns.map(|turns| turns / 2.0),
            give_or_take: step.give_or_take_turns,
            words: step.words.clone(),
        }),
        coarse: None,
        reasons: Vec::new(),
    }
}

/// All of them; the logs are played once.
pub fn all() -> Vec<State> {
    static ALL: std::sync::OnceLock<Vec<State>> = std::sync::OnceLock::new();
    ALL.get_or_init(made).clone()
}

fn made() -> Vec<State> {
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
    let showing = |state: Live| {
        let mut bench = Bench::showing(&walking.model);
        bench.live(state);
        bench.model.clone()
    };
    let mut level = Bench::case("two-post", |s| s.action == "take" && s.what.starts_with("cross@tip-post"));
    level.live(live::settling(-0.22, 0.75));
    level.model.wing.as_mut().unwrap().live.level =
        Some(levelling(-0.22, Phase::Turning { done_mm: -2.0, to_go_mm: -3.4 }));
    let moving = advised(&Bench::case("two-post", |s| s.action == "move" && s.what == "tip rear"));
    let mut turning = Bench::showing(&moving);
    let view = under_spars(turning.wing());
    // As the level shows it, including its zero of +0.12°.
    let shown = ((view.tilts[0].value + 0.12) * 100.0).round() / 100.0;
    turning.live(live::settling(shown, 0.75));
    turning.model.wing.as_mut().unwrap().live.level = Some(view);
    let mut start = Bench::at_start();
    start.model.recent = rows();
    let mut nobody = Bench::at_start();
    nobody.model.who = Person::default();
    nobody.model.people.clear();
    let mut refused = Bench::showing(&nobody.model);
    let words = "Put your name at the bench first.".to_owned();
    refused.model.notice = Some(window::model::Notice { wrong: true, words });
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
    let settled = showing(live::settled(-0.47));
    let at = |name, model: &Model| state(name, model, at_s7);
    let mut out = vec![
        at("measure", &settled),
        at("measure-moving", &showing(live::moving(-0.31))),
        at("measure-settling", &showing(live::settling(-0.46, 0.7))),
        at("measure-still-taken", &showing(live::taken(-0.47))),
        at("measure-long", &showing(live::settled(-12.47))),
        at("measure-last", &walking.model),
        at("measure-lost", &showing(live::lost(8, -0.47))),
        at("measure-wrong", &showing(live::wrong())),
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
        state("moves", &moving, |w| on(w, Screen::Moves)),
        state("moves-posts", &hold_model, |w| on(w, Screen::Moves)),
        state("moves-turning", &turning.model, |w| {
            on(w, Screen::Moves);
            hand::tap(w, "Turn with the level");
        }),
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
        state("start-nobody", &refused.model, nothing),
        state("start-name", &nobody.model, |w| {
            hand::tap(w, "Add a name");
            hand::tap_text(w, "Ruel");
            hand::tap(w, "inspector");
        }),
        state("files", &files.model, |w| hand::tap(w, "Open a log")),
        state("setup", &start.model, |w| on(w, Screen::Setup)),
        state("keys", &start.model, |w| hand::ctrl(w, Key::Questionmark)),
    ];
    out.extend(pages(&whole_model, &moving, &hold_model));
    out.extend(super::doubts::all(&level.model, &settled));
    let mut coarse = Bench::showing(&level.model);
    coarse.live(live::settled(-0.22));
    let mut without_zero = levelling(-0.22, Phase::AtRest);
    without_zero.tilts[0].zero_out = false;
    (without_zero.turn, without_zero.start) = (None, None);
    without_zero.coarse = Some(bench::Coarse {
        words: "trailing edge high".to_owned(),
        foot: Some(bench::CoarseFoot { name: "root aft foot".to_owned(), raise: false }),
    });
    coarse.model.wing.as_mut().unwrap().live.level = Some(without_zero);
    out.push(state("level-no-zero", &coarse.model, |w| {
        on(w, Screen::Level);
        w.state_mut().face.choose("cross@root-post".parse().unwrap());
        w.run_steps(2);
    }));
    let rigged = Bench::whole("rigged");
    out.push(state("rigged", &rigged.model, |w| on(w, Screen::Gate)));
    let mut closed = Bench::closed();
    closed.does(|s| Bench::pair(s, "incidence@S1", "2.00", "-2.00"));
    out.push(state("gate-decided", &closed.model, |w| on(w, Screen::Gate)));
    out.push(state("gate-after", &closed.model, |w| {
        on(w, Screen::Gate);
        hand::tap(w, "Show after the closing");
    }));
    let plane = Bench::with_a_wing();
    out.push(state("gate-wings", &plane.model, |w| {
        on(w, Screen::Gate);
        hand::tap(w, "Show wings from their jigs");
    }));
    out.push(state("gate-wing-evidence", &plane.model, |w| {
        on(w, Screen::Gate);
        hand::tap(w, "Show wings from their jigs");
        hand::press(w, Key::Enter);
    }));
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

/// Choices and questions on a page of their own.
fn pages(whole: &Model, moving: &Model, hold: &Model) -> Vec<State> {
    let mut ports = whole.clone();
    ports.ports = ["/dev/ttyUSB0", "/dev/ttyACM0"].map(str::to_owned).to_vec();
    ports.gauges = ["beam level", "digital caliper"].map(str::to_owned).to_vec();
    let mut reading_in = whole.clone();
    reading_in.import = Some(window::model::Import {
        table: "round 3.csv".to_owned(),
        lines: 41_200,
        share: 0.42,
        stopping: false,
    });
    let state = |name, model: &Model, go| State { name, model: model.clone(), go };
    vec![
        state("port", &ports, |w| {
            on(w, Screen::More);
            hand::tap(w, "Port");
        }),
        state("who", whole, |w| {
            on(w, Screen::More);
            hand::tap(w, "At the bench");
        }),
        state("supports", moving, |w| {
            on(w, Screen::Moves);
            hand::tap(w, "Other support");
        }),
        state("asks", whole, |w| {
            w.state_mut().model.asks = Some(is_it_meant());
            w.run_steps(1);
        }),
        state("importing", &reading_in, nothing),
        // If there is room the board stands beside the list.
        state("board", hold, |w| {
            on(w, Screen::Gate);
            if hand::is_on(w, "Board") {
                hand::tap(w, "Board");
            }
        }),
    ]
}

/// A question about a reading that no wing of this design has.
fn is_it_meant() -> window::model::Asks {
    window::model::Asks {
        words: "incidence@S7 reads 7.1\u{b0}; by the design about +0.71\u{b0} was expected.".to_owned(),
        again: window::Action::Take {
            point: "incidence@S7".parse().unwrap(),
            text: "7.1".to_owned(),
            facing: Some(record::Facing::Forward),
            instrument: None,
            temperature: None,
            new_round: false,
            sure: bench::Sure::Yes,
        },
    }
}
