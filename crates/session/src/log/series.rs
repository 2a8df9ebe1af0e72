//! What many logs of one kind of wing teach, and advice that starts from it.

use super::Session;
use super::many::{self, Heads, OpenLog, WhyNot};
use crate::file_fault::FileFault;
use crate::refusal::Refusal;
use crate::{FileSort, SessionError};
use assess::advice::{Liked, advise_like};
use assess::series::stiffness::Stiffness;
use assess::series::{Gathering, Series, geometry};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// How many logs each processor may be ahead of the one being taken in.
const AHEAD: usize = 32;

/// The part of a series that advice reads.
#[derive(Deserialize)]
struct Earlier {
    format: u32,
    geometry: BTreeMap<String, String>,
    jig: BTreeMap<String, String>,
    stiffness: Option<Stiffness>,
}

impl Session {
    /// What these logs teach together, each at the end of `stage` or, without one, of its closing stage. A log that
    /// cannot be judged is named in the result.
    ///
    /// # Errors
    /// If logs are of different wings, or none could be opened with that stage in its plan.
    pub fn series(logs: &[PathBuf], stage: Option<&str>) -> Result<Series, SessionError> {
        let mut gathering = Gathering::default();
        let mut heads = Heads::default();
        let mut at: Option<Option<String>> = None;
        let open = |path: &Path| OpenLog::open(path, stage).map(|log| log.one);
        many::each(&many::paths(logs)?, AHEAD, open, |log| {
            let one = match log {
                Ok(one) => one,
                Err(not) => {
                    gathering.leave_out(not);
                    return Ok(());
                }
            };
            if !gathering.is_alike(&one.name, &one.plan) {
                return Ok(());
            }
            let (name, plan) = (one.name.clone(), one.plan.clone());
            match one.counted(&mut heads) {
                Ok(one) if *at.get_or_insert_with(|| one.stage.clone()) != one.stage => {
                    gathering.leave_out(WhyNot::OtherStage.of(&name));
                }
                Ok(one) => gathering.put(&name, &plan, one.wing),
                Err(why) => gathering.leave_out(why.of(&name)),
            }
            Ok(())
        })?;
        Ok(gathering.finish(at.flatten()).map_err(Refusal::OtherWing)?)
    }

    /// What to move, starting from earlier wings, as written to a file by `series --json`.
    ///
    /// # Errors
    /// If the file is not a series, is of another kind of wing or another jig, or its wings had no moves.
    pub fn advice_like(&self, series: &Path) -> Result<Liked, SessionError> {
        let text = crate::files::read_text(series, FileSort::Series)?;
        let wrong = |why| SessionError::file(series, why);
        let earlier: Earlier = serde_json::from_str(&text).map_err(|e| wrong(FileFault::NoSeries(e)))?;
        if earlier.format != 1 {
            return Err(wrong(FileFault::OtherFormat(earlier.format)));
        }
        let plan = self.plan();
        let unlike = geometry::unlike(&earlier.geometry, &geometry::geometry(plan));
        if !unlike.is_empty() {
            return Err(wrong(FileFault::OtherKind(unlike)));
        }
        let unlike = geometry::unlike(&earlier.jig, &geometry::jig(plan));
        if !unlike.is_empty() {
            return Err(wrong(FileFault::OtherJig(unlike)));
        }
        let stiffness = earlier.stiffness.ok_or_else(|| wrong(FileFault::NoMoves))?;
        let assessment = self.assessment();
        advise_like(plan, self.entries(), &assessment, &stiffness)
            .ok_or_else(|| wrong(FileFault::OtherSupports))
    }
}
