//! A recorded list of samples and keys, as text: what is played through both faces must give the same entries.
//!
//! One step a line: `hold VALUE MS` (a value each 100 ms), `shake MS` (values that are never at rest), `lost`, `found`,
//! `key LINE` (as it is typed in the terminal). What follows `#` is a remark.

use crate::PortEvent;
use instrument::{Axis, Decimal, Sample, Unit};

/// Milliseconds between values.
const EVERY_MS: u64 = 100;

/// A step of a recording.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// When.
    pub at_ms: u64,
    /// What.
    pub what: Played,
}

/// What is played.
#[derive(Clone, Debug, PartialEq)]
pub enum Played {
    /// Something from the port.
    Event(PortEvent),
    /// A line typed.
    Key(String),
}

/// Reads a recording; lines that are none of these are left out.
#[must_use]
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
                let why = "unplugged".to_owned();
                steps.push(Step {
                    at_ms: now_ms,
                    what: Played::Event(PortEvent::Lost { at_ms: now_ms, why }),
                });
            }
            "found" => {
                now_ms += 3_000;
                steps.push(Step { at_ms: now_ms, what: Played::Event(PortEvent::Found { at_ms: now_ms }) });
            }
            "key" => steps.push(Step { at_ms: now_ms, what: Played::Key(rest.to_owned()) }),
            _ => {}
        }
    }
    steps
}

fn values(steps: &mut Vec<Step>, now_ms: &mut u64, for_ms: f64, of: impl Fn(u32) -> f64) {
    let mut n = 0;
    while f64::from(n) * 100.0 < for_ms {
        *now_ms += EVERY_MS;
        let value = Decimal { mantissa: (of(n) * 100.0).round() as i64, exponent: -2 };
        let sample = Sample::bare(Axis::Angle, value, Unit::Degree);
        steps
            .push(Step { at_ms: *now_ms, what: Played::Event(PortEvent::Sample { at_ms: *now_ms, sample }) });
        n += 1;
    }
}
