//! Whatever a hand, an instrument, a clock and another program do, in any order: the window shows what the log says,
//! and nothing is written that was not asked for.

mod holds;

use super::played::Played;
use bench::{Came, PortEvent};
use eframe::egui::{self, Event, Key, Modifiers, PointerButton};
use egui_kittest::kittest::NodeT as _;
use record::{Entry, Facing, OpenAction};
use session::{Session, Take};
use std::fmt::Write as _;
use stories::jig::post;
use stories::seeded::Draws;
use stories::trainer::WING;
use window::{Action, Looks, Screen};

/// The wing of three stations on one post, so that every screen has something to show.
fn plan() -> String {
    let post = post::PLAN.split_once("[[post]]").unwrap().1.split_once("[[stage]]").unwrap().0;
    let stages = "[[stage]]\nname = \"jig empty\"\nrequires = [\"level@*\", \"cross@*\"]\n";
    let (wing, rest) = WING.split_once("[[stage]]").unwrap();
    let wing = wing.replace("station = 0.5\n", "station = 0.5\nlevel = 0.1\ncross = 0.1\n");
    format!("{wing}[[post]]{post}{stages}[[stage]]{rest}")
}

/// What a step was, and what it may write.
#[derive(Debug)]
enum Did {
    Nothing,
    Tapped(String),
    Pressed(Key),
}

struct Hand {
    p: Played,
    draws: Draws,
    told: String,
    /// Where values are taken hands free, as it was before the step.
    free_at: Option<(record::Point, Option<Facing>)>,
    free_moves: bool,
}

impl Hand {
    fn new(seed: u64) -> Self {
        let p = Played::new(&plan(), "jig empty");
        Self { p, draws: Draws::new(seed), told: String::new(), free_at: None, free_moves: false }
    }

    fn own(&self) -> Vec<Entry> {
        let session = Session::open_read_only(&self.p.log()).unwrap();
        session.entries().iter().filter(|e| e.by == "tam").cloned().collect()
    }

    fn buttons(&self) -> Vec<(String, egui::Pos2)> {
        let nodes = self.p.t.w.root().children_recursive();
        let on = nodes.filter(|n| {
            let at = n.accesskit_node();
            at.role() == egui::accesskit::Role::Button && !at.is_disabled()
        });
        on.map(|n| (n.accesskit_node().label().unwrap_or_default(), n.rect().center())).collect()
    }

    fn step(&mut self) -> Did {
        let did = match self.draws.below(16) {
            0..=3 => self.values(),
            4 => self.the_port(),
            5..=10 => self.tap(),
            11..=13 => self.press(),
            14 => self.another_program(),
            _ => self.looks(),
        };
        writeln!(self.told, "{did:?}").unwrap();
        if self.p.t.w.state().desk.model().wing.is_none() {
            let log = self.p.log().display().to_string();
            self.p.t.w.state_mut().desk.act(Action::OpenLog(log));
            let file = self.p.folder.path().join("level.toml");
            let device = session::gauges::Connected::read(&file).unwrap();
            self.p.t.w.state_mut().desk.play(device);
        }
        self.p.t.w.run_steps(2);
        did
    }

    fn values(&mut self) -> Did {
        let kind = self.draws.below(8);
        let likely = [0, 10, -12, 200, -200, 100, 105, -50, 45];
        let value = if kind < 6 {
            likely[self.draws.index(9)]
        } else {
            i64::try_from(self.draws.below(4000)).unwrap() - 2000
        };
        let count = if kind == 0 { 5 } else { 50 };
        let noise = i64::from(kind == 1) * 40;
        writeln!(self.told, "values {value}, {count} times, noise {noise}").unwrap();
        self.p.sends(count, |n| value + noise * i64::from(n % 3));
        Did::Nothing
    }

    fn the_port(&mut self) -> Did {
        // The computer's clock is set, forward or back.
        if self.draws.below(4) == 0 {
            self.p.stepped_ms = [0, -86_400_000, 86_400_000, -31_536_000_000][self.draws.index(4)];
            writeln!(self.told, "the clock is stepped to {} ms", self.p.stepped_ms).unwrap();
        }
        let ms = [100, 2_500, 60_000, 9_000_000][self.draws.index(4)];
        let at_ms = self.p.passes(ms);
        let what = match self.draws.below(3) {
            0 => Came::Lost(bench::Gone::because("unplugged")),
            1 => Came::Found,
            _ => Came::Missed(3),
        };
        let event = PortEvent { at_ms, what };
        writeln!(self.told, "{event:?}").unwrap();
        self.p.comes(&event);
        Did::Nothing
    }

    fn tap(&mut self) -> Did {
        let mut all = self.buttons();
        // Actions on files and ports are tried in other tests.
        let left_out =
            ["Sheet", "Import", "Make this key", "Open", "Port", "Set up", "Name ", "Go on", "Close the log"];
        all.retain(|(name, _)| !left_out.iter().any(|l| name.starts_with(l)));
        let pick =
            |all: &[(String, egui::Pos2)], n: u64| all[usize::try_from(n).unwrap() % all.len()].clone();
        if all.is_empty() {
            return Did::Nothing;
        }
        let often = [
            "Take",
            "Record the move",
            "Start a move",
            "Turn with the level",
            "Done",
            "Undo it",
            "Sign it",
            "1",
            "0",
            ".",
        ];
        let wanted: Vec<_> = all.iter().filter(|(name, _)| often.contains(&name.as_str())).cloned().collect();
        let n = self.draws.bits() >> 8;
        let (name, pos) =
            if wanted.is_empty() || n.is_multiple_of(3) { pick(&all, n / 3) } else { pick(&wanted, n / 3) };
        let twice = self.draws.below(5) == 0;
        writeln!(self.told, "tap {name}, twice: {twice}").unwrap();
        self.p.t.w.event(Event::PointerMoved(pos));
        for pressed in [true, false].into_iter().cycle().take(if twice { 4 } else { 2 }) {
            let modifiers = Modifiers::NONE;
            self.p.t.w.event(Event::PointerButton {
                pos,
                button: PointerButton::Primary,
                pressed,
                modifiers,
            });
            self.p.t.w.step();
        }
        self.p.t.w.event(Event::PointerGone);
        Did::Tapped(name)
    }

    fn press(&mut self) -> Did {
        let keys = [
            Key::Enter,
            Key::Enter,
            Key::Space,
            Key::Space,
            Key::Escape,
            Key::Escape,
            Key::Tab,
            Key::ArrowRight,
            Key::ArrowLeft,
            Key::ArrowDown,
            Key::PageDown,
            Key::F1,
            Key::F2,
            Key::F3,
            Key::F4,
            Key::F5,
            Key::F7,
            Key::F8,
        ];
        let with_ctrl = [Key::Z, Key::R, Key::T, Key::N, Key::G, Key::D, Key::Plus, Key::Minus];
        match self.draws.below(4) {
            0 => {
                let key = with_ctrl[self.draws.index(8)];
                writeln!(self.told, "ctrl {key:?}").unwrap();
                self.p.t.w.key_press_modifiers(Modifiers::CTRL, key);
                Did::Pressed(key)
            }
            1 => {
                let text = ["1", "-0.5", "s", "lev", "0.02", "2"][self.draws.index(6)];
                writeln!(self.told, "types {text}").unwrap();
                self.p.t.w.event(Event::Text(text.to_owned()));
                Did::Nothing
            }
            _ => {
                let key = keys[self.draws.index(keys.len())];
                writeln!(self.told, "presses {key:?}").unwrap();
                self.p.t.w.key_press(key);
                Did::Pressed(key)
            }
        }
    }

    /// Another person at the terminal.
    fn another_program(&mut self) -> Did {
        let mut s = Session::open(&self.p.log()).unwrap();
        s.set_who("oke");
        s.set_clock(record::At::from_millis(
            1_900_000_000_000 + i64::try_from(self.draws.below(40_000_000)).unwrap(),
        ));
        let station = format!("S{}", 1 + self.draws.below(3));
        let design = [2.0, 1.0, -0.5][station.as_bytes()[1] as usize - usize::from(b'1')];
        let kind = self.draws.below(9);
        let last = s.entries().len() as u64;
        writeln!(self.told, "another program: {kind} {station}").unwrap();
        let _ = match kind {
            0..=2 => {
                let mut done = Err(session::SessionError::Closed);
                for (facing, sign) in [(Facing::Forward, 1.0), (Facing::Aft, -1.0)] {
                    let off = (self.draws.below(60) as f64 - 30.0) / 100.0;
                    let take = Take {
                        point: format!("incidence@{station}"),
                        text: format!("{:.2}", sign * (design + off)),
                        facing: Some(facing),
                        instrument: Some("level".to_owned()),
                        sure: (self.draws.below(4) == 0).into(),
                        ..Take::default()
                    };
                    done = s.take(take);
                }
                done
            }
            3 => s.withdraw(1 + self.draws.below(last), "tried"),
            4 => s.open_item("a rivet", OpenAction::Opened, None),
            5 => {
                let next = ["ribs on", "ready to skin", "off the jig"][self.draws.index(3)];
                s.stage(&session::BeginStage::anyway(next, "tried"))
            }
            7 => {
                // Another plan: fewer stations, other limits, one post less.
                let plans =
                    [plan(), plan().replace("station = 0.5\nlevel", "station = 0.3\nlevel"), WING.to_owned()];
                let text = &plans[self.draws.index(3)];
                let file = self.p.folder.path().join("other.toml");
                std::fs::write(&file, text).unwrap();
                if let Err(why) = s.replan(&file, "tried") {
                    writeln!(self.told, "not replanned: {why}").unwrap();
                }
                return Did::Nothing;
            }
            6 => s.rework(&[format!("incidence@{station}")], "drilled again"),
            _ => s.record_move(&session::TypedMove::new("tip aft foot", "1/4 turn clockwise")),
        };
        Did::Nothing
    }

    fn looks(&mut self) -> Did {
        let sizes = [(800.0, 480.0), (1280.0, 800.0), (320.0, 240.0), (1920.0, 1080.0), (480.0, 800.0)];
        let (x, y) = sizes[self.draws.index(5)];
        self.p.t.w.set_size(egui::vec2(x, y));
        let scale = [1.0, 2.0, 3.0][self.draws.index(3)];
        let pairs = self.draws.below(3) != 0;
        self.p.t.w.state_mut().face.set_looks(Looks { scale, pairs, ..Looks::default() });
        writeln!(self.told, "{x} by {y}, {scale}, pairs {pairs}").unwrap();
        Did::Nothing
    }

    fn sees_what_is_free(&mut self) {
        let work = self.p.t.w.state();
        let live = work.desk.model().wing.as_ref().map(|w| w.live.clone()).unwrap_or_default();
        let free = live.hands_free == bench::HandsFree::On;
        let measures = work.face.screen() == Screen::Measure && !work.face.asks();
        let shown = work.face.point().cloned().map(|point| {
            let facing = point.kind().reverses().then_some(work.face.facing());
            (point, facing)
        });
        self.free_at = shown.filter(|_| free && measures);
        self.free_moves = free && live.level.is_some();
    }
}

fn runs(seed: u64, steps: usize) -> usize {
    let mut hand = Hand::new(seed);
    let mut own = hand.own().len();
    for _ in 0..steps {
        let before = hand.p.t.said();
        let focus = hand.p.t.w.root().children_recursive().any(|n| n.is_focused());
        hand.sees_what_is_free();
        let did = hand.step();
        let now = hand.own();
        hand.was_asked_for(&before, focus, &did, &now[own..]);
        own = now.len();
        hand.agrees();
    }
    // Then every screen of the result.
    for screen in Screen::ALL {
        hand.p.t.w.state_mut().face.go(screen);
        hand.p.t.w.run_steps(3);
        hand.agrees();
    }
    own
}

#[test]
fn whatever_is_done_the_window_shows_what_the_log_says_and_writes_only_what_was_asked_for() {
    let written: usize = (1..=5).map(|seed| runs(seed, 120)).sum();
    assert!(written > 20, "hardly anything was written: {written}");
}

#[test]
#[ignore = "long: thousands of steps"]
fn whatever_is_done_for_a_long_time() {
    let written: usize = (100..160).map(|seed| runs(seed, 250)).sum();
    println!("{written} entries");
}
