//! Many logs, one after the other: each opened, cut at the end of one stage, and never taken twice.

use super::Session;
use crate::{SessionError, nearby, shown};
use record::{Entry, Plan};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// A log that can be looked at.
pub(super) struct OneLog {
    /// What it is called.
    pub name: String,
    pub session: Session,
}

/// What is looked at of a log.
pub(super) struct Cut {
    /// Its entries up to the end of the stage.
    pub entries: Vec<Entry>,
    /// That stage; none for a plan without stages.
    pub stage: Option<String>,
}

/// A log that cannot, and why.
pub(super) struct Not {
    pub name: String,
    pub why: String,
}

/// The logs named, and those of the folders named, in the order of their names.
///
/// # Errors
/// When a folder holds none.
pub(super) fn paths(named: &[PathBuf]) -> Result<Vec<PathBuf>, SessionError> {
    let mut out = Vec::new();
    for path in named {
        if path.is_dir() {
            let inside = nearby::logs_in(path);
            if inside.is_empty() {
                let folder = path.display().to_string();
                return Err(SessionError::refused(format!(
                    "there is no log in the folder {}",
                    shown(&folder)
                )));
            }
            out.extend(inside);
        } else {
            out.push(path.clone());
        }
    }
    Ok(out)
}

/// Heads that logs had on the way, to tell when two of them are one.
#[derive(Default)]
pub(super) struct Heads {
    passed: BTreeMap<(u64, String), String>,
    last: BTreeMap<(u64, String), String>,
}

impl Heads {
    /// The log that this one is a copy or an earlier or later state of, if it was seen before: they share at least half of the
    /// shorter one.
    fn seen(&mut self, name: &str, session: &Session) -> Result<Option<String>, SessionError> {
        let mut own = Vec::new();
        let mut at = 1;
        while at <= session.head.seq {
            let hash = session.journal.hash_at(at)?;
            own.extend(hash.map(|hash| (at, hash.to_string())));
            at *= 2;
        }
        let Some(last) = own.last() else { return Ok(None) };
        let same = self.passed.get(last).or_else(|| own.iter().find_map(|key| self.last.get(key))).cloned();
        if same.is_none() {
            self.last.insert(last.clone(), name.to_owned());
            own.into_iter().for_each(|key| _ = self.passed.entry(key).or_insert_with(|| name.to_owned()));
        }
        Ok(same)
    }
}

/// Opens a log.
pub(super) fn open(path: &Path) -> Result<OneLog, Not> {
    let name = path.display().to_string();
    match Session::open_read_only(path) {
        Ok(session) => Ok(OneLog { name, session }),
        Err(why) => Err(Not::because(name, &why)),
    }
}

impl OneLog {
    /// Its entries up to the end of `stage`, or of its closing stage.
    pub fn cut(&self, stage: Option<&str>, heads: &mut Heads) -> Result<Cut, Not> {
        self.part(stage, heads).map_err(|why| Not::because(self.name.clone(), &why))
    }

    fn part(&self, stage: Option<&str>, heads: &mut Heads) -> Result<Cut, SessionError> {
        let session = &self.session;
        if let Some(same) = heads.seen(&self.name, session)? {
            return Err(SessionError::refused(format!("the same log as {}, or a state of it", shown(&same))));
        }
        let stage = match stage {
            Some(stage) => Some(session.stage_named(stage)?),
            None => closing(session.plan()),
        };
        let entries = match &stage {
            Some(stage) => session.history_to(stage)?,
            None => session.entries().to_vec(),
        };
        Ok(Cut { entries, stage })
    }
}

impl Not {
    /// Named, with the reason on one line.
    fn because(name: String, why: &SessionError) -> Self {
        let why = why.to_string().replace('\n', " ");
        let why = why.strip_prefix(&format!("{name}: ")).unwrap_or(&why).to_owned();
        Self { name, why }
    }
}

fn closing(plan: &Plan) -> Option<String> {
    plan.closing_stage().map(|(_, stage)| stage.name.clone())
}
