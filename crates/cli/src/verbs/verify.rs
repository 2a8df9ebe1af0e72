//! `verify`: is the log as it was written, whose are its signatures, and does this sheet or this entry on paper
//! belong to it?

mod paper;
mod signed;
mod wings;

use crate::exit::Exit;
use crate::failure::failed_as;
use crate::show::Show;
use clap::Args;
use paper::{EntryView, SheetView};
use quantity::shown::count;
use serde::Serialize;
use session::{HashDigits, HashOnPaper, SessionError, Verified, WingLog};
use signed::{KeyView, Signed};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Verify {
    /// The log; may be left out if it is the only one here
    log: PathBuf,
    /// A sheet (PDF): is it of this log, and what has been added since?
    #[arg(long)]
    sheet: Option<PathBuf>,
    /// A person's public key (FILE.pub): which sign-offs are by it? Fails if none is, or if one in their name is not
    #[arg(long, value_name = "PUBLIC")]
    key: Option<PathBuf>,
    /// An entry read off paper: its number ...
    #[arg(long, requires = "hash", value_name = "N")]
    entry: Option<u64>,
    /// ... and at least 16 digits of its hash, as on the sheet's foot; spaces are allowed
    #[arg(long, requires = "entry", value_name = "H")]
    hash: Option<HashDigits>,
    /// Where the log of a wing that was taken up is, if not where it was: left=FILE; may be repeated
    #[arg(long = "wing", value_name = "WING=LOG")]
    wings: Vec<WingLog>,
    /// More groups of the hash
    #[arg(hide = true, requires = "hash")]
    groups: Vec<HashDigits>,
}

#[derive(Serialize)]
struct Answer<'a> {
    whole: bool,
    entries: u64,
    head: String,
    words: String,
    signatures: Vec<KeyView<'a>>,
    sign_offs: &'a [Signed],
    sheet: Option<SheetView>,
    entry: Option<EntryView>,
    wings: &'a [wings::Found],
}

impl Verify {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let asked = self.key.as_deref().map(session::keys::public).transpose()?;
        let on_paper = self.entry.zip(self.hash);
        let on_paper = on_paper.map(|(entry, hash)| HashOnPaper::new(entry, hash.and(&self.groups)));
        let on_paper = match on_paper.transpose() {
            Ok(on_paper) => on_paper,
            // Too few digits are a slip on the command line, not a fault of the log.
            Err(why) => return Ok(failed_as(&why.into(), Exit::Usage, show)),
        };
        let log = Verified::of(&self.log)?;
        let session::LogHead { entries, hash: head } = log.head();
        let four = record::hex::four_words(&head);
        let mut words =
            vec![format!("whole: {}\nhead {head}\n     {four}", count(entries, "entry", "entries"))];
        let signed = Signed::all(log.signatures(), asked.as_deref());
        words.extend(signed.iter().map(Signed::words));
        let mut good = signed.iter().all(Signed::is_sound);
        if let Some(key) = &asked {
            let by_key = signed::judged_by_key(&signed, key);
            good &= by_key.fits;
            words.push(by_key.words);
        }
        let sheet = self.sheet.as_ref().map(|path| paper::on_sheet(&self.log, &log, path)).transpose()?;
        if let Some(told) = &sheet {
            good &= told.view.as_made == Some(true);
            words.push(told.words.clone());
        }
        let entry = on_paper.map(|on_paper| paper::on_paper(&log, &on_paper)).transpose()?;
        if let Some(told) = &entry {
            good &= told.view.fits;
            words.push(told.words.clone());
        }
        let wings = if log.took_up_wings() || !self.wings.is_empty() {
            wings::found(&self.log, &self.wings)?
        } else {
            Vec::new()
        };
        good &= wings.iter().all(wings::Found::is_sound);
        words.extend(wings.iter().map(wings::Found::words));
        let answer = Answer {
            whole: true,
            entries,
            head,
            words: four,
            signatures: signed.iter().filter_map(Signed::keyed).collect(),
            sign_offs: &signed,
            sheet: sheet.map(|told| told.view),
            entry: entry.map(|told| told.view),
            wings: &wings,
        };
        show.answer(|| words.join("\n"), &answer)?;
        Ok(if good { Exit::Done } else { Exit::Failed })
    }
}
