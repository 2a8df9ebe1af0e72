//! Simulated posts and wings are trued through the window by a person who reads what it says, taps its buttons and
//! does nothing else. The hand turns 0.6 to 1.3 of what is said, sometimes the wrong screw, sometimes none.

use super::played::with_level;
use super::thing::Thing;
use super::{Desk, Work, harness};
use bench::{Came, Live, PortEvent};
use eframe::egui;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use instrument::{Axis, Decimal, Sample, Unit};
use record::{At, Facing, What};
use stories::jig::post::{FEET, Jig, PLAN};
use stories::jig::wing::{STATIONS, Wing, plan};
use stories::jig::{LEVEL, hand};
use stories::seeded::Draws;
use window::{Face, Screen};

const EVERY_MS: u64 = 50;

struct Bench {
    w: Harness<'static, Work>,
    thing: Thing,
    draws: Draws,
    now_ms: u64,
    _folder: tempfile::TempDir,
}

fn work(desk: Desk) -> Harness<'static, Work> {
    harness((800.0, 480.0), Work { desk, face: Face::new() }, |ui, work| work.show(ui))
}

impl Bench {
    fn new(seed: u64, thing: Thing) -> Self {
        let (plan, stage) = match &thing {
            Thing::Post(_) => (PLAN.to_owned(), "jig empty"),
            Thing::Wing(_) => (plan(), "ribs on"),
        };
        let folder = tempfile::tempdir().unwrap();
        let desk = with_level(folder.path(), &plan, stage, LEVEL);
        let draws = Draws::new(seed + 1000);
        let mut bench = Self { w: work(desk), thing, draws, now_ms: 0, _folder: folder };
        bench.w.run_steps(3);
        bench
    }

    fn goes(&mut self, screen: Screen) {
        self.w.state_mut().face.go(screen);
        self.looks();
    }

    fn sample(&mut self) {
        self.now_ms += EVERY_MS;
        let (now_ms, x) = (self.now_ms, self.thing.shown());
        let desk = &mut self.w.state_mut().desk;
        desk.play_at(now_ms, At::from_millis(1_900_000_000_000 + i64::try_from(now_ms).unwrap()));
        let value = Decimal { mantissa: (x * 100.0).round() as i64, exponent: -2 };
        let sample = Sample::bare(Axis::Angle, value, Unit::Degree);
        desk.play_event(&PortEvent { at_ms: now_ms, what: Came::Sample(sample) });
    }

    /// Looks at the window.
    fn looks(&mut self) {
        self.w.state_mut().desk.keep_up();
        self.w.run_steps(3);
    }

    /// Holds still until the value has settled.
    fn holds(&mut self) {
        for n in 0..400 {
            self.sample();
            let live = self.w.state().desk.bench_view().live;
            if n > 40 && matches!(live, Live::Settled { .. } | Live::Taken { .. }) {
                return self.looks();
            }
        }
        panic!("never at rest: {}", self.said());
    }

    /// Lays the level as the window says it lies.
    fn lays_the_level(&mut self) {
        let aft = self.says("facing aft") || self.says("facing inboard");
        let facing = if aft { Facing::Aft } else { Facing::Forward };
        let on = match self.thing {
            Thing::Post(_) => usize::from(self.says("along the span")),
            Thing::Wing(_) => {
                let label =
                    self.labels().into_iter().find_map(|l| l.strip_prefix("level on S").map(str::to_owned));
                label.map_or(0, |number| number.parse::<usize>().unwrap() - 1)
            }
        };
        if self.thing.lies() != (facing, on) {
            self.thing.carry(true);
            (0..20).for_each(|_| self.sample());
            self.thing.carry(false);
            self.thing.lay((facing, on));
        }
        self.holds();
    }

    fn labels(&self) -> Vec<String> {
        let all = self.w.root().children_recursive();
        all.filter_map(|n| n.accesskit_node().value().or_else(|| n.accesskit_node().label())).collect()
    }

    fn said(&self) -> String {
        self.labels().join("\n")
    }

    fn says(&self, words: &str) -> bool {
        self.labels().iter().any(|label| label.contains(words))
    }

    fn is_on(&self, name: &str) -> bool {
        let on = |n: egui_kittest::Node<'_>| {
            let at = n.accesskit_node();
            at.role() == egui::accesskit::Role::Button
                && at.label().as_deref() == Some(name)
                && !at.is_disabled()
        };
        self.w.root().children_recursive().any(on)
    }

    fn taps(&mut self, name: &str) {
        assert!(self.is_on(name), "`{name}` is not there or off:\n{}", self.said());
        self.w.get_by_role_and_label(egui::accesskit::Role::Button, name).click();
        self.w.run_steps(5);
        self.looks();
    }

    /// The screw to turn and its turns, clockwise positive, as the two lines say.
    fn told(&self) -> Option<(usize, f64)> {
        let labels = self.labels();
        let foot = labels.iter().find_map(|label| {
            let name = label.strip_prefix("Raise the ").or_else(|| label.strip_prefix("Lower the "))?;
            self.thing.screws().iter().position(|screw| screw.ends_with(name))
        })?;
        let turns = labels.iter().find_map(|label| turns(label))?;
        Some((foot, turns))
    }

    /// The measured moves of the log.
    fn moves(&self) -> Vec<record::Move> {
        let entries = &self.w.state().desk.model().wing.as_ref().unwrap().entries;
        let moved = |what: &What| match what {
            What::Move(moved) if moved.u().is_some() => Some(moved.clone()),
            _ => None,
        };
        entries.iter().filter_map(|entry| moved(&entry.what)).collect()
    }

    /// Takes the value: a post far off level is questioned, and the value is confirmed.
    fn takes(&mut self) {
        self.taps("Take");
        if self.is_on("Yes: record it") {
            self.taps("Yes: record it");
        }
    }

    /// A move as told, made roughly; returns how far the record is off, in standard uncertainties.
    fn a_move(&mut self, foot: usize, turns: f64) -> Option<f64> {
        let written = self.moves().len();
        self.taps("Start a move");
        let near = self.thing.near(foot);
        let did = hand(&mut self.draws, foot, turns, &near);
        let mut mm = 0.0;
        for _ in 0..40 {
            mm += did.map_or(0.0, |did| self.thing.turn(did.foot, did.turns / 40.0));
            self.sample();
        }
        self.holds();
        let turned = self.thing.screws()[did.map_or(foot, |did| did.foot)];
        for _ in 0..4 {
            let name = self
                .labels()
                .into_iter()
                .find(|label| label.starts_with(&format!("{} ", turned)) && label.ends_with(" mm"));
            if self.says("Which screw was it?") {
                self.taps(&name.unwrap_or_else(|| "None of these".to_owned()));
            } else if self.is_on("Record the move") {
                // The line above the button says which foot.
                let right =
                    self.says(&format!("{} raised", turned)) || self.says(&format!("{} lowered", turned));
                self.taps(if right { "Record the move" } else { "Another screw" });
            } else if self.is_on("Nothing was turned") {
                self.taps("Nothing was turned");
            } else {
                break;
            }
        }
        match self.moves().get(written) {
            Some(recorded) => {
                assert_eq!(recorded.support, turned, "{}", self.said());
                Some((recorded.amount.value() - mm) / recorded.u().unwrap().value())
            }
            None => {
                assert!(mm.abs() < 0.5, "{} by {mm} is not in the log:\n{}", turned, self.said());
                None
            }
        }
    }
}

/// `2¼ turns anticlockwise`.
fn turns(label: &str) -> Option<f64> {
    let (amount, rest) = label.split_once(' ')?;
    let sign = match rest {
        "turn clockwise" | "turns clockwise" => 1.0,
        "turn anticlockwise" | "turns anticlockwise" => -1.0,
        _ => return None,
    };
    let eighths = "⅛¼⅜½⅝¾⅞";
    let part = amount.chars().filter_map(|c| eighths.chars().position(|e| e == c)).sum::<usize>();
    let part = if amount.contains(|c| eighths.contains(c)) { (part + 1) as f64 / 8.0 } else { 0.0 };
    let whole: String = amount.chars().filter(char::is_ascii_digit).collect();
    Some(sign * (whole.parse::<f64>().unwrap_or(0.0) + part))
}

fn a_post_trued(seed: u64) -> (usize, Vec<f64>) {
    let mut bench = Bench::new(seed, Thing::Post(Jig::leaning(seed)));
    bench.goes(Screen::Level);
    let (mut off, mut level) = (Vec::new(), 0);
    for _ in 0..90 {
        bench.lays_the_level();
        if bench.says("Level enough: leave it") {
            level += 1;
            if level == 2 {
                let Thing::Post(jig) = &bench.thing else { break };
                let (along, across) = jig.tilts();
                assert!(across.abs() < 0.05 && along.abs() < 0.05, "{seed}: {along} {across}");
                return (bench.moves().len(), off);
            }
            bench.taps("Next tilt");
            continue;
        }
        level = 0;
        if bench.says("Take it both ways first") || bench.says("Turn it end for end") {
            bench.takes();
            continue;
        }
        let (foot, turns) = bench.told().unwrap_or_else(|| panic!("{seed}: what to do?\n{}", bench.said()));
        if bench.says("count the turns") {
            bench.counts(foot, turns);
        } else {
            off.extend(bench.a_move(foot, turns));
        }
    }
    panic!("{seed}: not level after ninety looks:\n{}", bench.said());
}

impl Bench {
    /// Turns a screw that the level does not show, and types what was turned.
    fn counts(&mut self, foot: usize, turns: f64) {
        self.thing.turn(foot, turns);
        let way = if turns > 0.0 { "clockwise" } else { "anticlockwise" };
        let text = format!("{}/8 turn {way}", (turns.abs() * 8.0).round());
        let support = FEET[foot].to_owned();
        self.w.state_mut().desk.act(window::Action::Move { support, text, sure: bench::Sure::Unsaid });
        self.looks();
    }

    /// Walks along the wing and types what is shown, in both facings.
    fn walks(&mut self) {
        for n in 0..STATIONS.len() {
            for facing in [Facing::Forward, Facing::Aft] {
                let Thing::Wing(wing) = &mut self.thing else { return };
                let text = format!("{:.2}", wing.seated(n, facing));
                let desk = &mut self.w.state_mut().desk;
                desk.act(window::Action::Take {
                    point: format!("incidence@S{}", n + 1).parse().unwrap(),
                    text,
                    facing: Some(facing),
                    instrument: Some("tilt board".to_owned()),
                    temperature: None,
                    new_round: false,
                    sure: bench::Sure::Unsaid,
                });
                // A wing far out of true is questioned, and the value is confirmed.
                if let Some(asks) = desk.model().asks.clone() {
                    desk.act(asks.again);
                }
            }
        }
        self.looks();
    }
}

/// Rounds of moves until the window says to leave it alone.
fn a_wing_trued(seed: u64) -> (usize, Vec<f64>) {
    let mut bench = Bench::new(seed, Thing::Wing(Wing::bent(seed)));
    let mut off = Vec::new();
    let mut rounds = 0;
    for _ in 0..6 {
        bench.walks();
        bench.goes(Screen::Moves);
        if bench.says("Leave it alone") {
            let Thing::Wing(wing) = &bench.thing else { break };
            assert!(wing.worst() < 1.0, "{seed}: {}", wing.worst());
            return (rounds, off);
        }
        if !bench.is_on("Turn with the level") {
            continue;
        }
        bench.taps("Turn with the level");
        for _ in 0..24 {
            if bench.says("Nothing left to turn") {
                break;
            }
            bench.lays_the_level();
            let (screw, turns) =
                bench.told().unwrap_or_else(|| panic!("{seed}: what to do?\n{}", bench.said()));
            off.extend(bench.a_move(screw, turns));
        }
        rounds += 1;
        bench.taps("Measure");
    }
    panic!("{seed}: not true after six rounds:\n{}", bench.said());
}

/// No more than one in twenty is off by more than twice its standard uncertainty, with room for chance; none is off
/// by far.
fn all_within(off: &[f64]) {
    let inside = off.iter().filter(|z| z.abs() <= 1.96).count();
    let worst = off.iter().fold(0.0_f64, |most, z| most.max(z.abs()));
    println!("{inside} of {} moves inside their ±, worst {worst:.2} u", off.len());
    assert!(inside + 1 + off.len() / 14 >= off.len() && worst < 4.0, "{off:?}");
}

#[test]
fn a_post_is_trued_by_doing_what_the_window_says() {
    let trued: Vec<(usize, Vec<f64>)> = (1..=4).map(a_post_trued).collect();
    println!("moves {:?}", trued.iter().map(|it| it.0).collect::<Vec<_>>());
    all_within(&trued.into_iter().flat_map(|it| it.1).collect::<Vec<f64>>());
}

#[test]
fn a_soft_wing_is_trued_by_doing_what_the_window_says() {
    let trued: Vec<(usize, Vec<f64>)> = (31..=33).map(a_wing_trued).collect();
    let rounds: Vec<usize> = trued.iter().map(|it| it.0).collect();
    println!("rounds of moves {rounds:?}");
    assert!(rounds.iter().all(|rounds| *rounds <= 2), "{rounds:?}");
    all_within(&trued.into_iter().flat_map(|it| it.1).collect::<Vec<f64>>());
}
