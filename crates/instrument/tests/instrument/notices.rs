//! What one of our own boards reports besides samples: identity, answers, faults, restarts, repeats.

use crate::specs::turning;
use instrument::{Decoder, DialectSpec, Fault, Flags, Notice, Outcome};
use jigtrue_protocol::{Command, FaultCode, Message, Request, Stamp};

fn command(number: u16, request: Request) -> Vec<u8> {
    Message::Command(Command { number, request }).encode().unwrap().as_bytes().to_vec()
}

#[test]
fn a_zero_command_is_answered_and_takes_effect() {
    let mut simulated = turning(DialectSpec::Jigtrue, 1);
    let mut decoder = Decoder::new(&DialectSpec::Jigtrue);
    let mut flags = Vec::new();
    decoder.each(&simulated.bytes(100), |next| flags.push(next.unwrap().flags));
    assert_eq!(flags[0], Flags::RESTARTED);
    assert!(
        matches!(decoder.notice(), Some(Notice::Identity { name, .. }) if name.as_str() == "simulated board")
    );
    assert_eq!(decoder.notice(), None);

    decoder.each(&simulated.hear(150, &command(9, Request::Zero)), |_| ());
    let answered = |notice| matches!(notice, Some(Notice::Answer { command: 9, outcome: Outcome::Done, .. }));
    assert!(answered(decoder.notice()));
    let mut values = Vec::new();
    decoder.each(&simulated.bytes(200), |next| values.push(next.unwrap()));
    assert!(values[0].flags.contains(Flags::ZEROED));
    assert!(values[0].base().abs() < 0.01, "{:?}", values[0]);
    // The same command number again is answered but not carried out again.
    decoder.each(&simulated.hear(50_000, &command(9, Request::Zero)), |_| ());
    assert!(answered(decoder.notice()));
    values.clear();
    decoder.each(&simulated.bytes(50_000), |next| values.push(next.unwrap()));
    assert!(values[values.len() - 2].base() > 1.0);
}

#[test]
fn a_repeated_piece_of_the_stream_counts_once() {
    let mut simulated = turning(DialectSpec::Jigtrue, 1);
    let first = simulated.bytes(1_000);
    let second = simulated.bytes(2_000);
    let mut decoder = Decoder::new(&DialectSpec::Jigtrue);
    let (mut samples, mut repeats) = (0, 0);
    decoder.each(&[&first[..], &second, &second, &simulated.bytes(3_000)].concat(), |next| match next {
        Ok(_) => samples += 1,
        Err(Fault::Repeat) => repeats += 1,
        Err(other) => panic!("{other}"),
    });
    assert_eq!((samples, repeats), (simulated.sent().len(), 20));
}

#[test]
fn a_restarted_board_is_heard() {
    let mut decoder = Decoder::new(&DialectSpec::Jigtrue);
    let mut samples = 0;
    decoder.each(&turning(DialectSpec::Jigtrue, 1).bytes(1_000), |next| samples += usize::from(next.is_ok()));
    let again = turning(DialectSpec::Jigtrue, 1).frames(1_000);
    decoder.each(&again.concat(), |next| samples += usize::from(next.is_ok()));
    assert_eq!(samples, 44);
    // The identity after a third start is lost: its first sample reveals it.
    decoder.each(&again[1..].concat(), |next| samples += usize::from(next.is_ok()));
    assert_eq!(samples, 66);
}

#[test]
fn a_restarted_board_behind_a_reopened_port_is_heard_at_once() {
    let mut decoder = Decoder::new(&DialectSpec::Jigtrue);
    let mut samples = 0;
    decoder.each(&turning(DialectSpec::Jigtrue, 1).bytes(1_000), |next| samples += usize::from(next.is_ok()));
    decoder.forget();
    // Its identity and its first sample are lost, and everything that follows has the same numbers at the same times
    // as before.
    let again = turning(DialectSpec::Jigtrue, 1).frames(1_000);
    decoder.each(&again[5..].concat(), |next| samples += usize::from(next.is_ok()));
    assert_eq!(samples, 22 + again.len() - 5);
}

#[test]
fn a_board_that_reports_a_fault_is_quoted() {
    let stamp = Stamp { sequence: 4, device_ms: 900 };
    let fault = jigtrue_protocol::Fault { stamp, code: FaultCode::Sensor, detail: "no voltage from sensor" };
    let mut decoder = Decoder::new(&DialectSpec::Jigtrue);
    let mut said = Vec::new();
    let line = Message::Fault(fault).encode().unwrap();
    decoder.each(line.as_bytes(), |next| said.push(format!("{}", next.unwrap_err())));
    assert_eq!(said, ["the instrument reports a fault: sensor (no voltage from sensor)"]);
}
