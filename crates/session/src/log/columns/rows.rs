//! The tables, and what goes into each row.

use super::table::{Cell, Table, Value, cell};
use crate::refusal::Refusal;
use crate::{Cannot, SessionError};
use assess::series::{Moved, Wing};
use record::{Entry, What};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// The most kinds of wing in one folder: each keeps its files open.
const MOST_KINDS: usize = 64;

pub struct Head<'a> {
    log: &'a str,
    wing: Option<&'a str>,
    stage: Option<&'a str>,
    finished: Option<i64>,
    entries: Option<u64>,
    gate: Option<&'a str>,
    why: Option<&'a str>,
}

impl<'a> Head<'a> {
    pub const fn not(log: &'a str, why: &'a str) -> Self {
        Self { log, wing: None, stage: None, finished: None, entries: None, gate: None, why: Some(why) }
    }
}

/// All tables of all kinds of wing: by kind, then by table name.
pub struct Tables {
    folder: PathBuf,
    open: BTreeMap<String, BTreeMap<&'static str, Table>>,
}

impl Tables {
    pub fn new(folder: &Path) -> Self {
        Self { folder: folder.to_owned(), open: BTreeMap::new() }
    }

    fn push(&mut self, table: &'static str, kind: &str, row: &[Cell<'_>]) -> Result<(), SessionError> {
        if let Some(open) = self.open.get_mut(kind).and_then(|tables| tables.get_mut(table)) {
            return open.push(row);
        }
        if !self.open.contains_key(kind) && self.open.len() >= MOST_KINDS {
            return Err(Refusal::ManyKinds(MOST_KINDS).into());
        }
        let folder = self.folder.join(table).join(format!("wing_kind={kind}"));
        fs::create_dir_all(&folder).map_err(|e| SessionError::io(&folder, Cannot::Make, e))?;
        let mut new = Table::begin(&folder.join("part-0.parquet"), row)?;
        new.push(row)?;
        self.open.entry(kind.to_owned()).or_default().insert(table, new);
        Ok(())
    }

    pub fn head(&mut self, kind: &str, h: &Head<'_>) -> Result<(), SessionError> {
        let row = [
            cell("log", h.log),
            cell("wing", h.wing),
            cell("stage", h.stage),
            cell("finished", Value::Instant(h.finished)),
            cell("entries", h.entries),
            cell("gate", h.gate),
            cell("counted", h.why.is_none()),
            cell("why", h.why),
        ];
        self.push("wings", kind, &row)
    }

    /// A wing that counts, with its figures, changes and instruments.
    pub fn wing(&mut self, kind: &str, wing: &Wing, stage: Option<&str>) -> Result<(), SessionError> {
        let log = wing.log.as_str();
        self.head(
            kind,
            &Head {
                log,
                wing: Some(&wing.wing),
                stage,
                finished: Some(wing.at.millis()),
                entries: Some(wing.entries),
                gate: Some(wing.gate.word()),
                why: None,
            },
        )?;
        for f in &wing.figures {
            let row = [
                cell("log", log),
                cell("kind", f.kind.word()),
                cell("about", f.about.as_str()),
                cell("unit", f.unit.base_symbol()),
                cell("value", f.value),
                cell("u", f.u),
                cell("lower_limit", f.lower),
                cell("upper_limit", f.upper),
                cell("verdict", f.verdict.map(|v| v.word())),
            ];
            self.push("figures", kind, &row)?;
        }
        for c in &wing.changes {
            let (what, station) = match &c.what {
                Moved::Setting => ("setting", None),
                Moved::WashoutError => ("washout_error", None),
                Moved::Station(name) => ("station", Some(name.as_str())),
            };
            let during = c.during.join(" + ");
            let row = [
                cell("log", log),
                cell("during", during.as_str()),
                cell("what", what),
                cell("station", station),
                cell("change_deg", c.change_deg),
                cell("u_deg", c.u_deg),
            ];
            self.push("changes", kind, &row)?;
        }
        for f in &wing.found {
            let row = [
                cell("log", log),
                cell("found_at", Value::Instant(Some(f.at.millis()))),
                cell("instrument", f.instrument.as_str()),
                cell("number", f.number.as_deref()),
                cell("found", f.kind.word()),
                cell("value_deg", f.value),
                cell("u_deg", f.u),
                cell("failed", f.failed.is_some()),
            ];
            self.push("instruments", kind, &row)?;
        }
        Ok(())
    }

    /// Every entry of a log; returns how many.
    pub fn entries(&mut self, kind: &str, log: &str, entries: &[Entry]) -> Result<u64, SessionError> {
        let withdrawn: BTreeMap<u64, u64> = entries
            .iter()
            .filter_map(|e| match e.what {
                What::Withdrawn { seq, .. } => Some((seq, e.seq)),
                _ => None,
            })
            .collect();
        for e in entries {
            let body = serde_json::to_value(&e.what).map_err(SessionError::because)?;
            let reading = e.what.reading();
            let point = reading.map(|r| r.point.to_string());
            let detail = body.get("body").map(ToString::to_string);
            let row = [
                cell("log", log),
                cell("seq", e.seq),
                cell("written", Value::Instant(Some(e.at.millis()))),
                cell("written_by", e.by.as_str()),
                cell("kind", body.get("kind").and_then(|k| k.as_str())),
                cell("point", point.as_deref()),
                cell("text", reading.map(|r| r.text.as_str())),
                cell("value", reading.map(|r| r.value)),
                cell("unit", reading.map(|r| r.quantity.base_symbol())),
                cell("facing", reading.and_then(|r| r.facing).map(|f| f.word())),
                cell("instrument", reading.and_then(|r| r.instrument.as_deref())),
                cell("round", reading.map(|r| u64::from(r.round))),
                cell("withdrawn_by", withdrawn.get(&e.seq).copied()),
                cell("detail", detail.as_deref()),
            ];
            self.push("entries", kind, &row)?;
        }
        Ok(entries.len() as u64)
    }

    /// Writes what remains; returns how many kinds of wing there are.
    pub fn finish(self) -> Result<usize, SessionError> {
        let kinds = self.open.keys().filter(|kind| *kind != super::kind::UNREADABLE).count();
        self.open.into_values().flat_map(BTreeMap::into_values).try_for_each(Table::finish)?;
        Ok(kinds)
    }
}
