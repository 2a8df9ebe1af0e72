//! A sheet, or an entry and its hash, read from paper.

use super::super::sheet::stamp;
use crate::refusal::Refusal;
use quantity::shown::counted;
use serde::Serialize;
use session::{HashOnPaper, OnPaper, Session, SessionError, Since, Verified};
use std::path::Path;

/// A result, and the text about it.
pub struct Told<T> {
    pub view: T,
    pub words: String,
}

/// The result for an entry on paper.
#[derive(Serialize)]
pub struct EntryView {
    entry: u64,
    digits_compared: usize,
    pub fits: bool,
}

pub fn on_paper(log: &Verified, paper: &HashOnPaper) -> Result<Told<EntryView>, SessionError> {
    let found = log.on_paper(paper)?;
    let words = found.words(paper, log.head().entries);
    let fits = matches!(found, OnPaper::Fits(_));
    let view = EntryView { entry: paper.entry, digits_compared: paper.digits.len(), fits };
    Ok(Told { view, words })
}

#[derive(Serialize)]
pub struct SheetView {
    /// Whether its fingerprint is a state of this log.
    of_this_log: bool,
    /// Whether it is byte for byte what this program writes for that state; `None` if it is not of this log.
    pub as_made: Option<bool>,
    entries_on_it: u64,
    entries_since: Option<u64>,
}

/// Whether a sheet is of this log and unchanged.
pub fn on_sheet(of: &Path, log: &Verified, path: &Path) -> Result<Told<SheetView>, SessionError> {
    let bytes = session::read_bytes(path)?;
    let mark = sheet::mark_of_pdf(&bytes).ok_or_else(|| {
        let name = path.to_owned();
        if sheet::is_comparison(&bytes) {
            Refusal::Comparison(name)
        } else if sheet::is_blank_form(&bytes) {
            Refusal::BlankForm(name)
        } else {
            Refusal::NoSheet(name)
        }
    })?;
    let entries = mark.fingerprint.entries;
    let since = log.since(entries, &mark.fingerprint.head)?;
    let (entries_since, whose) = match since {
        Since::Same => (Some(0), "the sheet is of this log as it is now".to_owned()),
        Since::Earlier(n) => {
            let added = counted(n, "entry was", "entries were");
            (Some(n), format!("the sheet is of this log; {added} added since"))
        }
        Since::Foreign => (None, "the sheet is not of this log".to_owned()),
    };
    let as_made = entries_since.map(|_| made_again(of, &mark)).transpose()?.map(|again| again == bytes);
    let words = match as_made {
        None => whose,
        Some(true) => {
            format!("{whose}\nidentical, byte for byte, to the sheet made from those {entries} entries")
        }
        Some(false) => format!(
            "{whose}\nit is NOT the sheet that this program makes from those {entries} entries: somebody altered it, or another \
             version made it; make the sheet again and go by that"
        ),
    };
    let of_this_log = since != Since::Foreign;
    let view = SheetView { of_this_log, as_made, entries_on_it: entries, entries_since };
    Ok(Told { view, words })
}

/// The sheet for the log with the entries it had then.
fn made_again(of: &Path, mark: &sheet::Mark) -> Result<Vec<u8>, SessionError> {
    let then = Session::open_as_of(of, mark.fingerprint.entries)?;
    let assessment = then.assessment_by_stage();
    let stamp = stamp(&then, &assessment, mark.paper, mark.form.clone());
    drop(then);
    sheet::pdf(&assessment, &stamp).map_err(SessionError::because)
}
