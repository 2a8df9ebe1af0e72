//! One open log: its plan, its entries and the assessment that follows from them.

mod ask;
mod columns;
mod drift;
mod export;
mod import;
mod known;
mod listing;
mod many;
mod moves;
mod open;
mod points;
mod replan;
mod rework;
mod rounds;
mod series;
mod sign;
mod single;
mod stages;
mod take;
mod trust;
mod typing;
mod undo;
mod wings;
mod write;

pub use columns::ManyExported;
pub use export::{Exported, Form};
pub use import::{ImportReport, ImportWith};
pub(crate) use known::unknown as instrument_unknown;
pub use listing::EntryLine;
pub use points::nearest;
pub use replan::{PlanStep, Replanned, VerdictChange};
pub use sign::{NotSigned, Sign};
pub use stages::{BeginStage, Unmet};
pub use take::{Take, TakeSettled, Taken, part_temperature};
pub use trust::{HASH_DIGITS, OnPaper, Since, Verified, entry_on_paper};
pub use typing::Pair;
pub use undo::{TYPED_WRONG, Withdrawals};
pub use wings::WingLog;
pub use write::{OpenNumbered, TypedMove};

use crate::SessionError;
use crate::clock::Clock;
use assess::{Assessment, Chain, Elsewhere};
use journal::{Head, Journal};
use quantity::Units;
use record::{Entry, Instrument, Plan, What};
use std::cell::OnceCell;
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

/// One open log.
#[derive(Debug)]
pub struct Session {
    journal: Journal,
    plan: Plan,
    plan_text: String,
    shown_in: Option<Units>,
    entries: Arc<Vec<Entry>>,
    head: Head,
    chain: Chain,
    who: Option<String>,
    clock: Clock,
    assessed: OnceCell<Arc<Assessment>>,
    elsewhere: OnceCell<Elsewhere>,
}

impl Session {
    /// The log's file.
    #[must_use]
    pub fn path(&self) -> &Path {
        self.journal.path()
    }

    /// True if it was opened for writing.
    #[must_use]
    pub const fn is_writable(&self) -> bool {
        self.journal.is_writable()
    }

    /// The plan in force.
    #[must_use]
    pub const fn plan(&self) -> &Plan {
        &self.plan
    }

    /// The units in which everything is shown from now on, in place of those of the plan.
    pub fn show_in(&mut self, units: Units) {
        self.shown_in = Some(units);
        self.plan.shown_in = units;
        self.assessed = OnceCell::new();
    }

    /// Its text as it was written.
    #[must_use]
    pub fn plan_text(&self) -> &str {
        &self.plan_text
    }

    /// The SHA-256 of the plan's text, hexadecimal (FIPS 180-4).
    #[must_use]
    pub fn plan_sha256(&self) -> String {
        use sha2::Digest;
        sha2::Sha256::digest(self.plan_text.as_bytes()).iter().map(|b| format!("{b:02x}")).collect()
    }

    /// Every entry, oldest first.
    #[must_use]
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// The same, shared. Whoever holds it while entries come has the earlier ones; the session then copies them, so let go
    /// of it first.
    #[must_use]
    pub fn shared_entries(&self) -> Arc<Vec<Entry>> {
        Arc::clone(&self.entries)
    }

    /// The present instant, as entries are stamped with.
    #[must_use]
    pub fn present(&self) -> record::At {
        self.clock.now()
    }

    /// How many entries there are and the hash of the last, hexadecimal.
    #[must_use]
    pub fn head(&self) -> (u64, String) {
        (self.head.seq, self.head.hash.to_string())
    }

    /// Whether the chain fits, as it was found when the entries were read.
    #[must_use]
    pub const fn chain(&self) -> &Chain {
        &self.chain
    }

    /// Every instrument known, the plan's and those entered since, by name.
    #[must_use]
    pub fn instruments(&self) -> BTreeMap<String, Instrument> {
        known::instruments(&self.plan, &self.entries)
    }

    /// The assessment of the present stage; computed again only when entries came.
    #[must_use]
    pub fn assessment(&self) -> Arc<Assessment> {
        Arc::clone(self.assessed.get_or_init(|| Arc::new(self.assessed_with(self.elsewhere()))))
    }

    /// How the logs of wings that were taken up are found; looked for once, and again when one is taken up.
    fn elsewhere(&self) -> &Elsewhere {
        self.elsewhere.get_or_init(|| self.wings_found(&[]).unwrap_or_default())
    }

    /// The assessment with what was found of the logs of wings that were taken up.
    #[must_use]
    pub fn assessed_with(&self, elsewhere: &Elsewhere) -> Assessment {
        assess::assess_with(&self.plan, &self.entries, &self.chain, elsewhere)
    }

    /// What to move, or why not.
    #[must_use]
    pub fn advice(&self) -> assess::advice::Advice {
        assess::advice::advise(&self.plan, &self.entries, &self.assessment())
    }

    /// The assessment as the stage ended, or as it stands if it has not; what was withdrawn later is not counted.
    ///
    /// # Errors
    /// When the stage is not in the plan or never began.
    pub fn assessment_at(&self, stage: &str) -> Result<Assessment, SessionError> {
        let name = self.stage_named(stage)?;
        Ok(assess::assess_with(&self.plan, &self.history_to(&name)?, &self.chain, self.elsewhere()))
    }

    /// The entries up to the end of a stage, and the later withdrawals among them.
    fn history_to(&self, name: &str) -> Result<Vec<Entry>, SessionError> {
        let begins = |e: &Entry| matches!(&e.what, What::Stage(_));
        let Some(begun) =
            self.entries.iter().rposition(|e| matches!(&e.what, What::Stage(begun) if begun.name == name))
        else {
            return Err(SessionError::Refused(format!(
                "stage `{}` has not begun in this log",
                crate::shown(name)
            )));
        };
        let end =
            self.entries[begun + 1..].iter().position(begins).map_or(self.entries.len(), |i| begun + 1 + i);
        let (before, after) = self.entries.split_at(end);
        let later = after
            .iter()
            .filter(|e| matches!(e.what, What::Withdrawn { seq, .. } if before.iter().any(|b| b.seq == seq)));
        Ok(before.iter().chain(later).cloned().collect())
    }

    /// Takes this instant for the present, for examples and recordings that are played back.
    pub fn set_clock(&mut self, at: record::At) {
        self.clock = Clock::Set(at);
    }

    /// Who entries are written under.
    #[must_use]
    pub fn who(&self) -> Option<&str> {
        self.who.as_deref()
    }

    /// Sets who entries are written under.
    pub fn set_who(&mut self, name: &str) {
        self.who = Some(name.trim().to_owned()).filter(|n| !n.is_empty());
    }
}
