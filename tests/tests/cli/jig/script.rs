//! A person who does only what the program says, with a hand that does roughly what it is told.

use super::port::{A_SECOND, Port, slowly};
use super::terminal::Terminal;
use crate::listening::PATIENCE;
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};
use stories::jig::post::{FEET, Jig};
use stories::jig::wing::{SCREWS, Wing};
use stories::jig::{Did, hand};
use stories::seeded::Draws;

/// What the person has at hand: screws to turn and a level to look at.
pub trait AtHand {
    /// Names of the screws.
    fn screws(&self) -> Vec<String>;
    /// The screws that a hand may turn by mistake when it is told this one.
    fn near(&self, told: usize) -> Vec<usize>;
    /// Turns a screw a little, clockwise positive; returns how far its support moved, in mm.
    fn turn(&mut self, screw: usize, turns: f64) -> f64;
}

impl AtHand for Jig {
    fn screws(&self) -> Vec<String> {
        FEET.map(str::to_owned).into()
    }

    fn near(&self, _told: usize) -> Vec<usize> {
        self.may_be.clone()
    }

    fn turn(&mut self, screw: usize, turns: f64) -> f64 {
        Self::turn(self, screw, turns)
    }
}

impl AtHand for Wing {
    fn screws(&self) -> Vec<String> {
        SCREWS.map(str::to_owned).into()
    }

    /// The other screw of the same post.
    fn near(&self, told: usize) -> Vec<usize> {
        vec![told, told ^ 1]
    }

    fn turn(&mut self, screw: usize, turns: f64) -> f64 {
        Self::turn(self, screw, turns)
    }
}

/// One real move: the screw, how far in mm, and whether the program has it in the log.
#[derive(Clone, Debug)]
pub struct Made {
    pub screw: String,
    pub mm: f64,
    pub recorded: bool,
}

/// What is told after `Enter: start. `: the screw and its turns, clockwise positive.
pub fn told(text: &str, screws: &[String]) -> (usize, f64) {
    let after = text.rsplit("Enter: start. ").next().unwrap();
    let (name, rest) = after.split_once(": ").unwrap_or_else(|| panic!("no screw in `{after}`"));
    let screw =
        screws.iter().position(|screw| screw == name).unwrap_or_else(|| panic!("which screw: `{after}`"));
    let words: Vec<&str> = rest.split([' ', ',']).collect();
    let turns: f64 = words.iter().map_while(|word| number(word)).sum();
    let way = words.iter().find_map(|word| match *word {
        "clockwise" => Some(1.0),
        "anticlockwise" => Some(-1.0),
        _ => None,
    });
    (screw, turns * way.unwrap_or_else(|| panic!("which way: `{after}`")))
}

/// `2`, `3/8`.
fn number(word: &str) -> Option<f64> {
    match word.split_once('/') {
        Some((above, below)) => Some(above.parse::<f64>().ok()? / below.parse::<f64>().ok()?),
        None => word.parse().ok(),
    }
}

/// What it may say by then instead of the turn that it told: a longer rest has another mean.
const NOTHING_TO_TURN: [&str; 5] = [
    "level enough: leave it",
    "take it both ways first",
    "this axis does not show it",
    "that was the last move",
    "no support needs turning",
];
/// The port was lost during a move, or the level was held up for so long that it looked so.
pub const TOUCHED: &str = "Was the level touched meanwhile?";
/// How long it takes, in samples, to be sure of a rest, or of no rest.
const A_REST: u64 = 5 * A_SECOND;

/// Presses Enter at the start, turns, holds still, and answers the questions as somebody who knows which screw it
/// was. `None` if no screw was turned, also because there was nothing to turn any more.
pub fn moves(
    at: &Arc<Mutex<impl AtHand + Send + 'static>>,
    port: &Port,
    draws: &mut Draws,
    terminal: &mut Terminal,
    told: (usize, f64),
) -> Option<Made> {
    let (screw, turns) = told;
    let (screws, near) = {
        let it = at.lock().unwrap();
        (it.screws(), it.near(screw))
    };
    pressed(terminal, "", &[&["; turn"], &NOTHING_TO_TURN[..]].concat());
    if !terminal.since().contains("; turn") {
        return None;
    }
    let did = hand(draws, screw, turns, &near);
    let mm = did.map_or(0.0, |did| turned(at, port, did));
    let made = |recorded| did.map(|did| Made { screw: screws[did.foot].clone(), mm, recorded });
    let its = |place: &usize, list: &str| {
        did.is_some_and(|did| list.contains(&format!("{place} {}", screws[did.foot])))
    };
    let ended = |terminal: &mut Terminal| match asked(terminal, port) {
        // Nothing was turned, or too little to be seen: Enter says so, and nothing is written.
        Asked::Nothing => Some(false),
        Asked::Record => {
            let text = terminal.since();
            let before = text.rsplit_once("Record it?").unwrap().0.to_lowercase();
            let last = screws.iter().filter_map(|name| Some((before.rfind(name.as_str())?, name))).max();
            let right = did.is_some_and(|did| *last.unwrap().1 == screws[did.foot]);
            terminal.goes_on(if right { "" } else { "o" });
            terminal.has_said(&["move recorded"]).map(|_| true)
        }
        Asked::Which => {
            let list = terminal.since().rsplit("Which screw was turned?").next().unwrap().to_lowercase();
            let place = (1..=screws.len()).find(|place| its(place, &list));
            terminal.goes_on(&place.map_or("n".to_owned(), |place| place.to_string()));
            terminal.has_said(&["the start is dropped", "move recorded"]).map(|which| which == 1)
        }
    };
    let recorded = (0..10).find_map(|_| ended(terminal));
    let recorded = recorded.unwrap_or_else(|| panic!("the move does not end: {}", terminal.since()));
    terminal.reads_from(&["Nothing moved", "the start is dropped", "move recorded"]);
    made(recorded)
}

/// Turns a screw slowly; returns how far its support moved, in mm.
pub fn turned(at: &Arc<Mutex<impl AtHand + Send + 'static>>, port: &Port, did: Did) -> f64 {
    let mm = Arc::new(Mutex::new(0.0));
    let sum = Arc::clone(&mm);
    port.plays(slowly(at, move |it| *sum.lock().unwrap() += it.turn(did.foot, did.turns / 25.0)));
    *mm.lock().unwrap()
}

/// What a move ends with.
#[derive(Clone, Copy)]
enum Asked {
    Record,
    Which,
    Nothing,
}

/// Waits for the question that ends a move. If none has come after the level has shown the rest for long enough,
/// Enter ends it.
fn asked(terminal: &mut Terminal, port: &Port) -> Asked {
    let said = ["Record it?", "n none", "Nothing moved", TOUCHED, "the start is kept"];
    let mut rested = port.sent() + A_REST;
    loop {
        match terminal.has_said(&said) {
            Some(which @ 0..=1) => {
                // The rest of the text may be on its way.
                terminal.is_up_to_date();
                return if which == 0 { Asked::Record } else { Asked::Which };
            }
            Some(2) => return Asked::Nothing,
            Some(3) => {
                terminal.goes_on("n");
                rested = port.sent() + A_REST;
            }
            _ if port.sent() < rested => terminal.listens(),
            _ => {
                terminal.is_up_to_date();
                if matches!(terminal.has_said(&said), None | Some(4)) {
                    terminal.goes_on("");
                    rested = port.sent() + A_SECOND;
                }
            }
        }
    }
}

/// Types this until the program no longer says that the value has not settled; returns which of `any` it says.
pub fn pressed(terminal: &mut Terminal, line: &str, any: &[&str]) -> usize {
    let all: Vec<&str> = any.iter().chain(&["has not settled"]).copied().collect();
    let began = Instant::now();
    while began.elapsed() < PATIENCE {
        terminal.types(line);
        let which = terminal.sees(&all).0;
        if which < any.len() {
            return which;
        }
        std::thread::sleep(Duration::from_millis(300));
    }
    panic!("it never settles: {}", terminal.since());
}

/// Waits for one of these, and meanwhile answers that the level was not touched; returns which it says.
pub fn sees_untouched(terminal: &mut Terminal, any: &[&str]) -> usize {
    let all: Vec<&str> = any.iter().chain(&[TOUCHED]).copied().collect();
    loop {
        let which = terminal.sees(&all).0;
        if which < any.len() {
            return which;
        }
        assert!(terminal.says("n").contains("the start is kept"), "{}", terminal.since());
    }
}

/// Carries the level until the program has seen it move and its rest has ended, does something to it, and lays it
/// down.
pub fn carried(terminal: &mut Terminal, port: &Port, about: impl Fn(bool), lay: impl FnOnce()) {
    terminal.read_on();
    about(true);
    terminal.sees(&["moving"]);
    port.sends(A_SECOND);
    terminal.is_up_to_date();
    terminal.read_on();
    lay();
    about(false);
}

/// Every recorded move is within its uncertainty of what the screw did; returns how far off, in standard
/// uncertainties.
pub fn off(made: &[Made], log: &[record::Move]) -> Vec<f64> {
    let recorded: Vec<&Made> = made.iter().filter(|it| it.recorded).collect();
    assert_eq!(recorded.len(), log.len(), "{made:?} {log:?}");
    let z = |(it, entry): (&&Made, &record::Move)| {
        assert_eq!(it.screw, entry.support, "{made:?} {log:?}");
        (entry.amount.value() - it.mm) / entry.u().unwrap().value()
    };
    recorded.iter().zip(log).map(z).collect()
}
