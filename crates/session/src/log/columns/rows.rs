//! The tables, and what goes into each row.

use super::table::{Column, Holds, Table, Value};
use crate::SessionError;
use crate::refusal::Refusal;
use assess::series::{Moved, Wing};
use record::{Entry, What};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// Most kinds of wing in one folder: each has its files open.
const MOST_KINDS: usize = 64;

/// A table's name and its columns.
struct Form {
    name: &'static str,
    columns: &'static [Column],
}

const WINGS: Form = Form {
    name: "wings",
    columns: &[
        ("log", Holds::Text),
        ("wing", Holds::Text),
        ("stage", Holds::Text),
        ("finished", Holds::Instant),
        ("entries", Holds::Count),
        ("gate", Holds::Text),
        ("counted", Holds::Truth),
        ("why", Holds::Text),
    ],
};
const FIGURES: Form = Form {
    name: "figures",
    columns: &[
        ("log", Holds::Text),
        ("kind", Holds::Text),
        ("about", Holds::Text),
        ("unit", Holds::Text),
        ("value", Holds::Number),
        ("u", Holds::Number),
        ("lower_limit", Holds::Number),
        ("upper_limit", Holds::Number),
        ("verdict", Holds::Text),
    ],
};
const CHANGES: Form = Form {
    name: "changes",
    columns: &[
        ("log", Holds::Text),
        ("during", Holds::Text),
        ("what", Holds::Text),
        ("station", Holds::Text),
        ("change_deg", Holds::Number),
        ("u_deg", Holds::Number),
    ],
};
const INSTRUMENTS: Form = Form {
    name: "instruments",
    columns: &[
        ("log", Holds::Text),
        ("found_at", Holds::Instant),
        ("instrument", Holds::Text),
        ("number", Holds::Text),
        ("found", Holds::Text),
        ("value_deg", Holds::Number),
        ("u_deg", Holds::Number),
        ("failed", Holds::Truth),
    ],
};
const ENTRIES: Form = Form {
    name: "entries",
    columns: &[
        ("log", Holds::Text),
        ("seq", Holds::Count),
        ("written", Holds::Instant),
        ("written_by", Holds::Text),
        ("kind", Holds::Text),
        ("point", Holds::Text),
        ("text", Holds::Text),
        ("value", Holds::Number),
        ("unit", Holds::Text),
        ("facing", Holds::Text),
        ("instrument", Holds::Text),
        ("round", Holds::Count),
        ("withdrawn_by", Holds::Count),
        ("detail", Holds::Text),
    ],
};

pub struct Head<'a> {
    log: &'a str,
    wing: Option<&'a str>,
    stage: Option<&'a str>,
    finished: Option<i64>,
    entries: Option<i64>,
    gate: Option<&'a str>,
    why: Option<&'a str>,
}

impl<'a> Head<'a> {
    pub const fn not(log: &'a str, why: &'a str) -> Self {
        Self { log, wing: None, stage: None, finished: None, entries: None, gate: None, why: Some(why) }
    }
}

pub struct Tables {
    folder: PathBuf,
    open: BTreeMap<(&'static str, String), Table>,
    kinds: std::collections::BTreeSet<String>,
}

impl Tables {
    pub fn new(folder: &Path) -> Self {
        Self { folder: folder.to_owned(), open: BTreeMap::new(), kinds: std::collections::BTreeSet::new() }
    }

    fn table(&mut self, form: &Form, kind: &str) -> Result<&mut Table, SessionError> {
        if !self.kinds.contains(kind) {
            if self.kinds.len() >= MOST_KINDS {
                return Err(Refusal::ManyKinds(MOST_KINDS).into());
            }
            self.kinds.insert(kind.to_owned());
        }
        let key = (form.name, kind.to_owned());
        match self.open.entry(key) {
            std::collections::btree_map::Entry::Occupied(found) => Ok(found.into_mut()),
            std::collections::btree_map::Entry::Vacant(place) => {
                let folder = self.folder.join(form.name).join(format!("wing_kind={kind}"));
                fs::create_dir_all(&folder).map_err(|e| SessionError::io(&folder, "cannot be made", e))?;
                Ok(place.insert(Table::begin(&folder.join("part-0.parquet"), form.columns)?))
            }
        }
    }

    pub fn head(&mut self, kind: &str, h: &Head<'_>) -> Result<(), SessionError> {
        self.table(&WINGS, kind)?.push(&[
            Value::Text(Some(h.log)),
            Value::Text(h.wing),
            Value::Text(h.stage),
            Value::Instant(h.finished),
            Value::Count(h.entries),
            Value::Text(h.gate),
            Value::Truth(Some(h.why.is_none())),
            Value::Text(h.why),
        ])
    }

    /// A wing that is counted, with its figures, changes and instruments.
    pub fn wing(&mut self, kind: &str, wing: &Wing, stage: Option<&str>) -> Result<(), SessionError> {
        let log = wing.log.as_str();
        self.head(
            kind,
            &Head {
                log,
                wing: Some(&wing.wing),
                stage,
                finished: Some(wing.at.millis()),
                entries: Some(whole(wing.entries)),
                gate: Some(wing.gate.word()),
                why: None,
            },
        )?;
        for f in &wing.figures {
            self.table(&FIGURES, kind)?.push(&[
                Value::Text(Some(log)),
                Value::Text(Some(f.kind.word())),
                Value::Text(Some(&f.about)),
                Value::Text(Some(f.unit.base_symbol())),
                Value::Number(Some(f.value)),
                Value::Number(Some(f.u)),
                Value::Number(f.lower),
                Value::Number(f.upper),
                Value::Text(f.verdict.map(|v| v.word())),
            ])?;
        }
        for c in &wing.changes {
            let (what, station) = match &c.what {
                Moved::Setting => ("setting", None),
                Moved::WashoutError => ("washout_error", None),
                Moved::Station(name) => ("station", Some(name.as_str())),
            };
            self.table(&CHANGES, kind)?.push(&[
                Value::Text(Some(log)),
                Value::Text(Some(&c.during.join(" + "))),
                Value::Text(Some(what)),
                Value::Text(station),
                Value::Number(Some(c.change_deg)),
                Value::Number(Some(c.u_deg)),
            ])?;
        }
        for f in &wing.found {
            self.table(&INSTRUMENTS, kind)?.push(&[
                Value::Text(Some(log)),
                Value::Instant(Some(f.at.millis())),
                Value::Text(Some(&f.instrument)),
                Value::Text(f.number.as_deref()),
                Value::Text(Some(f.kind.word())),
                Value::Number(Some(f.value)),
                Value::Number(Some(f.u)),
                Value::Truth(Some(f.failed.is_some())),
            ])?;
        }
        Ok(())
    }

    /// Every entry of a log; how many.
    pub fn entries(&mut self, kind: &str, log: &str, entries: &[Entry]) -> Result<u64, SessionError> {
        let withdrawn: BTreeMap<u64, u64> = entries
            .iter()
            .filter_map(|e| match e.what {
                What::Withdrawn { seq, .. } => Some((seq, e.seq)),
                _ => None,
            })
            .collect();
        let table = self.table(&ENTRIES, kind)?;
        for e in entries {
            let body = serde_json::to_value(&e.what).map_err(SessionError::because)?;
            let reading = match &e.what {
                What::Reading(reading) => Some(reading),
                _ => None,
            };
            let point = reading.map(|r| r.point.to_string());
            table.push(&[
                Value::Text(Some(log)),
                Value::Count(Some(whole(e.seq))),
                Value::Instant(Some(e.at.millis())),
                Value::Text(Some(&e.by)),
                Value::Text(body.get("kind").and_then(|k| k.as_str())),
                Value::Text(point.as_deref()),
                Value::Text(reading.map(|r| r.text.as_str())),
                Value::Number(reading.map(|r| r.value)),
                Value::Text(reading.map(|r| r.quantity.base_symbol())),
                Value::Text(reading.and_then(|r| r.facing).map(|f| f.word())),
                Value::Text(reading.and_then(|r| r.instrument.as_deref())),
                Value::Count(reading.map(|r| i64::from(r.round))),
                Value::Count(withdrawn.get(&e.seq).map(|seq| whole(*seq))),
                Value::Text(body.get("body").map(ToString::to_string).as_deref()),
            ])?;
        }
        Ok(entries.len() as u64)
    }

    /// Writes what is left; how many kinds of wing there are.
    pub fn finish(self) -> Result<usize, SessionError> {
        for table in self.open.into_values() {
            table.finish()?;
        }
        Ok(self.kinds.iter().filter(|k| *k != super::kind::UNREADABLE).count())
    }
}

fn whole(n: u64) -> i64 {
    i64::try_from(n).unwrap_or(i64::MAX)
}
