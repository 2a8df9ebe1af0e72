//! Instruments on pseudo-terminals: readings by hand and hands free, ports lost and found, drift, checks.
#![cfg(unix)]

use crate::board::Board;
use crate::listening::{Listening, entries, readings, taken};
use crate::program::Bench;
use instrument::{DialectSpec, InstrumentFile};
use record::{Source, What};
use rustix::process::Signal;
use std::time::Duration;

pub const LINES: &str = r#"speaks = "lines"
line = "X={angle deg .2},Y={cross deg .2}""#;
pub const OURS: &str = r#"speaks = "jigtrue""#;
pub const NMEA: &str = r#"speaks = "nmea"
names = { PITCH = "angle", ROLL = "cross" }"#;
pub const MODBUS: &str = r#"speaks = "modbus"
slave = 17
registers = "holding"
every_ms = 100
value = [{ axis = "angle", unit = "deg", address = 107, form = "i32", order = "low-first", scale = 0.01 }]"#;

/// An invented level that settles fast.
pub fn file(dialect: &str) -> String {
    format!(
        r#"
name = "port level"
kind = "inclinometer"
resolution = 0.01
accuracy = 0.05
repeatability = 0.02

[port]
baud = 9600

[dialect]
{dialect}

[axes]
measures = "angle"
positive = "arrow end up"

[settle]
hold_ms = 600
"#
    )
}

pub fn spec(dialect: &str) -> DialectSpec {
    InstrumentFile::read(&file(dialect)).unwrap().dialect
}

/// A log at its first stage, an instrument file, and the link for the port.
pub fn bench(dialect: &str) -> Bench {
    let bench = Bench::begun();
    bench.write("level.toml", file(dialect));
    bench
}

/// Every dialect works from end to end, each with a bench of its own at the same time.
#[test]
fn a_round_takes_itself_while_the_port_comes_and_goes() {
    std::thread::scope(|all| {
        for dialect in [LINES, NMEA, MODBUS, OURS] {
            all.spawn(move || round_with_a_lost_port(dialect));
        }
    });
}

fn round_with_a_lost_port(dialect: &str) {
    let bench = bench(dialect);
    let link = bench.path("port");
    // A zero of 0.10 in an instrument on a wing that is 0.05 off its design.
    let round = [
        ("incidence@S1", "forward", 2.15),
        ("incidence@S1", "aft", -1.95),
        // The level lies aft, so the next station is read that way first.
        ("incidence@S2", "aft", -0.95),
        ("incidence@S2", "forward", 1.15),
        ("incidence@S3", "forward", 0.15),
        ("incidence@S3", "aft", 0.05),
    ];
    let mut board = Board::plug_in(&link, spec(dialect), 2.15);
    let args = ["listen", "wing.jigtrue", "--port", "port", "--instrument", "level.toml", "--hands-free"];
    let mut program = Listening::start(&bench, &args);
    for (at, (point, facing, value)) in round.into_iter().enumerate() {
        let now = program.until("now ");
        assert!(now.contains(point) && now.contains(facing), "{now}");
        if at == 3 {
            // Unplugged at the spot just taken, and plugged in on the same spot: that is not a second reading.
            drop(board);
            program.until("lost ");
            board = Board::plug_in(&link, spec(dialect), -0.95);
            program.until("found ");
            std::thread::sleep(Duration::from_secs(2));
            assert_eq!(readings(&bench).len(), 3);
        }
        if at > 0 {
            board.carry_to(value);
        }
        let line = program.until("taken ");
        assert!(line.contains(point), "{line}");
    }
    let end = program.until("readings taken");
    assert!(end.contains("6 readings taken. Nothing more is wanted"), "{end}");
    program.ends();

    let wanted: Vec<_> =
        round.map(|(p, f, v): (&str, _, f64)| (p.to_owned(), f, (v * 100.0).round() as i64)).into();
    assert_eq!(taken(&bench), wanted);
    let readings = readings(&bench);
    assert!(readings.iter().all(|r| {
        r.source == Source::Port && !r.unsettled && r.instrument.as_deref() == Some("port level")
    }));
    assert!(readings.iter().all(|r| r.samples.is_some_and(|n| n >= 4) && r.round == readings[0].round));
    let known = |what: &What| matches!(what, What::Instrument(i) if i.name == "port level");
    assert_eq!(entries(&bench).iter().filter(|what| known(what)).count(), 1);
    bench.line("verify wing.jigtrue").expect(0);
}

#[test]
fn by_hand_nothing_is_taken_twice_or_unsettled_without_a_second_key() {
    let bench = bench(LINES);
    let board = Board::plug_in(&bench.path("port"), spec(LINES), 2.15);
    let args = ["listen", "wing.jigtrue", "--port", "port", "--instrument", "level.toml", "--temp", "21"];
    let mut program = Listening::start(&bench, &args);
    program.until("settled at +2.15 deg");
    program.types("");
    program.until("taken ");
    program.types("");
    program.until("It has not moved since the last reading");
    program.types("b the level stood on a rivet");
    program.until("is withdrawn");
    program.types("s incidence@S33");
    program.until("nearest is `incidence@S3`");
    program.types("s spot@bolt");
    program.until("which this instrument does not read");
    program.types("s incidence@S3");
    program.until("now     incidence@S3, facing forward");
    program.types("r");
    program.until("now     incidence@S3, facing aft");
    board.carry_to(0.05);
    program.until("settled at +0.05 deg");
    program.types("");
    program.until("taken ");
    program.types("what");
    program.until("`what`?");
    program.types("z");
    program.until("zero it with its own button");
    program.types("q");
    program.until("1 reading taken. Still wanted: incidence@S1 and 1 more.");
    program.ends();
    assert_eq!(
        taken(&bench),
        [("incidence@S1".to_owned(), "forward", 215), ("incidence@S3".to_owned(), "aft", 5)]
    );
    assert!(readings(&bench).iter().all(|r| r.temperature.is_some_and(|t| (t.value() - 21.0).abs() < 1e-9)));
    let withdrawn = |what: &What| matches!(what, What::Withdrawn { reason, .. } if reason.contains("rivet"));
    assert_eq!(entries(&bench).iter().filter(|what| withdrawn(what)).count(), 1);
}

#[test]
fn a_moving_value_is_taken_by_a_second_key_and_marked() {
    let bench = bench(LINES);
    // Fifteen seconds in which nothing can settle.
    bench.write("level.toml", file(LINES).replace("hold_ms = 600", "hold_ms = 15000"));
    let _board = Board::plug_in(&bench.path("port"), spec(LINES), 2.15);
    let args = ["listen", "wing.jigtrue", "--port", "port", "--instrument", "level.toml"];
    let mut program = Listening::start(&bench, &args);
    program.until("moving");
    program.types("");
    program.until("It has not settled");
    assert_eq!(readings(&bench).len(), 0);
    program.types("!");
    program.until("taken ");
    program.types("q");
    program.ends();
    let readings = readings(&bench);
    assert_eq!(readings.len(), 1);
    assert!(readings[0].unsettled && readings[0].samples == Some(1));
}

#[test]
fn a_killed_program_leaves_a_whole_log_with_every_reading_it_acknowledged() {
    let bench = bench(LINES);
    let _board = Board::plug_in(&bench.path("port"), spec(LINES), 2.15);
    let args = ["listen", "wing.jigtrue", "--port", "port", "--instrument", "level.toml", "--hands-free"];
    let mut program = Listening::start(&bench, &args);
    program.until("taken ");
    drop(program);
    assert_eq!(taken(&bench), [("incidence@S1".to_owned(), "forward", 215)]);
    bench.line("verify wing.jigtrue").expect(0);
}

/// Begun again, the program does not take what the level showed before as the other half of a pair: nobody turned it.
#[test]
fn a_level_left_where_it_lay_is_not_taken_again_by_a_new_start() {
    let bench = bench(LINES);
    let board = Board::plug_in(&bench.path("port"), spec(LINES), 2.15);
    let args = ["listen", "wing.jigtrue", "--port", "port", "--instrument", "level.toml", "--hands-free"];
    let mut program = Listening::start(&bench, &args);
    program.until("taken ");
    drop(program);
    // Read by something else: the level still lies where it was.
    bench.line("take wing.jigtrue incidence@S3 0.05 --instrument \"beam level\"").expect(0);
    let mut program = Listening::start(&bench, &args);
    program.until("It has not moved since the last reading");
    assert_eq!(taken(&bench).len(), 2);
    board.carry_to(-2.16);
    program.until("taken ");
    drop(program);
    assert_eq!(taken(&bench)[2], ("incidence@S1".to_owned(), "aft", -216));
}

#[test]
fn ctrl_c_leaves_a_whole_log_and_a_summary() {
    for signal in [Signal::INT, Signal::TERM] {
        let bench = bench(LINES);
        let board = Board::plug_in(&bench.path("port"), spec(LINES), 2.15);
        let args = ["listen", "wing.jigtrue", "--port", "port", "--instrument", "level.toml", "--hands-free"];
        let mut program = Listening::start(&bench, &args);
        program.until("taken ");
        // On the way to the next spot.
        board.carry_to(-1.95);
        program.until("moving");
        program.signal(signal);
        let end = program.until("taken. ");
        assert!(end.contains("Still wanted: incidence@S"), "{end}");
        program.ends();
        // On a busy machine it may have been quicker than the signal.
        let told = program.last_words().iter().filter(|line| line.starts_with("taken ")).count();
        let taken = taken(&bench);
        assert_eq!((taken[0].2, taken.len()), (215, told));
        assert!(end.starts_with(&format!("{told} reading")), "{end}");
        bench.line("verify wing.jigtrue").expect(0);
    }
}

#[test]
fn ctrl_c_keeps_the_record_a_watch_is_at() {
    let bench = bench(LINES);
    let _board = Board::plug_in(&bench.path("port"), spec(LINES), 0.30);
    let args = ["watch", "wing.jigtrue", "--port", "port", "--instrument", "level.toml", "--point"];
    let mut program = Listening::start(&bench, &[&args[..], &["incidence@S2", "--every", "3600"]].concat());
    program.until("watching ");
    std::thread::sleep(Duration::from_secs(3));
    program.signal(Signal::INT);
    program.until("1 record of incidence@S2");
    program.ends();
    let drifts: Vec<_> = entries(&bench)
        .into_iter()
        .filter_map(|what| match what {
            What::Drift { mean, samples, seconds, .. } => Some((mean, samples, seconds)),
            _ => None,
        })
        .collect();
    let [(mean, samples, seconds)] = drifts[..] else { panic!("one record, not {drifts:?}") };
    assert!((mean - 0.30).abs() < 0.006 && samples >= 1 && (1..3600).contains(&seconds));
    bench.line("verify wing.jigtrue").expect(0);
}

#[test]
fn a_board_that_is_zeroed_begins_a_new_round() {
    let bench = bench(OURS);
    let _board = Board::plug_in(&bench.path("port"), spec(OURS), 2.15);
    let args =
        ["listen", "wing.jigtrue", "--port", "port", "--instrument", "level.toml", "--facing", "forward"];
    let mut program = Listening::start(&bench, &args);
    program.until("settled at +2.15 deg");
    program.types("");
    program.until("taken ");
    program.types("z");
    program.until("zeroed");
    program.until("settled at 0.00 deg");
    program.types("");
    program.until("taken ");
    program.types("q");
    program.ends();
    let rounds: Vec<u32> = readings(&bench).iter().map(|r| r.round).collect();
    assert_eq!(rounds, [1, 2]);
    assert_eq!(taken(&bench).iter().map(|t| t.2).collect::<Vec<_>>(), [215, 0]);
}

#[test]
fn a_port_that_cannot_be_used_is_reported() {
    let bench = bench(LINES);
    let listen = "listen wing.jigtrue --port port --instrument level.toml";
    let none = bench.line(listen).expect(1);
    assert!(none.err.contains("port port: is not there"), "{}", none.err);
    assert!(!entries(&bench).iter().any(|what| matches!(what, What::Instrument(_))));
    bench.write("port", "");
    let no_port = bench.line(listen).expect(1);
    assert!(no_port.err.contains("is not a serial port"), "{}", no_port.err);
    std::fs::remove_file(bench.path("port")).unwrap();
    let _board = Board::plug_in(&bench.path("port"), spec(LINES), 2.15);
    let args = ["listen", "wing.jigtrue", "--port", "port", "--instrument", "level.toml"];
    let mut first = Listening::start(&bench, &args);
    first.until("settled at");
    let second = bench.line(listen).expect(1);
    assert!(second.err.contains("another program has it open"), "{}", second.err);
    assert_eq!(readings(&bench).len(), 0);
}

#[test]
fn a_drift_watch_names_a_shift_with_its_size() {
    let bench = bench(LINES);
    let board = Board::plug_in(&bench.path("port"), spec(LINES), 0.30);
    let args = [
        "watch",
        "wing.jigtrue",
        "--port",
        "port",
        "--instrument",
        "level.toml",
        "--point",
        "incidence@S2",
        "--every",
        "1",
    ];
    let mut program = Listening::start(&bench, &args);
    for _ in 0..12 {
        program.until("values in");
    }
    board.carry_to(0.80);
    program.until("shift ");
    for _ in 0..3 {
        program.until("values in");
    }
    program.types("q");
    let end = program.until("records of incidence@S2");
    assert!(end.contains("shift"), "{end}");
    program.ends();
    let drifts: Vec<_> = entries(&bench)
        .into_iter()
        .filter_map(|what| match what {
            What::Drift { mean, samples, seconds, shift, .. } => Some((mean, samples, seconds, shift)),
            _ => None,
        })
        .collect();
    assert!(drifts.len() >= 15);
    assert!(drifts.iter().take(10).all(|(mean, ..)| (mean - 0.30).abs() < 0.006));
    assert!(drifts.iter().take(10).all(|(.., shift)| shift.is_none()));
    assert!(drifts.iter().any(|(.., shift)| shift.is_some_and(|shift| shift.size > 0.3)));
    assert!(drifts.iter().all(|(_, samples, seconds, _)| *samples >= 1 && *seconds >= 1));
    assert_eq!(readings(&bench).len(), 0);
}
