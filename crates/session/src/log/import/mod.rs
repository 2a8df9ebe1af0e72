//! Imports a table of readings, all or nothing.

mod again;
mod comma;
mod context;
mod exported;
mod fault;
mod header;
mod held;
mod open;
mod patient;
mod row;
mod sound;

use super::Session;
use super::ask::{Asking, answered};
use super::rounds::Rounds;
use crate::SessionError;
use crate::clock::offset_here;
use crate::file_fault::FileFault;
use crate::refusal::Refusal;
use again::{Again, Before};
use assess::expect::{Done, Question};
use comma::Mark;
use context::Context;
use held::Held;
use journal::NewEntry;
use open::{Numbered, Table, open};
use quantity::shown::count;
use record::{Entry, What, When, Withdrawn};
use row::{Asked, Faces, Row};
use serde::Serialize;
use std::path::Path;

/// At most this many bad lines are reported.
const MOST_NAMED: usize = 20;
/// A table of at least this many bytes is written as a long one. The length of standard input is unknown, so it is
/// not.
const LONG: u64 = 1 << 20;
/// Lines between two progress reports.
const TELL_EVERY: u64 = 4096;

#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ImportReport {
    pub readings: u64,
    /// Rows of an export that were skipped: not a reading, or withdrawn.
    pub passed_over: u64,
    /// Readings without a facing at points where the instrument can be turned: they count as forward.
    pub assumed_forward: u64,
    /// Number of the first entry written.
    pub first_entry: u64,
    /// Number of the last entry written.
    pub last_entry: u64,
}

impl ImportReport {
    /// What was imported, for a person; every face shows this.
    pub fn words(&self) -> String {
        let Self { readings, passed_over: passed, assumed_forward, first_entry: first, last_entry: last } =
            self;
        let entries =
            if first == last { format!("entry {last}") } else { format!("entries {first} to {last}") };
        let mut words = format!("{} taken, {entries}", count(*readings, "reading", "readings"));
        if *passed > 0 {
            let rows = count(*passed, "row was", "rows were");
            words.push_str(&format!("; {rows} skipped: not readings, or withdrawn"));
        }
        if *assumed_forward > 0 {
            let give = count(*assumed_forward, "line gives", "lines give");
            words.push_str(&format!(
                "; {give} no facing: read as forward. If the level was turned there, withdraw them and import \
                    them with a column facing"
            ));
        }
        words
    }
}

pub use context::ImportWith;
pub use fault::{BadLine, LineFault};

/// Called with lines done, bytes done and bytes in all; returns false to stop.
type Progress<'p> = &'p mut dyn FnMut(u64, u64, u64) -> bool;

impl Session {
    /// Built from all entries of the log: a table may repeat a reading that can no longer count.
    fn of_all<T>(&self, make: impl FnOnce(&mut dyn Iterator<Item = Entry>) -> T) -> Result<T, SessionError> {
        if self.passed == 0 {
            return Ok(make(&mut self.entries.iter().cloned()));
        }
        let mut failed = None;
        let made = make(&mut self.journal.entries().map_while(|e| e.map_err(|why| failed = Some(why)).ok()));
        failed.map_or(Ok(made), |why| Err(why.into()))
    }

    /// Imports a table of readings, all or nothing. `progress` gets lines done, and bytes done of bytes in all; if it
    /// returns false, nothing is recorded.
    ///
    /// Memory does not grow with the table: lines are written as they are read, and rolled back if a bad one comes.
    /// The session reads the entries back at its next refresh.
    ///
    /// # Errors
    /// If the table cannot be read or has bad lines, the log cannot be written, or it was stopped.
    pub fn import_csv(
        &mut self,
        table: &Path,
        with: &ImportWith,
        progress: Progress<'_>,
    ) -> Result<ImportReport, SessionError> {
        self.refresh()?;
        let known = self.instruments();
        let by = self.person(None)?;
        let rounds = self.rounds();
        let asking = Asking::of(&self.plan, self.under_way().iter());
        let open = open(table)?;
        let is_long = (LONG..u64::MAX).contains(&open.bytes);
        let stages = super::listing::stages(&self.entries);
        let context = Context {
            plan: &self.plan,
            known: &known,
            by: &by,
            now: self.clock.now(),
            stage: stages.last_key_value().map(|(_, name)| name.as_str()),
            last_round: rounds.last(),
            defaults: with,
            delimiter: open.delimiter,
        };
        let withdrawn = Withdrawn::of(self.entries.iter());
        let again = if with.again {
            None
        } else {
            Some(self.of_all(|all| Again::of(all.filter(|e| !withdrawn.contains(e.seq))))?)
        };
        let held = if open.is_export() { Some(self.of_all(|all| Held::of(all, withdrawn))?) } else { None };
        let mut lines = Lines {
            table,
            open,
            rounds,
            asking,
            since: Done::of(&self.plan, &self.entries),
            held,
            again,
            mark: Mark::default(),
            done: 0,
            passed: 0,
            assumed_forward: 0,
            last_exported: 0,
        };
        let mut first = lines.next(&context, progress)?;
        if first.is_none() {
            let none = if lines.passed > 0 { FileFault::NothingCounted } else { FileFault::NoReadings };
            return Err(SessionError::file(table, none));
        }
        // Most tables give no time, so all their lines have the same.
        let mut last = When { at: context.now, offset: offset_here(context.now) };
        let entries = std::iter::from_fn(|| {
            let next = first.take().map(Ok).or_else(|| lines.next(&context, progress).transpose());
            let row = next.or_else(|| lines.came_before().map(Err))?;
            Some(row.map(|Row { at, by, reading, .. }| {
                if at != last.at {
                    last = When { at, offset: offset_here(at) };
                }
                NewEntry { when: last, by, what: What::Reading(reading) }
            }))
        });
        let head = if is_long {
            self.journal.append_long::<String, SessionError>(entries)?
        } else {
            self.journal.append_many::<String, SessionError>(entries)?
        };
        self.journal.merge();
        let (first_entry, last_entry) = (head.seq + 1 - lines.done, head.seq);
        let Lines { done: readings, passed: passed_over, assumed_forward, .. } = lines;
        Ok(ImportReport { readings, passed_over, assumed_forward, first_entry, last_entry })
    }
}

/// The lines of a table, valid ones one by one; after a bad line, the rest are still checked, so that all bad lines
/// are reported.
struct Lines<'t> {
    table: &'t Path,
    open: Table,
    rounds: Rounds,
    asking: Asking<'t>,
    /// What was done to the wing, to which a time in the table is compared.
    since: Done<'t>,
    /// For an export: the readings already in the log.
    held: Option<Held>,
    again: Option<Again>,
    mark: Mark,
    done: u64,
    passed: u64,
    assumed_forward: u64,
    /// The number that the last reading had in its export.
    last_exported: u64,
}

impl Lines<'_> {
    fn next(&mut self, context: &Context<'_>, progress: Progress<'_>) -> Result<Option<Row>, SessionError> {
        match self.read(context, progress)? {
            None => Ok(None),
            Some(Ok(row)) => Ok(Some(row)),
            Some(Err(first)) => {
                let (mut bad, mut lines) = (1, vec![first]);
                while let Some(row) = self.read(context, progress)? {
                    if let Err(next) = row {
                        bad += 1;
                        lines.extend((lines.len() < MOST_NAMED).then_some(next));
                    }
                }
                Err(SessionError::Table { path: self.table.to_owned(), lines, bad })
            }
        }
    }

    fn read(
        &mut self,
        context: &Context<'_>,
        progress: Progress<'_>,
    ) -> Result<Option<Result<Row, BadLine>>, SessionError> {
        loop {
            let Some(Numbered { line, row }) = self.open.next_row(context, &mut self.mark) else {
                return Ok(None);
            };
            let row = match row {
                Ok(None) => {
                    self.passed += 1;
                    continue;
                }
                Ok(Some(row)) => self.asked(row, context),
                Err(why) => Err(why),
            };
            self.done += 1;
            let told = self.done.is_multiple_of(TELL_EVERY);
            if told && !progress(self.done, self.open.position(), self.open.bytes) {
                return Err(Refusal::ImportStopped.into());
            }
            return Ok(Some(row.map_err(|why| BadLine { line, why })));
        }
    }

    /// Why a line of an export is not imported.
    fn refuses(&self, line: &Row) -> Option<LineFault> {
        let own = self.held.as_ref().and_then(|held| held.refuses(line.at, &line.reading));
        own.or_else(|| {
            let since = self.since.stale(&line.reading.point, line.at)?.clone();
            Some(LineFault::Before { at: line.at, since })
        })
    }

    /// The line with its round, and with the question it answers with yes; an error if it leaves a question
    /// unanswered.
    fn asked(&mut self, mut line: Row, context: &Context<'_>) -> Result<Row, LineFault> {
        line.number(&self.rounds);
        if let Some(seq) = line.exported {
            self.refuses(&line).map_or(Ok(()), Err)?;
            let after = std::mem::replace(&mut self.last_exported, seq);
            if seq <= after {
                return Err(LineFault::OutOfOrder { seq, after });
            }
        }
        let (done, stated) = (&self.since, line.dated.then_some(line.at));
        let odd = match line.asked {
            Asked::Before => None,
            Asked::Here => {
                let instrument = line.reading.instrument.as_ref().and_then(|name| context.known.get(name));
                self.asking.question(&line.reading, instrument).or(line.off_step.take())
            }
        };
        // The times of an export are compared above with what was done since.
        let when = stated.and_then(|at| match line.exported {
            Some(_) => done.to_come(at, context.now),
            None => done.question(&line.reading.point, at, context.now),
        });
        let question = Question::both(odd, when);
        let answered = answered(question, line.sure).map_err(|why| match why {
            SessionError::Asks(question) => LineFault::Asks(question),
            _ => LineFault::NothingAsked,
        })?;
        line.reading.asked = record::Asked::both(line.reading.asked.take(), answered);
        self.assumed_forward += u64::from(line.faces == Faces::Assumed);
        self.asking.saw(&line.reading);
        self.rounds.saw_reading(line.at, &line.reading);
        if let Some(again) = &mut self.again {
            again.saw(&line.reading);
        }
        Ok(line)
    }

    /// At the end of the table: why it is not imported, if the log already has the same readings.
    fn came_before(&mut self) -> Option<SessionError> {
        let Before { first, last } = self.again.take()?.found()?;
        let table = self.table.display().to_string();
        Some(Refusal::CameBefore { table, rows: self.done, first, last }.into())
    }
}
