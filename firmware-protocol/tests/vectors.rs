//! The golden lines, read and written by this crate.
#![expect(clippy::unwrap_used, reason = "helpers of tests fail the test they serve")]

use jigtrue_protocol::{
    Answer, Command, Damage, Decimal, Fault, FaultCode, Flags, Identify, MAX_LINE, Message, Outcome,
    Quantity, Request, Sample, Stamp, Status, Unit, decode,
};

const LINES: &str = include_str!("../vectors/lines.txt");

fn rows() -> impl Iterator<Item = Vec<&'static str>> {
    LINES.lines().filter(|row| !row.starts_with('#')).map(|row| row.split('\t').collect())
}

fn stamp(sequence: &str, device_ms: &str) -> Stamp {
    Stamp { sequence: sequence.parse().unwrap(), device_ms: device_ms.parse().unwrap() }
}

fn flags(field: &str) -> Flags {
    Flags::from_field(field.as_bytes()).unwrap()
}

/// What a row of the table says, or nothing if it is not a row of a message.
fn said<'a>(row: &[&'a str]) -> Option<Message<'a>> {
    Some(match *row {
        ["sample", sequence, ms, quantity, mantissa, exponent, unit, letters, _] => Message::Sample(Sample {
            stamp: stamp(sequence, ms),
            quantity: Quantity::from_word(quantity.as_bytes()).unwrap(),
            value: Decimal { mantissa: mantissa.parse().unwrap(), exponent: exponent.parse().unwrap() },
            unit: Unit::from_word(unit.as_bytes()).unwrap(),
            flags: flags(letters),
        }),
        ["identify", sequence, ms, name, number, firmware, _] => {
            Message::Identify(Identify { stamp: stamp(sequence, ms), name, number, firmware })
        }
        ["status", sequence, ms, interval, dropped, letters, _] => Message::Status(Status {
            stamp: stamp(sequence, ms),
            interval_ms: interval.parse().unwrap(),
            dropped: dropped.parse().unwrap(),
            flags: flags(letters),
        }),
        ["fault", sequence, ms, code, detail, _] => Message::Fault(Fault {
            stamp: stamp(sequence, ms),
            code: FaultCode::from_word(code.as_bytes()).unwrap(),
            detail,
        }),
        ["answer", sequence, ms, command, outcome, detail, _] => Message::Answer(Answer {
            stamp: stamp(sequence, ms),
            command: command.parse().unwrap(),
            outcome: Outcome::from_word(outcome.as_bytes()).unwrap(),
            detail,
        }),
        ["command", number, "identify", _] => command(number, Request::Identify),
        ["command", number, "zero", _] => command(number, Request::Zero),
        ["command", number, "rate", interval, _] => {
            command(number, Request::Rate { interval_ms: interval.parse().unwrap() })
        }
        _ => return None,
    })
}

fn command<'a>(number: &str, request: Request) -> Message<'a> {
    Message::Command(Command { number: number.parse().unwrap(), request })
}

#[test]
fn every_message_reads_and_writes_as_its_golden_line() {
    let mut seen = 0;
    for row in rows() {
        let Some(message) = said(&row) else { continue };
        let line = row[row.len() - 1];
        assert_eq!(decode(line.as_bytes()), Ok(message), "{line}");
        let written = message.encode().unwrap();
        assert_eq!(written.as_str().strip_suffix("\r\n"), Some(line));
        seen += 1;
    }
    assert_eq!(seen, 33);
}

#[test]
fn every_refused_line_is_refused_for_its_reason() {
    let mut seen = 0;
    for row in rows() {
        let ["refused", why, line] = row[..] else { continue };
        let damage = match why {
            "check" => Damage::Check,
            "no-check" => Damage::NoCheck,
            "version" => Damage::Version,
            "kind" => Damage::Kind,
            "field" => Damage::Field,
            other => panic!("no such reason: {other}"),
        };
        assert_eq!(decode(line.as_bytes()), Err(damage), "{line}");
        seen += 1;
    }
    assert_eq!(seen, 44);
}

#[test]
fn lines_of_later_revisions_are_understood() {
    for row in rows() {
        let ["later", kind, line] = row[..] else { continue };
        let message = decode(line.as_bytes()).unwrap();
        match (kind, message) {
            ("sample", Message::Sample(sample)) => assert_eq!(sample.value.mantissa, -25),
            ("fault", Message::Fault(fault)) => assert_eq!(fault.code, FaultCode::Other),
            ("unknown-command", Message::Command(command)) => assert_eq!(command.request, Request::Unknown),
            ("command", Message::Command(command)) => assert_eq!(command.request, Request::Zero),
            other => panic!("{line}: {other:?}"),
        }
    }
}

#[test]
fn every_row_of_the_table_is_one_of_the_above() {
    for row in rows() {
        assert!(said(&row).is_some() || ["refused", "later"].contains(&row[0]), "{row:?}");
    }
}

/// The limits on the fields keep every line within the longest a receiver waits for.
#[test]
fn the_longest_line_of_each_kind_fits() {
    let stamp = Stamp { sequence: u32::MAX, device_ms: u32::MAX };
    let all = Flags::from_field(b"BHOWlmrz").unwrap();
    for quantity in Quantity::ALL {
        for unit in Unit::ALL.iter().filter(|unit| unit.measures(*quantity)) {
            let value = Decimal { mantissa: i32::MIN, exponent: -9 };
            let sample = Sample { stamp, quantity: *quantity, value, unit: *unit, flags: all };
            comes_back(Message::Sample(sample));
        }
    }
    let name = "n".repeat(20);
    let number = "0".repeat(16);
    let firmware = "f".repeat(12);
    let detail = "d".repeat(24);
    comes_back(Message::Identify(Identify { stamp, name: &name, number: &number, firmware: &firmware }));
    comes_back(Message::Status(Status { stamp, interval_ms: u16::MAX, dropped: u32::MAX, flags: all }));
    for code in FaultCode::ALL {
        comes_back(Message::Fault(Fault { stamp, code: *code, detail: &detail }));
    }
    for outcome in Outcome::ALL {
        comes_back(Message::Answer(Answer { stamp, command: u16::MAX, outcome: *outcome, detail: &detail }));
    }
}

fn comes_back(message: Message<'_>) {
    let line = message.encode().unwrap();
    assert!(line.as_bytes().len() <= MAX_LINE, "{line:?}");
    assert_eq!(decode(line.as_str().trim_end().as_bytes()), Ok(message));
}

#[test]
fn what_would_not_read_back_the_same_is_not_written() {
    let stamp = Stamp { sequence: 0, device_ms: 0 };
    let long = "x".repeat(25);
    for detail in ["", "a,b", "a*b", "a~b", "a\nb", "\u{b0}C", &long] {
        let fault = Message::Fault(Fault { stamp, code: FaultCode::Other, detail });
        assert!(fault.encode().is_err(), "{detail:?}");
    }
    let value = Decimal { mantissa: 1, exponent: 10 };
    let (quantity, unit, flags) = (Quantity::Angle, Unit::Degrees, Flags::NONE);
    assert!(Message::Sample(Sample { stamp, quantity, value, unit, flags }).encode().is_err());
    let value = Decimal { mantissa: 1, exponent: 0 };
    let unit = Unit::Celsius;
    assert!(Message::Sample(Sample { stamp, quantity, value, unit, flags }).encode().is_err());
}
