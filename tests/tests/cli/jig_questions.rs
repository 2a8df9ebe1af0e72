//! What the real program asks, and what it does unasked, while a post of a simulated jig is levelled: `--record` from
//! a pipe, a port unplugged in the middle of a move, a move that nobody reported.
#![cfg(unix)]

use crate::jig::port::{A_SECOND, Port, slowly};
use crate::jig::script::{TOUCHED, pressed, sees_untouched, turned};
use crate::jig::terminal::{On, Terminal};
use crate::program::Bench;
use journal::Journal;
use record::What;
use std::sync::{Arc, Mutex};
use stories::jig::post::{BACKLASH, FEET, Jig, PLAN};
use stories::jig::{Did, LEVEL};

const LISTEN: [&str; 8] =
    ["listen", "wing.jigtrue", "--port", "port", "--instrument", "level.toml", "--level", "tip-post"];

/// A jig on a port, and a log in which the level's zero is known from a pair taken at the post.
struct Scene {
    bench: Bench,
    jig: Arc<Mutex<Jig>>,
    port: Option<Port>,
}

impl Scene {
    fn set(seed: u64) -> Self {
        let bench = Bench::with_plan(PLAN);
        bench.line("stage wing.jigtrue \"jig empty\"").expect(0);
        bench.write("level.toml", LEVEL);
        bench.line("instrument add wing.jigtrue level.toml").expect(0);
        let mut jig = Jig::leaning(seed);
        let (_, across) = jig.tilts();
        let shown = |sign: f64| sign * across + jig.zero;
        bench.write(
            "pair.csv",
            format!(
                "point,facing,value_deg,instrument\ncross@tip-post,forward,{:.2},tilt board\n\
                 cross@tip-post,aft,{:.2},tilt board\n",
                shown(1.0),
                shown(-1.0)
            ),
        );
        bench.line("import wing.jigtrue pair.csv").expect(0);
        jig.facing = record::Facing::Forward;
        let mut scene = Self { bench, jig: Arc::new(Mutex::new(jig)), port: None };
        scene.plug_in();
        scene
    }

    fn plug_in(&mut self) {
        let seen = Arc::clone(&self.jig);
        self.port = Some(Port::plug_in(&self.bench.path("port"), move || seen.lock().unwrap().shown()));
    }

    fn listens(&self, more: &[&str]) -> Terminal {
        Terminal::start(&self.bench, On::Pipe, &[&LISTEN, more].concat())
    }

    fn port(&self) -> &Port {
        self.port.as_ref().unwrap()
    }

    /// Turns a screw slowly; returns how far its foot moved.
    fn turns(&self, foot: usize, turns: f64) -> f64 {
        turned(&self.jig, self.port(), Did { foot, turns })
    }

    fn moves(&self) -> Vec<record::Move> {
        let journal = Journal::open_read_only(&self.bench.path("wing.jigtrue")).unwrap();
        let moved = |what| if let What::Move(moved) = what { Some(moved) } else { None };
        journal.entries().filter_map(|entry| moved(entry.unwrap().what)).collect()
    }
}

fn agrees(entry: &record::Move, foot: usize, mm: f64) {
    let u = entry.u().unwrap().value();
    assert!(entry.support == FEET[foot] && (entry.amount.value() - mm).abs() < 3.0 * u, "{entry:?}, {mm}");
}

#[test]
fn record_from_a_pipe_writes_each_move_unasked_except_what_came_back() {
    let scene = Scene::set(21);
    let mut terminal = scene.listens(&["--record"]);
    let (_, text) = terminal.sees(&[" to go"]);
    // `tip aft foot: nothing turned, 2 1/8 turns anticlockwise to go`.
    let foot = (0..2).find(|foot| text.contains(&format!("{}: ", FEET[*foot]))).unwrap();
    let way = if text.contains("anticlockwise to go") { -1.0 } else { 1.0 };
    let mm = scene.turns(foot, 1.5 * way);
    sees_untouched(&mut terminal, &["move recorded"]);
    agrees(&scene.moves()[0], foot, mm);
    // Moved and back between two rests: nothing is written.
    terminal.read_on();
    let step = |turns: f64| slowly(&scene.jig, move |jig| _ = jig.turn(foot, turns / 25.0));
    let there_and_back = step(3.0 * way).into_iter().chain(step(-(3.0 + BACKLASH) * way));
    scene.port().plays(there_and_back.collect());
    scene.port().sends(3 * A_SECOND);
    terminal.is_up_to_date();
    assert_eq!(scene.moves().len(), 1, "{}", terminal.since());
    terminal.types("q");
    assert_eq!(terminal.ends(), 0);
}

#[test]
fn a_port_unplugged_in_the_middle_of_a_move_is_asked_about() {
    for (answer, kept) in [("n", true), ("y", false)] {
        let mut scene = Scene::set(22);
        let mut terminal = scene.listens(&[]);
        terminal.sees(&["Enter: start. "]);
        pressed(&mut terminal, "", &["; turn"]);
        let mut mm = scene.turns(1, 0.7);
        scene.port = None;
        let (_, said) = terminal.sees(&["no turns"]);
        assert!(said.contains("LOST") && said.contains("the start is kept"), "{said}");
        scene.plug_in();
        mm += scene.turns(1, 0.7);
        terminal.sees(&[TOUCHED]);
        assert!(scene.moves().is_empty());
        terminal.types(answer);
        if kept {
            terminal.sees(&["the start is kept"]);
            if terminal.sees(&["Record it?", "Which screw was turned?"]).0 == 0 {
                terminal.types("");
            } else {
                let list = terminal.since();
                let at = (1..=3).find(|at| list.contains(&format!("{at} Tip aft foot"))).unwrap();
                terminal.types(&at.to_string());
            }
            terminal.sees(&["move recorded"]);
            agrees(&scene.moves()[0], 1, mm);
        } else {
            terminal.sees(&["the start is dropped"]);
            terminal.sees(&["Enter: start. "]);
            assert!(scene.moves().is_empty());
        }
    }
}

#[test]
fn an_unreported_move_is_noticed_before_a_reading_joins_the_old_ones() {
    for (answer, recorded) in [("m", true), ("n", false)] {
        let scene = Scene::set(23);
        let before = scene.jig.lock().unwrap().tilts().1;
        let mm = scene.turns(1, 2.0);
        let mut terminal = scene.listens(&[]);
        terminal.sees(&["at rest"]);
        pressed(&mut terminal, "t", &["Was something moved?"]);
        let entries = |scene: &Scene| {
            let journal = Journal::open_read_only(&scene.bench.path("wing.jigtrue")).unwrap();
            journal.entries().count()
        };
        let count = entries(&scene);
        terminal.types(answer);
        if recorded {
            let (_, list) = terminal.sees(&["Which screw was turned?"]);
            let at = (1..=3).find(|at| list.contains(&format!("{at} Tip aft foot"))).unwrap();
            terminal.types(&at.to_string());
            terminal.sees(&["move recorded"]);
            agrees(&scene.moves()[0], 1, mm);
            // The readings from before are stale.
            let check = scene.bench.line("check wing.jigtrue --json").json();
            let points = check["points"].as_array().unwrap();
            let cross = points.iter().find(|p| p["point"] == "cross@tip-post").unwrap();
            assert_eq!(cross["state"], "stale", "{cross}");
            // The move is known now: what it left is not asked about once more.
            pressed(&mut terminal, "t", &["taken "]);
        } else {
            terminal.sees(&["taken "]);
            // A round of its own: the reading is not averaged with earlier ones.
            assert_eq!(entries(&scene), count + 1);
            let check = scene.bench.line("check wing.jigtrue --json").json();
            let points = check["points"].as_array().unwrap();
            let value = points.iter().find(|p| p["point"] == "cross@tip-post").unwrap()["value"].as_f64();
            let middle = f64::midpoint(before, scene.jig.lock().unwrap().tilts().1);
            assert!(
                value.is_none_or(|value| (value - middle).abs() > 0.02),
                "{value:?} is an average across a move"
            );
        }
    }
}
