//! One open log: its plan, its entries and their assessment.

mod ask;
mod columns;
mod drift;
mod export;
mod import;
mod instruments;
mod kept;
mod known;
mod listing;
mod many;
mod moves;
mod open;
mod open_items;
mod pair;
mod points;
mod replan;
mod rework;
mod rounds;
mod series;
mod sign;
mod single;
mod stages;
mod standing;
mod take;
mod trust;
mod typing;
mod undo;
mod wings;
mod write;

use crate::refusal::Refusal;
pub use columns::ManyExported;
pub use export::{Exported, Form};
pub use import::{BadLine, ImportReport, ImportWith, LineFault};
pub(crate) use known::unknown as instrument_unknown;
pub use listing::EntryLine;
pub use open_items::OpenNumbered;
pub use pair::Pair;
pub use points::{PlanPoint, point_in};
pub use replan::{PlanStep, Replanned, VerdictChange};
pub use sign::Sign;
pub use single::TypedLog;
pub use stages::BeginStage;
pub use take::{Take, Taken, part_temperature};
pub use trust::{HashDigits, HashOnPaper, LogHead, OnPaper, Since, Verified};
pub use undo::{TYPED_WRONG, Withdrawals, runs};
pub use wings::WingLog;
pub use write::TypedMove;

use crate::SessionError;
use crate::clock::Clock;
use assess::{Assessment, Chain, Elsewhere, Part, Stages};
use journal::{Head, Journal};
use quantity::Units;
use record::{Entry, Instrument, Plan, What, Withdrawn};
use std::cell::OnceCell;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

#[derive(Debug)]
pub struct Session {
    journal: Journal,
    plan: Plan,
    plan_text: String,
    shown_in: Option<Units>,
    entries: Arc<Vec<Entry>>,
    /// Number of entries left out because they can no longer count.
    passed: u64,
    /// The highest round of any reading, at least of those left out.
    highest_round: u32,
    head: Head,
    /// The version of the file when it was last read.
    version: i64,
    chain: Chain,
    who: Option<String>,
    clock: Clock,
    assessed: OnceCell<Arc<Assessment>>,
    judged_by_stage: OnceCell<Arc<Assessment>>,
    elsewhere: OnceCell<Elsewhere>,
}

impl Session {
    pub fn path(&self) -> &Path {
        self.journal.path()
    }

    /// The absolute path with links resolved, if the system knows it.
    pub fn real_path(&self) -> PathBuf {
        self.path().canonicalize().unwrap_or_else(|_| self.path().to_owned())
    }

    pub const fn is_writable(&self) -> bool {
        self.journal.is_writable()
    }

    pub const fn plan(&self) -> &Plan {
        &self.plan
    }

    /// Sets the units in which everything is shown from now on, in place of the plan's.
    pub fn show_in(&mut self, units: Units) {
        self.shown_in = Some(units);
        self.plan.shown_in = units;
        self.assessed = OnceCell::new();
        self.judged_by_stage = OnceCell::new();
    }

    pub fn plan_text(&self) -> &str {
        &self.plan_text
    }

    /// The SHA-256 of the plan's text, in hexadecimal (FIPS 180-4).
    pub fn plan_sha256(&self) -> String {
        use sha2::Digest;
        sha2::Sha256::digest(self.plan_text.as_bytes()).iter().map(|b| format!("{b:02x}")).collect()
    }

    /// The entries, oldest first. For a long log, readings that can no longer count are left out, except the newest
    /// thousands; [`Session::open_whole`] has all.
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// The same, shared. A holder keeps the earlier entries while new ones come; the session must then copy them, so
    /// drop it first.
    pub fn shared_entries(&self) -> Arc<Vec<Entry>> {
        Arc::clone(&self.entries)
    }

    /// The present instant, used to stamp entries.
    pub fn present(&self) -> record::At {
        self.clock.now()
    }

    /// How many entries there are and the hash of the last, hexadecimal.
    pub fn head(&self) -> LogHead {
        LogHead::of(&self.head)
    }

    /// Whether the chain is whole, as found when the entries were read.
    pub const fn chain(&self) -> &Chain {
        &self.chain
    }

    /// Every known instrument, the plan's and those entered since, by name.
    pub fn instruments(&self) -> BTreeMap<String, Instrument> {
        known::instruments(&self.plan, &self.entries)
    }

    /// The assessment of the present stage, without what earlier stages measured; computed again only when entries
    /// come.
    pub fn assessment(&self) -> Arc<Assessment> {
        Arc::clone(self.assessed.get_or_init(|| Arc::new(self.assessed(Stages::Named, self.elsewhere()))))
    }

    /// The same with what every stage measured, as of its end.
    pub fn assessment_by_stage(&self) -> Arc<Assessment> {
        let judged = || Arc::new(self.assessed(Stages::Judged, self.elsewhere()));
        Arc::clone(self.judged_by_stage.get_or_init(judged))
    }

    /// How the logs of taken-up wings are found; looked up once, and again when one is taken up.
    fn elsewhere(&self) -> &Elsewhere {
        self.elsewhere.get_or_init(|| self.wings_at(&BTreeMap::new()))
    }

    /// The assessment, with what was found of the logs of taken-up wings.
    pub fn assessed_with(&self, elsewhere: &Elsewhere) -> Assessment {
        self.assessed(Stages::Judged, elsewhere)
    }

    fn assessed(&self, stages: Stages, elsewhere: &Elsewhere) -> Assessment {
        let part = Part { entries: &self.entries, passed: self.passed };
        assess::assess_part(&self.plan, &part, &self.chain, elsewhere, stages)
    }

    pub fn advice(&self) -> assess::advice::Advice {
        assess::advice::advise(&self.plan, &self.entries, &self.assessment())
    }

    /// The assessment as of the end of the stage, or as it is now if it has not ended; later withdrawals do not
    /// count.
    ///
    /// # Errors
    /// If the stage is not in the plan or never began.
    pub fn assessment_at(&self, stage: &str) -> Result<Assessment, SessionError> {
        let name = self.stage_named(stage)?;
        let entries = self.history_to(&name)?;
        let part = Part { entries: &entries, passed: self.passed_until(self.end_of(&name)?) };
        Ok(assess::assess_part(&self.plan, &part, &self.chain, self.elsewhere(), Stages::Judged))
    }

    /// How many entries were left out before the `end`th kept one.
    fn passed_until(&self, end: usize) -> u64 {
        let last = end.checked_sub(1).and_then(|i| self.entries.get(i)).map_or(0, |e| e.seq);
        if self.passed == 0 { 0 } else { last - end as u64 }
    }

    /// The entries up to the end of a stage, without the later withdrawals of them.
    fn history_to(&self, name: &str) -> Result<Vec<Entry>, SessionError> {
        let (before, after) = self.entries.split_at(self.end_of(name)?);
        let held = |seq: u64| before.binary_search_by_key(&seq, |b| b.seq).is_ok();
        // A withdrawal that was itself withdrawn is not in force.
        let gone = Withdrawn::of(self.entries.iter());
        let in_force = |e: &Entry, seq: u64| held(seq) && gone.by(seq) == Some(e.seq);
        let later =
            after.iter().filter(|e| matches!(e.what, What::Withdrawn { seq, .. } if in_force(e, seq)));
        Ok(before.iter().chain(later).cloned().collect())
    }

    /// The position in the entries at which a stage ended.
    fn end_of(&self, name: &str) -> Result<usize, SessionError> {
        let begins = |e: &Entry| matches!(&e.what, What::Stage(_));
        let Some(begun) =
            self.entries.iter().rposition(|e| matches!(&e.what, What::Stage(begun) if begun.name == name))
        else {
            return Err(Refusal::StageNotBegun(name.to_owned()).into());
        };
        Ok(self.entries[begun + 1..].iter().position(begins).map_or(self.entries.len(), |i| begun + 1 + i))
    }

    /// Uses this instant as the present, for examples and recordings that are played back.
    pub fn set_clock(&mut self, at: record::At) {
        self.clock = Clock::Set(at);
    }

    pub fn who(&self) -> Option<&str> {
        self.who.as_deref()
    }

    pub fn set_who(&mut self, name: &str) {
        self.who = Some(name.trim().to_owned()).filter(|n| !n.is_empty());
    }
}
