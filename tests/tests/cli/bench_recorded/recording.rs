//! Reads a recorded list of samples and keys.
//!
//! One step on each line: `hold VALUE MS` (a value every 100 ms), `shake MS` (values that never rest), `lost`,
//! `found`, `key main`, `anyway`, `skip`, `no`, `withdraw REASON`, `go POINT`. Text after `#` is a remark.

use bench::{Answer, Came, Gone, Key, PortEvent, Target};
use instrument::{Axis, Decimal, Sample, Unit};
use quantity::Kind;

const EVERY_MS: u64 = 100;

#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    pub at_ms: u64,
    pub what: Played,
}

#[derive(Clone, Debug, PartialEq)]
pub enum Played {
    Event(PortEvent),
    /// An action of a person.
    Key(Key),
}

/// Reads a recording; other lines are ignored.
pub fn read(text: &str) -> Vec<Step> {
    let (mut steps, mut now_ms) = (Vec::new(), 0);
    for line in text.lines() {
        let line = line.split('#').next().unwrap_or_default().trim_end();
        let (word, rest) = line.split_once(' ').unwrap_or((line, ""));
        let mut numbers = rest.split_whitespace();
        let mut number = || numbers.next().and_then(|text| text.parse::<f64>().ok()).unwrap_or(0.0);
        match word {
            "hold" => {
                let (value, for_ms) = (number(), number());
                values(&mut steps, &mut now_ms, for_ms, |_| value);
            }
            "shake" => {
                let for_ms = number();
                values(&mut steps, &mut now_ms, for_ms, |n| 30.0 + f64::from(n % 7) * 2.0);
            }
            "lost" => {
                now_ms += EVERY_MS;
                let lost = PortEvent { at_ms: now_ms, what: Came::Lost(Gone::because("unplugged")) };
                steps.push(Step { at_ms: now_ms, what: Played::Event(lost) });
            }
            "found" => {
                now_ms += 3_000;
                steps.push(Step {
                    at_ms: now_ms,
                    what: Played::Event(PortEvent { at_ms: now_ms, what: Came::Found }),
                });
            }
            "key" => steps.extend(key(rest).map(|key| Step { at_ms: now_ms, what: Played::Key(key) })),
            _ => {}
        }
    }
    steps
}

fn key(text: &str) -> Option<Key> {
    let (word, rest) = text.split_once(' ').unwrap_or((text, ""));
    Some(match word {
        "main" => Key::Main,
        "anyway" => Key::TakeAnyway,
        "skip" => Key::Skip,
        "no" => Key::Answer(Answer::No),
        "withdraw" => Key::Withdraw { reason: rest.to_owned() },
        "go" => Key::Go(Target { point: rest.parse().ok()?, quantity: Kind::Angle, facing: None }),
        _ => return None,
    })
}

fn values(steps: &mut Vec<Step>, now_ms: &mut u64, for_ms: f64, of: impl Fn(u32) -> f64) {
    let mut n = 0;
    while f64::from(n) * 100.0 < for_ms {
        *now_ms += EVERY_MS;
        let value = Decimal { mantissa: (of(n) * 100.0).round() as i64, exponent: -2 };
        let sample = Sample::bare(Axis::Angle, value, Unit::Degree);
        steps.push(Step {
            at_ms: *now_ms,
            what: Played::Event(PortEvent { at_ms: *now_ms, what: Came::Sample(sample) }),
        });
        n += 1;
    }
}
