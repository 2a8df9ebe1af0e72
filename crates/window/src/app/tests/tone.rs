//! The tone when a reading is taken: once a reading; once turned off, also off at the next start.

use super::super::keep::Keep;
use super::touched::Touched;
use super::{Desk, plan};
use std::io::Write;
use std::path::Path;
use std::sync::{Arc, Mutex};

/// What was sent to the sound output.
#[derive(Clone, Default)]
struct Heard(Arc<Mutex<Vec<u8>>>);

impl Write for Heard {
    fn write(&mut self, sent: &[u8]) -> std::io::Result<usize> {
        self.0.lock().unwrap().extend(sent);
        Ok(sent.len())
    }

    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

impl Heard {
    fn times(&self) -> usize {
        self.0.lock().unwrap().len()
    }
}

/// The program as it starts with the settings kept there, on a log with a stage begun.
fn started(folder: &Path, heard: &Heard) -> Touched {
    let log = folder.join("wing.jigtrue");
    if !log.exists() {
        let mut session = session::Session::create(&plan(folder), &log, Some("tam")).unwrap();
        session.stage(&session::BeginStage::named("jig empty")).unwrap();
    }
    let mut desk = Desk::keeping(eframe::egui::Context::default(), Keep::kept_in(folder.join("kept")));
    desk.sounds_to(heard.clone());
    desk.act(window::Action::CautionsRead);
    desk.act(window::Action::SetWho(window::model::Person { name: "tam".to_owned(), ..Default::default() }));
    desk.open(&log);
    Touched::new(desk)
}

fn takes(t: &mut Touched, text: &str) {
    let before = t.log().last_entry();
    t.taps("Measure");
    t.taps("Type it");
    t.types(text);
    t.taps("Done");
    assert_eq!(t.log().last_entry(), before + 1, "{}", t.said());
    (0..5).for_each(|_| t.looks());
}

#[test]
fn a_tone_sounds_once_a_reading_and_stays_off_after_a_restart() {
    let folder = tempfile::tempdir().unwrap();
    let heard = Heard::default();
    let mut t = started(folder.path(), &heard);
    assert_eq!(heard.times(), 0, "opening a log sounds");
    takes(&mut t, "0.05");
    assert_eq!(heard.times(), 1);
    takes(&mut t, "0.05");
    assert_eq!(heard.times(), 2);
    // A reading that was not written makes no tone, nor does one of another program.
    t.taps("Type it");
    t.types("..");
    t.taps("Done");
    t.taps("Cancel");
    let mut other = session::Session::open(&folder.path().join("wing.jigtrue")).unwrap();
    other.set_who("oke");
    other
        .take(session::Take {
            point: "level@tip-post".to_owned(),
            text: "0.1".to_owned(),
            ..session::Take::default()
        })
        .map(drop)
        .unwrap_or_default();
    drop(other);
    (0..5).for_each(|_| t.looks());
    assert_eq!(heard.times(), 2);
    // A note, a stage and an undo are not readings.
    t.taps("More");
    t.taps("Note");
    t.types("cold");
    t.taps("Done");
    assert_eq!(heard.times(), 2);
    // Turned off, it is silent, also after the program starts again.
    t.taps("More");
    t.taps("Tone");
    takes(&mut t, "0.05");
    assert_eq!(heard.times(), 2);
    drop(t);
    let mut t = started(folder.path(), &heard);
    takes(&mut t, "0.05");
    assert_eq!(heard.times(), 2);
    t.taps("More");
    t.taps("Tone");
    takes(&mut t, "0.05");
    assert_eq!(heard.times(), 3);
}
