//! Does to files what the program does, and says what is safe by now: `recorded FOLDER`. Its file changes are written
//! down by `recorder/recorder.c`, which is linked in front of the C library.
//!
//! Each line it writes is an acknowledgement: `log N`, `entries N` (so many are in the log), `file NAME N` (its `N`th content is there).

use journal::whole::{Place, Readers, Whole};
use journal::{Journal, JournalError, NewEntry};
use std::error::Error;
use std::io::Write;
use std::path::Path;
use stories::invented::{self, moment, reading};
use stories::power::content;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args().nth(1).ok_or("recorded FOLDER")?;
    let folder = Path::new(&folder);
    let mut out = std::io::stdout();
    let mut say = |line: String| out.write_all(line.as_bytes()).and_then(|()| out.flush());
    let log = folder.join("a.jigtrue");
    let mut journal = Journal::create(&log, invented::PLAN, "stories", moment(0), "ann")?;
    say("entries 1\n".to_owned())?;
    let mut n = 0;
    for _ in 0..6 {
        n += 1;
        let head = journal.append(moment(n), "ann", &reading(n))?;
        say(format!("entries {}\n", head.seq))?;
    }
    // Closed, which merges the part beside it, and opened again.
    drop(journal);
    let mut journal = Journal::open(&log)?;
    for _ in 0..3 {
        n += 1;
        let head = journal.append(moment(n), "ann", &reading(n))?;
        say(format!("entries {}\n", head.seq))?;
    }
    let many = (n + 1..n + 41).map(|n| Ok::<_, JournalError>(NewEntry::new(moment(n), "ann", reading(n))));
    let head = journal.append_many(many)?;
    say(format!("entries {}\n", head.seq))?;
    n += 40;
    let long = (n + 1..n + 61).map(|n| Ok::<_, JournalError>(NewEntry::new(moment(n), "ann", reading(n))));
    let head = journal.append_long(long)?;
    say(format!("entries {}\n", head.seq))?;
    n += 60;
    for round in 0..2 {
        let mut whole = Whole::begin(&folder.join("sheet.pdf"), Place::Over(&[&log]), Readers::Usual)?;
        whole.file().write_all(&content(round))?;
        whole.keep()?;
        say(format!("file sheet.pdf {round}\n"))?;
    }
    let mut whole = Whole::begin(&folder.join("orla.key"), Place::Free, Readers::Owner)?;
    whole.file().write_all(&content(0))?;
    whole.keep()?;
    say("file orla.key 0\n".to_owned())?;
    journal.backup_to(&folder.join("copy.jigtrue"))?;
    say(format!("copy {}\n", head.seq))?;
    for _ in 0..3 {
        n += 1;
        let head = journal.append(moment(n), "ann", &reading(n))?;
        say(format!("entries {}\n", head.seq))?;
    }
    Ok(())
}
