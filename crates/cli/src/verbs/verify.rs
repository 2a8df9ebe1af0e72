//! `verify`: is the log as it was written, and is this sheet of it?

use super::sheet::stamp;
use super::table::refused;
use crate::exit::Exit;
use crate::show::Show;
use clap::Args;
use serde::Serialize;
use session::{Session, SessionError, SignatureCheck, Since, Verified};
use std::path::{Path, PathBuf};

/// `verify`
#[derive(Debug, Args)]
pub struct Verify {
    /// The log
    #[arg(add = clap_complete::ArgValueCompleter::new(crate::complete::logs))]
    log: PathBuf,
    /// A sheet (PDF): is it of this log, and what has been added since?
    #[arg(long)]
    sheet: Option<PathBuf>,
}

#[derive(Serialize)]
struct Answer<'a> {
    format: u32,
    whole: bool,
    entries: u64,
    head: String,
    signatures: Vec<SignatureView<'a>>,
    sheet: Option<SheetView>,
}

#[derive(Serialize)]
struct SignatureView<'a> {
    entry: u64,
    who: &'a str,
    key: &'a str,
    fits: bool,
}

#[derive(Serialize)]
struct SheetView {
    /// Its fingerprint is a state of this log.
    of_this_log: bool,
    /// It is byte for byte what this program writes of that state; none if it is not of this log.
    as_made: Option<bool>,
    entries_on_it: u64,
    entries_since: Option<u64>,
}

impl Verify {
    /// Verifies it.
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let log = Verified::of(&self.log)?;
        let (entries, head) = log.head();
        let signatures = log.signatures();
        let mut words = vec![format!("whole: {entries} entries\nhead {head}")];
        words.extend(signatures.iter().map(signature_words));
        let sheet = self.sheet.as_ref().map(|path| self.on_sheet(&log, path)).transpose()?;
        if let Some((_, said)) = &sheet {
            words.push(said.clone());
        }
        let bad = signatures.iter().any(|s| !s.fits)
            || sheet.as_ref().is_some_and(|(view, _)| view.as_made != Some(true));
        let answer = Answer {
            format: 1,
            whole: true,
            entries,
            head,
            signatures: signatures
                .iter()
                .map(|s| SignatureView { entry: s.entry, who: &s.who, key: &s.key, fits: s.fits })
                .collect(),
            sheet: sheet.map(|(view, _)| view),
        };
        show.answer(|| words.join("\n"), &answer)?;
        Ok(if bad { Exit::Failed } else { Exit::Done })
    }

    fn on_sheet(&self, log: &Verified, path: &Path) -> Result<(SheetView, String), SessionError> {
        let bytes = session::read_bytes(path)?;
        let name = path.display();
        let mark = sheet::mark_of_pdf(&bytes).ok_or_else(|| {
            SessionError::Refused(if sheet::is_comparison(&bytes) {
                format!(
                    "{name} is a comparison, no inspection sheet: make it again with `compare` to check it"
                )
            } else {
                format!("{name} is no sheet of this program: it has no fingerprint")
            })
        })?;
        let entries = mark.fingerprint.entries;
        let since = log.since(entries, &mark.fingerprint.head)?;
        let (entries_since, whose) = match since {
            Since::Same => (Some(0), "the sheet is of this log as it stands".to_owned()),
            Since::Earlier(n) => (Some(n), format!("the sheet is of this log; {n} entries were added since")),
            Since::Foreign => (None, "the sheet is not of this log".to_owned()),
        };
        let as_made = entries_since.map(|_| self.made_again(&mark)).transpose()?.map(|again| again == bytes);
        let words = match as_made {
            None => whose,
            Some(true) => {
                format!("{whose}\nevery byte of it is what this program writes of those {entries} entries")
            }
            Some(false) => format!(
                "{whose}\nit is NOT what this program writes of those {entries} entries: somebody altered it, or another \
                 version wrote it; make the sheet again and go by that"
            ),
        };
        let of_this_log = since != Since::Foreign;
        Ok((SheetView { of_this_log, as_made, entries_on_it: entries, entries_since }, words))
    }

    /// The sheet that the log gives with the entries it had then.
    fn made_again(&self, mark: &sheet::Mark) -> Result<Vec<u8>, SessionError> {
        let then = Session::open_as_of(&self.log, mark.fingerprint.entries)?;
        sheet::pdf(&then.assessment(), &stamp(&then, mark.paper)).map_err(refused)
    }
}

fn signature_words(s: &SignatureCheck) -> String {
    let fits = if s.fits { "fits" } else { "DOES NOT FIT" };
    format!("entry {}: the signature of {} {fits}\n  key {}", s.entry, session::shown(&s.who), s.key)
}
