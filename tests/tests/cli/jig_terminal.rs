//! Simulated jigs trued through the real program, by a person who does only what it says and whose hand turns 0.6 to
//! 1.3 of that, sometimes the wrong screw, sometimes none.
#![cfg(unix)]

use crate::jig::port::Port;
use crate::jig::script::{Made, carried, moves, off, pressed, told};
use crate::jig::terminal::{On, Terminal};
use crate::program::Bench;
use journal::Journal;
use record::{Facing, What};
use std::fmt::Write as _;
use std::sync::{Arc, Mutex};
use std::thread::ScopedJoinHandle;
use stories::jig::LEVEL;
use stories::jig::post::{FEET, Jig, PLAN};
use stories::jig::wing::{SCREWS, STATIONS, Wing, plan};
use stories::seeded::Draws;

const LISTEN: [&str; 6] = ["listen", "wing.jigtrue", "--port", "port", "--instrument", "level.toml"];

fn bench(plan: &str, stage: &str) -> Bench {
    let bench = Bench::with_plan(plan);
    bench.run(&["stage", "wing.jigtrue", stage]).expect(0);
    bench.write("level.toml", LEVEL);
    bench
}

/// The measured moves of the log.
fn recorded(bench: &Bench) -> Vec<record::Move> {
    let journal = Journal::open_read_only(&bench.path("wing.jigtrue")).unwrap();
    let moved = |what| match what {
        What::Move(moved) if moved.u().is_some() => Some(moved),
        _ => None,
    };
    journal.entries().filter_map(|entry| moved(entry.unwrap().what)).collect()
}

/// No more than one in twenty is off by more than twice its standard uncertainty, with room for chance; none is off
/// by far.
fn all_within(off: &[f64]) {
    let inside = off.iter().filter(|z| z.abs() <= 1.96).count();
    let worst = off.iter().fold(0.0_f64, |most, z| most.max(z.abs()));
    println!("{inside} of {} moves inside their ±, worst {worst:.2} u", off.len());
    assert!(inside + 1 + off.len() / 14 >= off.len() && worst < 4.0, "{off:?}");
}

/// The result of a story on a thread of its own; if it failed, this one fails with the same words.
fn joined<T>(run: ScopedJoinHandle<'_, T>) -> T {
    run.join().unwrap_or_else(|why| std::panic::resume_unwind(why))
}

/// A foot that the level does not show in its present position: its turns are counted and typed.
fn counted(bench: &Bench, jig: &Mutex<Jig>, text: &str) {
    let before = text.rsplit_once("; this axis").unwrap().0;
    let at = FEET.iter().filter_map(|foot| before.rfind(foot)).max().unwrap();
    let (foot, turns) = told(&format!("Enter: start. {}", &before[at..]), &FEET.map(str::to_owned));
    jig.lock().unwrap().turn(foot, turns);
    let way = if turns > 0.0 { "cw" } else { "ccw" };
    let amount = format!("{}/8 turn {way}", (turns.abs() * 8.0).round());
    bench.run(&["move", "wing.jigtrue", FEET[foot], &amount]).expect(0);
}

fn a_post_is_trued(seed: u64, on: On, two: bool) -> Vec<f64> {
    let bench = bench(PLAN, "jig empty");
    let jig = Arc::new(Mutex::new(Jig::leaning(seed)));
    if !two {
        jig.lock().unwrap().may_be = vec![0, 1];
    }
    let seen = Arc::clone(&jig);
    let port = Port::plug_in(&bench.path("port"), move || seen.lock().unwrap().shown());
    let mut args = LISTEN.to_vec();
    args.extend(["--level", "tip-post"]);
    if two {
        args.extend(["--second", "grows"]);
    }
    let mut terminal = Terminal::start(&bench, on, &args);
    let (mut draws, mut made): (_, Vec<Made>) = (Draws::new(seed + 1000), Vec::new());
    let about = |carried| jig.lock().unwrap().carried_about = carried;
    let take = |terminal: &mut Terminal| {
        loop {
            match pressed(terminal, "t", &["taken ", "! takes it", "has not moved"]) {
                0 => return,
                // A post far off level is questioned, and the value is confirmed.
                1 => return assert!(terminal.says("!").contains("taken "), "{}", terminal.since()),
                _ => carried(terminal, &port, about, || ()),
            }
        }
    };
    let turn = |terminal: &mut Terminal| {
        terminal.says("f");
        carried(terminal, &port, about, || {
            let mut jig = jig.lock().unwrap();
            jig.facing = jig.facing.turned();
        });
    };
    for _ in 0..40 {
        let says = [
            "Enter: start. ",
            "take it both ways first",
            "level enough: leave it",
            "this axis does not show it",
        ];
        let (which, text) = terminal.sees(&says);
        match which {
            0 => {
                let told = told(&text, &FEET.map(str::to_owned));
                made.extend(moves(&jig, &port, &mut draws, &mut terminal, told));
            }
            1 => {
                take(&mut terminal);
                turn(&mut terminal);
                terminal.sees(&["at rest"]);
                take(&mut terminal);
                turn(&mut terminal);
            }
            3 => {
                terminal.read_on();
                counted(&bench, &jig, &text);
            }
            _ => {
                let (along, across) = jig.lock().unwrap().tilts();
                assert!(across.abs() < 0.05 && (!two || along.abs() < 0.05), "{seed}: {along} {across}");
                terminal.types("q");
                assert_eq!(terminal.ends(), 0);
                println!("{on:?}, two axes {two}: {} moves", made.len());
                return off(&made, &recorded(&bench));
            }
        }
    }
    panic!("{seed}: not level after forty answers: {made:?}");
}

#[test]
fn a_post_is_trued_by_doing_what_the_program_says() {
    let off: Vec<f64> = std::thread::scope(|all| {
        let runs = [(1, On::Tty, false), (2, On::Pipe, true), (3, On::Tty, true), (4, On::Pipe, false)];
        let runs = runs.map(|(seed, on, two)| all.spawn(move || a_post_is_trued(seed, on, two)));
        runs.into_iter().flat_map(joined).collect()
    });
    all_within(&off);
}

/// A walk along the wing in both facings, entered as a table.
fn walk(bench: &Bench, wing: &Mutex<Wing>) {
    let mut table = String::from("point,facing,value_deg,instrument\n");
    for (n, _) in STATIONS.iter().enumerate() {
        for facing in [Facing::Forward, Facing::Aft] {
            let value = wing.lock().unwrap().seated(n, facing);
            writeln!(table, "incidence@S{},{},{value:.2},tilt board", n + 1, facing.word()).unwrap();
        }
    }
    bench.write("walk.csv", table);
    bench.line("import wing.jigtrue walk.csv").expect(0);
}

/// Rounds of moves until nothing is left to turn, and how far off each record is.
fn a_wing_is_trued(seed: u64, on: On) -> (usize, Vec<f64>) {
    let bench = bench(&plan(), "ribs on");
    bench.line("instrument add wing.jigtrue level.toml").expect(0);
    let wing = Arc::new(Mutex::new(Wing::bent(seed)));
    let seen = Arc::clone(&wing);
    let port = Port::plug_in(&bench.path("port"), move || seen.lock().unwrap().shown());
    let (mut draws, mut made) = (Draws::new(seed + 1000), Vec::new());
    let mut rounds = 0;
    for round in 0..6 {
        walk(&bench, &wing);
        let advice = bench.line("advise wing.jigtrue --json");
        println!(
            "{seed}, round {round}: at {:.2} of the limits, {}",
            wing.lock().unwrap().worst(),
            advice.json()["words"]
        );
        match advice.code {
            0 => {
                assert!(wing.lock().unwrap().worst() < 1.0);
                return (rounds, off(&made, &recorded(&bench)));
            }
            10 => {
                a_round(&bench, &wing, &port, on, &mut draws, &mut made);
                rounds += 1;
            }
            _ => {}
        }
    }
    panic!("{seed}: not true after six rounds");
}

/// One round of moves, with the level where the program wants it.
fn a_round(
    bench: &Bench,
    wing: &Arc<Mutex<Wing>>,
    port: &Port,
    on: On,
    draws: &mut Draws,
    made: &mut Vec<Made>,
) {
    let mut args = LISTEN.to_vec();
    args.push("--moves");
    let mut terminal = Terminal::start(bench, on, &args);
    let about = |carried| wing.lock().unwrap().carried_about = carried;
    let lay = |terminal: &mut Terminal, text: &str| {
        let station = text.rsplit("evel on S").next().unwrap();
        let number: usize = station.split(|c: char| !c.is_ascii_digit()).next().unwrap().parse().unwrap();
        if wing.lock().unwrap().on != number - 1 {
            carried(terminal, port, about, || wing.lock().unwrap().on = number - 1);
        }
    };
    let (_, text) = terminal.sees(&["level on S"]);
    lay(&mut terminal, &text);
    for _ in 0..24 {
        let (which, text) =
            terminal.sees(&["that was the last move", "no support needs turning", "Enter: start. "]);
        if which < 2 {
            assert_eq!(terminal.ends(), 0);
            return;
        }
        made.extend(moves(wing, port, draws, &mut terminal, told(&text, &SCREWS.map(str::to_owned))));
        let said = terminal.since();
        if said.contains("lay the level on S") {
            lay(&mut terminal, &said);
        }
    }
    panic!("the moves do not end: {made:?}");
}

#[test]
fn a_soft_wing_is_trued_in_no_more_rounds_than_needed() {
    let trued: Vec<(usize, Vec<f64>)> = std::thread::scope(|all| {
        let runs = [(11, On::Pipe), (12, On::Tty), (13, On::Pipe)];
        let runs = runs.map(|(seed, on)| all.spawn(move || a_wing_is_trued(seed, on)));
        runs.into_iter().map(joined).collect()
    });
    let rounds: Vec<usize> = trued.iter().map(|it| it.0).collect();
    println!("rounds of moves: {rounds:?}");
    assert!(rounds.iter().all(|rounds| *rounds <= 2), "{rounds:?}");
    all_within(&trued.into_iter().flat_map(|it| it.1).collect::<Vec<f64>>());
}
