//! A line made by its form, for simulated instruments.

use super::{Part, Template};
use crate::{Decimal, Sample};
use std::string::String;

impl Template {
    /// A line of this form with these samples' values in their holes; 0 where there is none.
    pub(crate) fn write(&self, samples: &[Sample]) -> String {
        let mut line = String::new();
        for part in self.parts() {
            match *part {
                Part::Literal(text) => {
                    line.push_str(core::str::from_utf8(text.slice(&self.literals)).unwrap_or_default());
                }
                Part::Space { .. } => line.push(' '),
                Part::Degree => line.push('°'),
                Part::Value { axis, .. } => {
                    let sample = samples.iter().find(|sample| sample.axis == axis);
                    let zero = Decimal { mantissa: 0, exponent: 0 };
                    line.push_str(&std::format!("{}", sample.map_or(zero, |sample| sample.value)));
                }
                Part::Number => line.push('0'),
                Part::Word => line.push('A'),
                Part::State(_) | Part::Sign { .. } => {}
            }
        }
        line
    }
}
