//! Compares the time that a table gives a reading with what was done to the wing since, and with the clock.
//!
//! What counts depends on the order of the entries. A reading taken before a stage began or a screw was turned, but
//! entered afterwards, would count as taken afterwards. A time in the future is a slip in a date, or in an offset
//! from UTC.

use super::Question;
use super::work::{Clock, Step, Work};
use crate::history::Disturbs;
use record::plan::Plan;
use record::{At, Entry, Point, Source, What, Withdrawn};

/// Two clocks may differ by this much, in milliseconds (ten minutes: common practice, no source).
const CLOCKS_DIFFER: i64 = 600_000;

/// The times in a log: its start, the stages begun, moves and reworks, and its last entry.
#[derive(Clone, Debug, Default)]
pub struct Done<'p> {
    steps: Vec<Disturbing<'p>>,
    /// The latest of these times.
    latest: Option<At>,
    /// The time of the last entry whose time comes from a clock and not from a table.
    last: Option<At>,
}

#[derive(Clone, Debug)]
struct Disturbing<'p> {
    step: Step,
    disturbs: Disturbs<'p>,
}

impl<'p> Done<'p> {
    /// From the entries that are not withdrawn.
    pub fn of(plan: &'p Plan, entries: &[Entry]) -> Self {
        let by_clock = |e: &&Entry| !matches!(&e.what, What::Reading(r) if r.source == Source::Imported);
        let last = entries.iter().rev().find(by_clock).map(|e| e.at);
        let mut done = Self { last, ..Self::default() };
        for entry in Withdrawn::others(entries) {
            let work = match &entry.what {
                What::Started { .. } => Work::Begun,
                What::Stage(begun) => Work::Stage(begun.name.clone()),
                What::Move(made) => Work::Moved(made.support.clone()),
                What::Rework(rework) => Work::Rework(rework.what.clone()),
                _ => continue,
            };
            done.latest = done.latest.max(Some(entry.at));
            let step = Step { at: entry.at, entry: entry.seq, work };
            done.steps.push(Disturbing { step, disturbs: Disturbs::by(plan, &entry.what) });
        }
        done
    }

    /// The question about a reading said to be taken at `at`, where the clock says `now`: is that possible, and may
    /// it count for the wing as it is now?
    #[must_use]
    pub fn question(&self, point: &Point, at: At, now: At) -> Option<Question> {
        self.to_come(at, now).or_else(|| self.before(point, at))
    }

    /// The question about a time in the future, by the clock here and by the log's last entry.
    #[must_use]
    pub fn to_come(&self, at: At, now: At) -> Option<Question> {
        let latest = self.last.map_or(now, |last| last.max(now));
        if at.millis().saturating_sub(latest.millis()) <= CLOCKS_DIFFER {
            return None;
        }
        let by = if latest == now { Clock::Here } else { Clock::LastEntry };
        Some(Question::ToCome { at, latest, by })
    }

    fn before(&self, point: &Point, at: At) -> Option<Question> {
        let step = self.since(at, |done| done.step.work.begins() || done.disturbs.hits(point))?;
        Some(Question::Before { at, step: step.clone(), point: point.clone() })
    }

    /// The move or work since that makes a reading of that time stale.
    pub fn stale(&self, point: &Point, at: At) -> Option<&Step> {
        self.since(at, |done| !done.step.work.begins() && done.disturbs.hits(point))
    }

    /// The last of these steps after a time.
    fn since(&self, at: At, counts: impl Fn(&Disturbing<'p>) -> bool) -> Option<&Step> {
        if self.latest.is_none_or(|latest| at >= latest) {
            return None;
        }
        self.steps.iter().rev().find(|done| at < done.step.at && counts(done)).map(|done| &done.step)
    }
}
