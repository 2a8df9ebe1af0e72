//! Many logs in one folder, in columns, for engines that read such folders as they are: Parquet files in folders named by the kind of
//! wing (`figures/wing_kind=left-5e884898/part-0.parquet`).
//!
//! The folder is made beside its place and moved there when it is whole. An earlier export of ours is replaced, nothing else is.

mod folder;
mod kind;
mod rows;
mod table;

use super::Session;
use super::many::{self, Heads};
use crate::SessionError;
use assess::series::{NotCounted, Wing, WingLog};
use folder::Folder;
use rows::{Head, Tables};
use std::path::{Path, PathBuf};

/// What was written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ManyExported {
    /// Logs that are counted.
    pub wings: u64,
    /// Kinds of wing.
    pub kinds: usize,
    /// Entries of all logs that could be read.
    pub entries: u64,
    /// Logs that are not counted; in the table `wings` with the reason.
    pub not_counted: Vec<NotCounted>,
}

impl Session {
    /// Writes these logs into a folder: their figures at the end of `stage`, or of their closing stages, and every entry.
    ///
    /// # Errors
    /// When the folder holds something that is no export of ours, or cannot be written.
    pub fn export_many(
        logs: &[PathBuf],
        stage: Option<&str>,
        into: &Path,
    ) -> Result<ManyExported, SessionError> {
        let paths = many::paths(logs)?;
        let folder = Folder::begin(into)?;
        let mut tables = Tables::new(folder.part());
        let mut heads = Heads::default();
        let mut out = ManyExported { wings: 0, kinds: 0, entries: 0, not_counted: vec![] };
        for path in paths {
            let one = match many::open(&path) {
                Ok(one) => one,
                Err(not) => {
                    tables.head(kind::UNREADABLE, &Head::not(&not.name, &not.why))?;
                    out.not_counted.push(NotCounted { log: not.name, why: not.why });
                    continue;
                }
            };
            let kind = kind::of(one.session.plan());
            let (plan, chain) = (one.session.plan(), one.session.chain());
            let wing = one.cut(stage, &mut heads).map_err(|not| not.why).and_then(|cut| {
                let log = WingLog { name: &one.name, plan, entries: &cut.entries, chain };
                Wing::of(log).map(|wing| (wing, cut.stage)).map_err(|why| why.to_string())
            });
            match wing {
                Ok((wing, stage)) => {
                    tables.wing(&kind, &wing, stage.as_deref())?;
                    out.wings += 1;
                }
                Err(why) => {
                    tables.head(&kind, &Head::not(&one.name, &why))?;
                    out.not_counted.push(NotCounted { log: one.name.clone(), why });
                }
            }
            out.entries += tables.entries(&kind, &one.name, one.session.entries())?;
        }
        out.kinds = tables.finish()?;
        folder.keep()?;
        Ok(out)
    }
}
