//! A post of a simulated jig is trued by a script that does only what the bench says.

use bench::{Answer, Arrow, Came, HandsFree, Key, Live, Main, PortEvent, Question, Seat, Second};
use instrument::{Axis, Decimal, Sample, Unit};
use record::What;
use session::Session;
use session::gauges::Connected;
use session::port::Driver;
use stories::jig::post::{FEET, Jig, PLAN};
use stories::jig::{LEVEL, hand};

const EVERY_MS: u64 = 50;

struct Bench {
    jig: Jig,
    session: Session,
    driver: Driver,
    now_ms: u64,
    said: Vec<String>,
    two: bool,
    folder: tempfile::TempDir,
}

impl Bench {
    fn new(seed: u64, two: bool) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let path = |name: &str| folder.path().join(name);
        std::fs::write(path("plan.toml"), PLAN).unwrap();
        std::fs::write(path("level.toml"), LEVEL).unwrap();
        let mut session = Session::create(&path("plan.toml"), &path("wing.jigtrue"), Some("tam")).unwrap();
        session.stage(&session::BeginStage::named("jig empty")).unwrap();
        let device = Connected::read(&path("level.toml")).unwrap();
        session.add_instrument(device.facts.clone()).unwrap();
        let driver = Driver::recording(&device);
        let mut bench =
            Self { jig: Jig::leaning(seed), session, driver, now_ms: 0, said: Vec::new(), two, folder };
        let second = if two { Second::Grows } else { Second::NotUsed };
        bench.key(Key::Seat(Seat { arrow: Arrow::ForeAndAft, second }));
        bench.key(Key::Level("tip-post".to_owned()));
        bench
    }

    /// Another run of the program with the same log, taking by itself.
    fn begins_again(&mut self, two: bool) {
        let level = self.folder.path().join("level.toml");
        self.driver = Driver::recording(&Connected::read(&level).unwrap());
        let second = if two { Second::Grows } else { Second::NotUsed };
        self.key(Key::Seat(Seat { arrow: Arrow::ForeAndAft, second }));
        self.key(Key::HandsFree(HandsFree::On));
    }

    fn key(&mut self, key: Key) {
        let said = self.driver.key(&mut self.session, key).unwrap();
        self.said.extend(said.iter().map(ToString::to_string));
    }

    fn sample(&mut self, shown: (f64, f64)) {
        self.now_ms += EVERY_MS;
        for (axis, value) in [(Axis::Angle, shown.0), (Axis::Cross, shown.1)] {
            if axis == Axis::Cross && !self.two {
                continue;
            }
            let value = Decimal { mantissa: (value * 100.0).round() as i64, exponent: -2 };
            let sample = Sample::bare(axis, value, Unit::Degree);
            let said = self
                .driver
                .event(&mut self.session, &PortEvent { at_ms: self.now_ms, what: Came::Sample(sample) })
                .unwrap();
            self.said.extend(said.iter().map(ToString::to_string));
        }
    }

    /// Holds still until the value shown has settled and the bench has decided.
    fn hold(&mut self) {
        for n in 0..400 {
            let shown = self.jig.shown();
            self.sample(shown);
            let live = self.driver.view(&self.session).live;
            if n > 24 && matches!(live, Live::Settled { .. } | Live::Taken { .. }) {
                return;
            }
        }
        panic!("never at rest: {:?}", self.driver.view(&self.session));
    }

    /// Takes the value; one far off level is questioned, and the value is confirmed.
    fn take(&mut self) {
        self.key(Key::Take);
        if matches!(self.driver.view(&self.session).question, Some(Question::Implausible { .. })) {
            self.key(Key::TakeAnyway);
        }
    }

    /// Turns the level end for end: it is lifted and shaken on the way.
    fn turn_level(&mut self) {
        self.key(Key::Turn);
        // What it shows before it is turned belongs to the old facing: no advice comes from it.
        let shown = self.jig.shown();
        self.sample(shown);
        let level = self.driver.view(&self.session).level.unwrap();
        assert!(level.turn.is_none() && level.tilts.is_empty(), "{level:?}");
        for n in 0..20 {
            self.sample((30.0 - f64::from(n), 20.0 + f64::from(n)));
        }
        self.jig.facing = self.jig.facing.turned();
        self.hold();
    }

    fn moves(&self) -> Vec<record::Move> {
        let moved = |what: &What| if let What::Move(moved) = what { Some(moved.clone()) } else { None };
        self.session.entries().iter().filter_map(|entry| moved(&entry.what)).collect()
    }
}

/// Begun again over a level that lies as it was left, hands free takes nothing, whether it shows one tilt or two.
#[test]
fn a_level_left_where_it_lay_is_not_taken_by_another_run() {
    for two in [false, true] {
        let mut bench = Bench::new(1, two);
        bench.hold();
        bench.take();
        let read = |bench: &Bench| {
            bench.session.entries().iter().filter(|entry| matches!(entry.what, What::Reading(_))).count()
        };
        let before = read(&bench);
        assert_eq!(before, if two { 2 } else { 1 }, "{:?}", bench.said);
        bench.begins_again(two);
        bench.hold();
        assert_eq!(read(&bench), before, "{:?}", bench.said);
        assert!(bench.said.iter().any(|said| said.contains("It has not moved")), "{:?}", bench.said);
    }
}

/// One post trued; returns how many moves it took, and how far each recorded move is from what the screw did, in
/// standard uncertainties.
fn trued(seed: u64, two: bool) -> (usize, Vec<f64>) {
    let mut bench = Bench::new(seed, two);
    let may_be: &[usize] = if two { &[0, 1, 2] } else { &[0, 1] };
    let mut off = Vec::new();
    bench.hold();
    for turn in 0..60 {
        let view = bench.driver.view(&bench.session);
        assert!(view.question.is_none(), "{:?}", view.question);
        match view.main {
            Main::TakeBothWays => {
                bench.take();
                bench.turn_level();
                bench.take();
                bench.turn_level();
            }
            Main::Start => {
                let told = view.level.unwrap().turn.unwrap();
                let at = FEET.iter().position(|foot| *foot == told.foot).unwrap();
                bench.key(Key::Main);
                let written = bench.moves().len();
                let did = hand(&mut bench.jig.draws, at, told.turns.unwrap(), may_be);
                let mut moved = (at, 0.0);
                if let Some(did) = did {
                    moved.0 = did.foot;
                    for _ in 0..40 {
                        moved.1 += bench.jig.turn(did.foot, did.turns / 40.0);
                        let shown = bench.jig.shown();
                        bench.sample(shown);
                    }
                }
                bench.hold();
                answer(&mut bench, FEET[moved.0]);
                let moves = bench.moves();
                match moves.get(written) {
                    Some(recorded) => {
                        assert_eq!(recorded.support, FEET[moved.0], "{:?}", bench.said);
                        let u = recorded.u().unwrap().value();
                        off.push((recorded.amount.value() - moved.1) / u);
                    }
                    None => assert!(
                        moved.1.abs() < 0.3,
                        "{} by {} is not in the log: {:?}",
                        FEET[moved.0],
                        moved.1,
                        bench.said
                    ),
                }
            }
            // The level does not show this foot: its turns are counted and typed.
            Main::Count => {
                let told = view.level.unwrap().turn.unwrap();
                let at = FEET.iter().position(|foot| *foot == told.foot).unwrap();
                let turns = told.turns.unwrap();
                bench.jig.turn(at, turns);
                let way = if turns > 0.0 { "cw" } else { "ccw" };
                let amount = format!("{}/8 turn {way}", (turns.abs() * 8.0).round());
                bench.session.record_move(&session::TypedMove::new(&told.foot, &amount)).unwrap();
                bench.hold();
            }
            Main::Enough => {
                let (along, across) = bench.jig.tilts();
                assert!(across.abs() < 0.05, "{seed}: across {across} after {turn}");
                assert!(!two || along.abs() < 0.05, "{seed}: along {along} after {turn}");
                return (bench.moves().len(), off);
            }
            other => panic!("{seed}: {other:?} {:?}", bench.said),
        }
    }
    panic!("{seed}: not level after sixty moves: {:?} {:?}", bench.jig.tilts(), bench.said.last());
}

/// Answers as somebody who knows which screw was turned.
fn answer(bench: &mut Bench, foot: &str) {
    for _ in 0..4 {
        let view = bench.driver.view(&bench.session);
        match view.question {
            Some(Question::Record { measured, .. }) if measured.foot == foot => bench.key(Key::Main),
            Some(Question::Record { .. }) => bench.key(Key::Answer(Answer::Other(usize::MAX))),
            Some(Question::Which { candidates }) => {
                let of = candidates.iter().position(|it| it.foot == foot);
                bench.key(Key::Answer(of.map_or(Answer::No, Answer::Other)));
            }
            // Nothing was noticed: the main key says so and writes nothing.
            None if view.main == Main::Turning => bench.key(Key::Main),
            None => return,
            Some(other) => panic!("{other:?}"),
        }
    }
}

#[test]
fn a_post_is_trued_by_doing_what_the_bench_says() {
    for two in [false, true] {
        let (mut counts, mut off) = (Vec::new(), Vec::new());
        for seed in 1..=12 {
            let (moves, of_this) = trued(seed, two);
            counts.push(moves);
            off.extend(of_this);
        }
        let inside = off.iter().filter(|z| z.abs() <= 1.96).count();
        let worst = off.iter().fold(0.0_f64, |most, z| most.max(z.abs()));
        println!("two axes {two}: moves {counts:?}; {inside} of {} inside ±, worst {worst:.2} u", off.len());
        assert!(inside * 100 >= off.len() * 93 && worst < 4.0);
    }
}
