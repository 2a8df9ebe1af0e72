//! A sheet, or an entry and its hash, read off paper.

use super::super::sheet::stamp;
use super::super::table::refused;
use crate::refusal::Refusal;
use serde::Serialize;
use session::{HASH_DIGITS, HashOnPaper, OnPaper, Session, SessionError, Since, Verified};
use std::path::Path;
use std::str::FromStr;

/// The beginning of a hash, as typed; it may be only the first of several groups.
#[derive(Clone, Debug)]
pub struct HashDigits(String);

/// Hexadecimal digits, spaces between them left out.
pub fn group(text: &str) -> Result<String, String> {
    let digits: String = text.chars().filter(|c| !c.is_whitespace()).collect();
    if digits.is_empty() || !digits.bytes().all(|b| b.is_ascii_hexdigit()) {
        return Err("a hash has the digits 0 to 9 and a to f".to_owned());
    }
    if digits.len() > *HASH_DIGITS.end() {
        return Err(format!("a hash has {} digits", HASH_DIGITS.end()));
    }
    Ok(digits.to_ascii_lowercase())
}

impl FromStr for HashDigits {
    type Err = String;
    fn from_str(text: &str) -> Result<Self, String> {
        group(text).map(Self)
    }
}

impl HashDigits {
    pub fn with(&self, groups: &[String]) -> Result<String, SessionError> {
        let digits = self.0.clone() + &groups.concat();
        if HASH_DIGITS.contains(&digits.len()) {
            return Ok(digits);
        }
        Err(Refusal::ShortHash(digits.len()).into())
    }
}

/// What was found of an entry on paper.
#[derive(Serialize)]
pub struct EntryView {
    entry: u64,
    digits_compared: usize,
    pub fits: bool,
}

pub fn on_paper(log: &Verified, paper: &HashOnPaper) -> Result<(EntryView, String), SessionError> {
    let found = log.on_paper(paper)?;
    let words = found.words(paper, log.head().entries);
    let fits = matches!(found, OnPaper::Fits(_));
    Ok((EntryView { entry: paper.entry, digits_compared: paper.digits.len(), fits }, words))
}

#[derive(Serialize)]
pub struct SheetView {
    /// Its fingerprint is a state of this log.
    of_this_log: bool,
    /// It is byte for byte what this program writes of that state; none if it is not of this log.
    pub as_made: Option<bool>,
    entries_on_it: u64,
    entries_since: Option<u64>,
}

/// Whether a sheet is of this log and as it was made.
pub fn on_sheet(of: &Path, log: &Verified, path: &Path) -> Result<(SheetView, String), SessionError> {
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
        Since::Earlier(1) => (Some(1), "the sheet is of this log; 1 entry was added since".to_owned()),
        Since::Earlier(n) => (Some(n), format!("the sheet is of this log; {n} entries were added since")),
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
    Ok((SheetView { of_this_log, as_made, entries_on_it: entries, entries_since }, words))
}

/// The sheet that the log gives with the entries it had then.
fn made_again(of: &Path, mark: &sheet::Mark) -> Result<Vec<u8>, SessionError> {
    let then = Session::open_as_of(of, mark.fingerprint.entries)?;
    let assessment = then.assessment_by_stage();
    let stamp = stamp(&then, &assessment, mark.paper, mark.form.clone());
    drop(then);
    sheet::pdf(&assessment, &stamp).map_err(refused)
}
