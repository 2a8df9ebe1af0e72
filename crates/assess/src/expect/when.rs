//! A time that a table gives a reading, held against what was done to the wing since.
//!
//! What counts follows from the order of the entries. So a reading that was taken before a stage began or a screw was turned, and
//! is entered after it, would count as taken after it.

use super::Question;
use crate::history::Disturbs;
use record::plan::Plan;
use record::{At, Entry, Point, What, Withdrawn};

/// The stages begun, moves and reworks of a log.
#[derive(Clone, Debug, Default)]
pub struct Done<'p> {
    steps: Vec<Step<'p>>,
    /// The latest time of them.
    latest: Option<At>,
}

#[derive(Clone, Debug)]
struct Step<'p> {
    at: At,
    /// What it was, with its entry.
    words: String,
    kind: Kind,
    disturbs: Disturbs<'p>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Stage,
    Work,
}

impl<'p> Done<'p> {
    /// Of the entries that are not withdrawn.
    #[must_use]
    pub fn of(plan: &'p Plan, entries: &[Entry]) -> Self {
        let withdrawn = Withdrawn::of(entries.iter());
        let mut done = Self::default();
        for entry in entries.iter().filter(|e| !withdrawn.contains(e.seq)) {
            let (kind, what) = match &entry.what {
                What::Stage(begun) => (Kind::Stage, format!("stage `{}` began", begun.name)),
                What::Move(made) => (Kind::Work, format!("`{}` was moved", made.support)),
                What::Rework(rework) => (Kind::Work, format!("it was worked on: {}", rework.what)),
                _ => continue,
            };
            let words = format!("{what} (entry {}, {})", entry.seq, entry.at);
            done.latest = done.latest.max(Some(entry.at));
            let disturbs = Disturbs::by(plan, &entry.what);
            done.steps.push(Step { at: entry.at, words, kind, disturbs });
        }
        done
    }

    /// What is asked about a reading that says it was taken then: whether it may count for what the wing is now.
    #[must_use]
    pub fn question(&self, point: &Point, at: At) -> Option<Question> {
        let step = self.since(at, |step| step.kind == Kind::Stage || step.disturbs.hits(point))?;
        let why = format!("{at} is before {}, and {point} would count as read after it", step.words);
        Some(Question { expected: format!("a time after {}", step.at), why })
    }

    /// The move or work since, in words, that makes a reading of that time stale.
    #[must_use]
    pub fn stale(&self, point: &Point, at: At) -> Option<&str> {
        let step = self.since(at, |step| step.kind == Kind::Work && step.disturbs.hits(point))?;
        Some(&step.words)
    }

    /// The last of these steps after a time.
    fn since(&self, at: At, counts: impl Fn(&Step<'p>) -> bool) -> Option<&Step<'p>> {
        if self.latest.is_none_or(|latest| at >= latest) {
            return None;
        }
        self.steps.iter().rev().find(|step| at < step.at && counts(step))
    }
}
