//! Writes many logs into one folder, in columns, for engines that read such folders directly: Parquet files in
//! folders named by the kind of wing (`figures/wing_kind=left-5e884898/part-0.parquet`).
//!
//! The folder is made beside its place and moved there when it is complete. An earlier export of ours is replaced,
//! nothing else is.

mod folder;
mod kind;
mod rows;
mod table;

use super::Session;
use super::many::{self, Heads, OpenLog};
use crate::SessionError;
use assess::series::NotCounted;
use folder::Folder;
use rows::{Head, Tables};
use serde::Serialize;
use std::path::{Path, PathBuf};

#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct ManyExported {
    /// Logs that count.
    pub wings: u64,
    pub kinds: usize,
    /// Entries of all logs that could be read.
    pub entries: u64,
    pub folder: String,
    /// Logs that do not count; they are in the table `wings` with the reason.
    pub not_counted: Vec<NotCounted>,
}

impl Session {
    /// Writes these logs into a folder: their figures at the end of `stage`, or of their closing stages, and every
    /// entry.
    ///
    /// # Errors
    /// If the folder has something in it that is not one of our exports, or cannot be written.
    pub fn export_many(
        logs: &[PathBuf],
        stage: Option<&str>,
        into: &Path,
    ) -> Result<ManyExported, SessionError> {
        let paths = many::paths(logs)?;
        let folder = Folder::begin(into)?;
        let mut tables = Tables::new(folder.part());
        let mut heads = Heads::default();
        let mut out = ManyExported { folder: into.display().to_string(), ..ManyExported::default() };
        // One at a time for each processor: each holds all its entries.
        many::each(
            &paths,
            1,
            |path| OpenLog::open(path, stage),
            |log| {
                let OpenLog { one, session } = match log {
                    Ok(log) => log,
                    Err(not) => {
                        tables.head(kind::UNREADABLE, &Head::not(&not.log, &not.why.to_string()))?;
                        out.not_counted.push(not);
                        return Ok(());
                    }
                };
                let (kind, name) = (kind::of(&one.plan), one.name.clone());
                let counted = one.counted(&mut heads).and_then(|one| Ok((one.wing?, one.stage)));
                match counted {
                    Ok((wing, stage)) => {
                        tables.wing(&kind, &wing, stage.as_deref())?;
                        out.wings += 1;
                    }
                    Err(why) => {
                        tables.head(&kind, &Head::not(&name, &why.to_string()))?;
                        out.not_counted.push(why.of(&name));
                    }
                }
                out.entries += tables.entries(&kind, &name, session.entries())?;
                Ok(())
            },
        )?;
        out.kinds = tables.finish()?;
        folder.keep()?;
        Ok(out)
    }
}
