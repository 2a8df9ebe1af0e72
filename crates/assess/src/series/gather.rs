//! Takes in logs one by one; memory grows with their figures and not with their readings.

use super::geometry::{self, Unlike};
use super::view::NotCounted;
use super::wing::{NotCountedWhy, Wing};
use record::plan::Plan;
use std::fmt;

/// The most keys that a message names for each log of another wing.
const NAMED: usize = 3;

/// The log that the others are compared with.
pub(super) struct First {
    pub log: String,
    pub plan: Plan,
}

/// A wing that counts.
pub(super) struct Kept {
    pub wing: Wing,
    /// Whether it was built in the same jig as the first.
    pub same_jig: bool,
}

/// Logs taken in so far.
#[derive(Default)]
pub struct Gathering {
    pub(super) first: Option<First>,
    pub(super) wings: Vec<Kept>,
    pub(super) not_counted: Vec<NotCounted>,
    pub(super) differs: Vec<Differs>,
}

/// A log of another kind of wing than the first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Differs {
    pub log: String,
    /// Where it differs from the first.
    pub keys: Vec<Unlike>,
}

/// Some logs are of another kind of wing: nothing is computed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OtherWing {
    /// The log that the others are compared with.
    pub first: String,
    /// Those that differ.
    pub differs: Vec<Differs>,
}

impl fmt::Display for OtherWing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "a series is of one kind of wing; these logs differ from {}:", self.first)?;
        for Differs { log, keys } in &self.differs {
            let more = keys.len().saturating_sub(NAMED);
            write!(
                f,
                "\n  {log}: {}",
                keys.iter().take(NAMED).map(ToString::to_string).collect::<Vec<_>>().join(", ")
            )?;
            if more > 0 {
                write!(f, " and {more} more")?;
            }
        }
        Ok(())
    }
}

impl core::error::Error for OtherWing {}

impl Gathering {
    /// Whether a log is of the same kind of wing as the first one; if not, it is named at the end.
    pub fn is_alike(&mut self, name: &str, plan: &Plan) -> bool {
        let first = self.first.get_or_insert_with(|| First { log: name.to_owned(), plan: plan.clone() });
        let keys = geometry::differences(&first.plan, plan);
        let alike = keys.is_empty();
        if !alike {
            self.differs.push(Differs { log: name.to_owned(), keys });
        }
        alike
    }

    /// Takes in the result for a log of the same kind.
    pub fn put(&mut self, name: &str, plan: &Plan, wing: Result<Wing, NotCountedWhy>) {
        let same_jig =
            self.first.as_ref().is_some_and(|first| geometry::jig(&first.plan) == geometry::jig(plan));
        match wing {
            Ok(wing) => self.wings.push(Kept { wing, same_jig }),
            Err(why) => self.leave_out(NotCounted { log: name.to_owned(), why }),
        }
    }

    /// Names a log that is not counted.
    pub fn leave_out(&mut self, log: NotCounted) {
        self.not_counted.push(log);
    }
}
