//! An instrument on a pseudo-terminal that sends the project's own lines: live values, its own temperature, a night's watch.

use super::{opened, sentence, until};
use bench::{Live, PortView, View};
use jigtrue_protocol::{Decimal, Flags, Identify, Message, Quantity, Sample, Stamp, Unit};
use record::What;
use serialport::{SerialPort, TTYPort};
use std::io::Write;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicI32, Ordering};
use std::time::Duration;
use window::Action;

/// A board that sends an angle, its own temperature of 41 °C, and from time to time its serial number if it has one.
struct Board {
    hundredths: Arc<AtomicI32>,
    number: Arc<AtomicI32>,
    zeroed: Arc<AtomicBool>,
    stop: Arc<AtomicBool>,
    name: String,
    _other_end: TTYPort,
}

impl Board {
    fn plug_in() -> Self {
        let (mut master, slave) = TTYPort::pair().unwrap();
        let hundredths = Arc::new(AtomicI32::new(5));
        let number = Arc::new(AtomicI32::new(0));
        let zeroed = Arc::new(AtomicBool::new(false));
        let stop = Arc::new(AtomicBool::new(false));
        let (value, stopped) = (Arc::clone(&hundredths), Arc::clone(&stop));
        let (who, at_zero) = (Arc::clone(&number), Arc::clone(&zeroed));
        std::thread::spawn(move || {
            for sequence in 0_u32.. {
                if stopped.load(Ordering::Relaxed) {
                    return;
                }
                let stamp = |sequence| Stamp { sequence, device_ms: sequence * 10 };
                let number = who.load(Ordering::Relaxed).to_string();
                if number != "0" && sequence % 5 == 0 {
                    let stamp = stamp(3 * sequence + 2);
                    let identify = Identify { stamp, name: "bench board", number: &number, firmware: "1" };
                    let _ = master.write_all(Message::Identify(identify).encode().unwrap().as_bytes());
                }
                let flags = if at_zero.load(Ordering::Relaxed) { Flags::ZEROED } else { Flags::NONE };
                let mut send = |sequence, quantity, value, unit| {
                    let sample = Sample { stamp: stamp(sequence), quantity, value, unit, flags };
                    let _ = master.write_all(Message::Sample(sample).encode().unwrap().as_bytes());
                };
                let angle = Decimal { mantissa: value.load(Ordering::Relaxed), exponent: -2 };
                send(3 * sequence, Quantity::Angle, angle, Unit::Degrees);
                let own = Decimal { mantissa: 41, exponent: 0 };
                send(3 * sequence + 1, Quantity::Temperature, own, Unit::Celsius);
                std::thread::sleep(Duration::from_millis(20));
            }
        });
        let name = slave.name().unwrap();
        Self { hundredths, number, zeroed, stop, name, _other_end: slave }
    }

    fn open(&self) -> Action {
        Action::OpenPort { port: self.name.clone(), instrument: "beam level".to_owned() }
    }
}

impl Drop for Board {
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}

fn live(desk: &super::Desk) -> View {
    desk.model().wing.as_ref().unwrap().live.clone()
}

#[test]
fn a_live_reading_has_the_temperature_of_the_part_not_of_the_instrument() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, log) = opened(folder.path());
    let board = Board::plug_in();
    desk.act(board.open());
    // The port is opened beside the window.
    assert!(matches!(live(&desk).port, PortView::Opening(_)), "{:?}", live(&desk));
    let both = [(1, "level@root-post", None, None), (2, "cross@root-post", Some("23 °C"), Some(23.0))];
    for (n, point, typed, wanted) in both {
        until(&mut desk, "a settled value", |d| matches!(live(d).live, Live::Settled { .. }));
        desk.act(Action::TakeLive {
            point: point.parse().unwrap(),
            facing: None,
            temperature: typed.map(str::to_owned),
        });
        let session = session::Session::open_read_only(&log).unwrap();
        let taken: Vec<_> = session
            .entries()
            .iter()
            .filter_map(|e| if let What::Reading(r) = &e.what { Some(r.clone()) } else { None })
            .collect();
        assert_eq!(taken.len(), n, "{:?}", desk.model().notice);
        assert_eq!(taken[n - 1].temperature.map(|t| t.value()), wanted);
        board.hundredths.fetch_add(20, Ordering::Relaxed);
    }
}

#[test]
fn a_watch_on_a_live_port_is_shown_and_recorded() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, log) = opened(folder.path());
    let board = Board::plug_in();
    desk.act(board.open());
    until(&mut desk, "a value", |d| live(d).live.shown().is_some());
    desk.act(Action::Watch(Some("level@root-post".parse().unwrap())));
    let seen = |d: &super::Desk| d.model().wing.as_ref().unwrap().trace.clone();
    until(&mut desk, "samples", |d| seen(d).is_some_and(|t| t.samples() > 40));
    board.hundredths.store(9, Ordering::Relaxed);
    until(&mut desk, "the step in the trace", |d| seen(d).and_then(|t| t.last()).is_some_and(|v| v > 0.08));
    desk.act(Action::Watch(None));
    assert!(seen(&desk).is_none());
    let session = session::Session::open_read_only(&log).unwrap();
    let drift = session.entries().iter().find_map(|e| match &e.what {
        What::Drift { point, least, most, samples, .. } => Some((point.to_string(), *least, *most, *samples)),
        _ => None,
    });
    let (point, least, most, samples) = drift.unwrap();
    assert_eq!((point.as_str(), least), ("level@root-post", 0.05));
    assert!((most - 0.09).abs() < 1e-6 && samples > 40, "{most} of {samples}");
}

#[test]
fn a_missing_port_is_reported() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, _) = opened(folder.path());
    let port = folder.path().join("no-port").display().to_string();
    desk.act(Action::OpenPort { port: port.clone(), instrument: "beam level".to_owned() });
    until(&mut desk, "an answer", |d| d.model().notice.as_ref().is_some_and(|n| n.wrong));
    let (desk, words) = sentence(desk);
    assert!(words.contains("no-port"), "{words}");
    assert_eq!(live(&desk).port, PortView::None);
}

#[test]
fn nothing_is_taken_from_an_instrument_other_than_the_one_asked_for() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, log) = opened(folder.path());
    let board = Board::plug_in();
    board.number.store(7, Ordering::Relaxed);
    desk.act(board.open());
    until(&mut desk, "who is there", |d| matches!(live(d).live, Live::Wrong { .. }));
    assert!(matches!(live(&desk).live, Live::Wrong { here, .. } if here == "7"));
    assert_eq!(live(&desk).live.shown(), None);
    let take = Action::TakeLive {
        point: "level@root-post".parse().unwrap(),
        facing: Some(record::Facing::Forward),
        temperature: None,
    };
    desk.act(take.clone());
    desk.act(Action::Bench(bench::Key::TakeAnyway));
    let (mut desk, _) = sentence(desk);
    // The right one is plugged in: the plan's beam level is number 1973.
    board.number.store(1973, Ordering::Relaxed);
    until(&mut desk, "a settled value", |d| {
        matches!(live(d).live, Live::Settled { .. } | Live::Taken { .. })
    });
    desk.act(take);
    let session = session::Session::open_read_only(&log).unwrap();
    assert_eq!(session.entries().iter().filter(|e| matches!(e.what, What::Reading(_))).count(), 1);
}

#[test]
fn a_board_that_was_zeroed_begins_a_round() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, log) = opened(folder.path());
    let board = Board::plug_in();
    desk.act(board.open());
    for point in ["level@root-post", "cross@root-post", "level@tip-post"] {
        until(&mut desk, "a settled value", |d| matches!(live(d).live, Live::Settled { .. }));
        desk.act(Action::TakeLive {
            point: point.parse().unwrap(),
            facing: Some(record::Facing::Forward),
            temperature: None,
        });
        // The second reading is of the same set-up, the third of another.
        board.zeroed.store(point == "cross@root-post", Ordering::Relaxed);
        board.hundredths.fetch_add(20, Ordering::Relaxed);
        until(&mut desk, "the next rest", |d| !matches!(live(d).live, Live::Taken { .. }));
    }
    let session = session::Session::open_read_only(&log).unwrap();
    let rounds: Vec<u32> = session
        .entries()
        .iter()
        .filter_map(|e| if let What::Reading(r) = &e.what { Some(r.round) } else { None })
        .collect();
    assert_eq!(rounds, [1, 1, 2]);
}

/// The log knows the level by its name; the file beside the log says how it speaks.
#[test]
fn an_instrument_opened_by_its_name_speaks_as_its_file_says() {
    let folder = tempfile::tempdir().unwrap();
    let (mut desk, _) = opened(folder.path());
    let file = stories::jig::LEVEL.replace("tilt board", "beam level").replace(",Y={cross deg .2}", "");
    std::fs::write(folder.path().join("beam.toml"), file).unwrap();
    let (mut master, slave) = TTYPort::pair().unwrap();
    let stop = Arc::new(AtomicBool::new(false));
    let stopped = Arc::clone(&stop);
    std::thread::spawn(move || {
        while !stopped.load(Ordering::Relaxed) {
            let _ = master.write_all(b"X=+0.05\n");
            std::thread::sleep(Duration::from_millis(20));
        }
    });
    desk.act(Action::OpenPort { port: slave.name().unwrap(), instrument: "beam level".to_owned() });
    until(&mut desk, "a value", |d| {
        live(d).live.shown().is_some_and(|shown| (shown.value - 0.05).abs() < 1e-9)
    });
    stop.store(true, Ordering::Relaxed);
}
