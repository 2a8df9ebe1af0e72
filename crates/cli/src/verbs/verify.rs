//! `verify`: is the log as it was written, and is this sheet of it?

use crate::exit::Exit;
use crate::show::Show;
use clap::Args;
use serde::Serialize;
use shop::{ShopError, SignatureCheck, Since, Verified};
use std::path::{Path, PathBuf};

/// `verify`
#[derive(Debug, Args)]
pub struct Verify {
    /// The log
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
    of_this_log: bool,
    entries_on_it: u64,
    entries_since: Option<u64>,
}

impl Verify {
    /// Verifies it.
    pub fn run(self, show: &Show) -> Result<Exit, ShopError> {
        let log = Verified::of(&self.log)?;
        let (entries, head) = log.head();
        let signatures = log.signatures();
        let mut words = vec![format!("whole: {entries} entries\nhead {head}")];
        words.extend(signatures.iter().map(signature_words));
        let sheet = self.sheet.as_ref().map(|path| self.on_sheet(&log, path)).transpose()?;
        if let Some((_, said)) = &sheet {
            words.push(said.clone());
        }
        let bad =
            signatures.iter().any(|s| !s.fits) || sheet.as_ref().is_some_and(|(view, _)| !view.of_this_log);
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

    fn on_sheet(&self, log: &Verified, path: &Path) -> Result<(SheetView, String), ShopError> {
        let bytes = shop::read_bytes(path)?;
        let print = sheet::fingerprint_of_pdf(&bytes).ok_or_else(|| {
            ShopError::Refused(format!(
                "{} is no sheet of this program: it has no fingerprint",
                path.display()
            ))
        })?;
        let since = log.since(print.entries, &print.head)?;
        let of_this_log = since != Since::Foreign;
        let words = match since {
            Since::Same => "the sheet is of this log as it stands".to_owned(),
            Since::Earlier(n) => format!("the sheet is of this log; {n} entries were added since"),
            Since::Foreign => "the sheet is not of this log".to_owned(),
        };
        let entries_since = match since {
            Since::Same => Some(0),
            Since::Earlier(n) => Some(n),
            Since::Foreign => None,
        };
        Ok((SheetView { of_this_log, entries_on_it: print.entries, entries_since }, words))
    }
}

fn signature_words(s: &SignatureCheck) -> String {
    let fits = if s.fits { "fits" } else { "DOES NOT FIT" };
    format!("entry {}: the signature of {} {fits}\n  key {}", s.entry, shop::shown(&s.who), s.key)
}
