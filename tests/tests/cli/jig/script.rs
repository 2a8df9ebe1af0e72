//! A person who does only what the program says, with a hand that does roughly what it is told.

use super::terminal::Terminal;
use instrument::sim::Draws;
use std::time::Duration;
use stories::jig::post::{FEET, Jig};
use stories::jig::wing::{SCREWS, Wing};
use stories::jig::{Did, hand};

/// What the person has before them: screws to turn and a level to look at.
pub trait AtHand {
    /// Names of the screws.
    fn screws(&self) -> Vec<String>;
    /// Those that a hand may get hold of when it is told this one.
    fn near(&self, told: usize) -> Vec<usize>;
    /// Turns a screw a little, clockwise positive; how far what it carries moved, in mm.
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

/// One move as it was: the screw, how far in mm, and whether the program has it in the log.
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

/// Presses Enter at the start, turns, holds still, and answers what is asked as one who knows which screw it was.
pub fn moves(
    at: &std::sync::Mutex<impl AtHand>,
    draws: &mut Draws,
    terminal: &mut Terminal,
    told: (usize, f64),
) -> Option<Made> {
    let (screw, turns) = told;
    let (screws, near) = {
        let it = at.lock().unwrap();
        (it.screws(), it.near(screw))
    };
    pressed(terminal, "", &["; turn"]);
    let Some(Did { foot, turns }) = hand(draws, screw, turns, &near) else {
        return nothing(terminal);
    };
    let mut mm = 0.0;
    for _ in 0..25 {
        mm += at.lock().unwrap().turn(foot, turns / 25.0);
        std::thread::sleep(Duration::from_millis(20));
    }
    let made = |recorded| Some(Made { screw: screws[foot].clone(), mm, recorded });
    let asked = ["Record it?", "Which screw was turned?"];
    let said = [asked[0], asked[1], "Nothing moved"];
    let which = match terminal.sees_within(&asked, Duration::from_secs(5)) {
        Some((which, _)) => which,
        None => pressed(terminal, "", &said),
    };
    let text = terminal.since();
    if which == 2 {
        return made(false);
    }
    if which == 0 {
        let before = text.rsplit_once("Record it?").unwrap().0.to_lowercase();
        let last = screws.iter().filter_map(|name| Some((before.rfind(name.as_str())?, name))).max().unwrap();
        if *last.1 == screws[foot] {
            terminal.types("");
            terminal.sees(&["move recorded"]);
            return made(true);
        }
        terminal.types("o");
    }
    let (_, text) = terminal.sees(&["n none"]);
    let list = text.rsplit("Which screw was turned?").next().unwrap().to_lowercase();
    let place = (1..=screws.len()).find(|at| list.contains(&format!("{at} {}", screws[foot])));
    match place {
        Some(number) => {
            terminal.types(&number.to_string());
            terminal.sees(&["move recorded"]);
            made(true)
        }
        None => {
            terminal.types("n");
            terminal.sees(&["the start is dropped"]);
            made(false)
        }
    }
}

/// Nothing was turned, or too little to be seen: Enter says so, and nothing is written.
fn nothing(terminal: &mut Terminal) -> Option<Made> {
    std::thread::sleep(Duration::from_millis(700));
    pressed(terminal, "", &["Nothing moved"]);
    None
}

/// Types this until the program does not say that the value has not settled: which of `any` it says.
pub fn pressed(terminal: &mut Terminal, line: &str, any: &[&str]) -> usize {
    let all: Vec<&str> = any.iter().chain(&["has not settled"]).copied().collect();
    for _ in 0..40 {
        terminal.types(line);
        let which = terminal.sees(&all).0;
        if which < any.len() {
            return which;
        }
        std::thread::sleep(Duration::from_millis(500));
    }
    panic!("it never settles: {}", terminal.since());
}

/// Every recorded move is within its uncertainty of what the screw did: how far off in standard uncertainties.
pub fn off(made: &[Made], log: &[record::Move]) -> Vec<f64> {
    let recorded: Vec<&Made> = made.iter().filter(|it| it.recorded).collect();
    assert_eq!(recorded.len(), log.len(), "{made:?} {log:?}");
    let z = |(it, entry): (&&Made, &record::Move)| {
        assert_eq!(it.screw, entry.support, "{made:?} {log:?}");
        (entry.amount.value() - it.mm) / entry.u().unwrap().value()
    };
    recorded.iter().zip(log).map(z).collect()
}
