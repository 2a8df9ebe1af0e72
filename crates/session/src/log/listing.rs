//! The entries of a log, one line each.

use super::Session;
use crate::{shown, stamp};
use assess::expect::{Say, place};
use quantity::Units;
use record::{Entry, Instrument, OpenAction, Reading, What, Withdrawn};
use serde::Serialize;
use std::collections::BTreeMap;

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct EntryLine {
    pub seq: u64,
    /// When it was written, in UTC (ISO 8601).
    pub at: String,
    /// The same by its writer's clock.
    pub when: String,
    pub by: String,
    pub words: String,
    pub stage: Option<String>,
    pub round: Option<u32>,
    /// The entry that withdrew it, if it is withdrawn.
    pub withdrawn_by: Option<u64>,
}

/// The stage of the build at each entry: that of the last stage begun before it and not withdrawn.
pub(super) fn stages(entries: &[Entry]) -> BTreeMap<u64, String> {
    let withdrawn = Withdrawn::of(entries);
    let mut now: Option<&String> = None;
    let mut out = BTreeMap::new();
    for entry in entries {
        if let What::Stage(begun) = &entry.what
            && !withdrawn.contains(entry.seq)
        {
            now = Some(&begun.name);
        }
        if let Some(name) = now {
            out.insert(entry.seq, name.clone());
        }
    }
    out
}

impl Session {
    pub fn listing(&self) -> Vec<EntryLine> {
        let withdrawn = Withdrawn::of(self.entries.iter());
        let stages = stages(&self.entries);
        let known = self.instruments();
        let line = |entry: &Entry| EntryLine {
            seq: entry.seq,
            at: stamp(entry.at),
            when: entry.when().to_string(),
            by: entry.by.clone(),
            words: Self::words(entry, &known),
            stage: stages.get(&entry.seq).cloned(),
            round: entry.what.reading().map(|reading| reading.round),
            withdrawn_by: withdrawn.by(entry.seq),
        };
        self.entries.iter().map(line).collect()
    }

    /// An entry in a few words.
    pub fn entry_words(&self, entry: &Entry) -> String {
        Self::words(entry, &self.instruments())
    }

    fn words(entry: &Entry, known: &BTreeMap<String, Instrument>) -> String {
        let reason = |r: &Option<String>| r.as_ref().map(|r| format!(": {r}")).unwrap_or_default();
        let words = match &entry.what {
            What::Started { program, .. } => format!("log started with {program}"),
            What::Replanned { reason, .. } => format!("plan replaced: {reason}"),
            What::Instrument(i) => format!("instrument {} entered", i.name),
            What::InstrumentCheck(c) => {
                let passed = if c.passed { "passed" } else { "FAILED" };
                format!("{} check of {}: {passed}", c.method, c.instrument)
            }
            What::Reading(reading) => Self::reading_words(reading, known),
            What::Withdrawn { seq, reason } => format!("withdraws {seq}: {reason}"),
            What::Stage(begun) => {
                let anyway = begun.reason.as_ref().map(|r| format!(", anyway: {r}")).unwrap_or_default();
                format!("begins {}{anyway}", begun.name)
            }
            What::Move(made) => format!("move {} {}", made.support, made.text),
            What::Rework(rework) => {
                let points: Vec<String> = rework.points.iter().map(ToString::to_string).collect();
                format!("rework {}: {}", points.join(", "), rework.what)
            }
            What::OpenItem(item) => {
                let did = match item.action {
                    OpenAction::Opened => "leaves open",
                    OpenAction::Closed => "closes",
                    OpenAction::Carried => "carries past",
                };
                format!("{did} {}{}", item.item, reason(&item.reason))
            }
            What::Drift { point, seconds, .. } => format!("drift of {point} over {seconds} s"),
            What::Signed(signed) => {
                format!("{} signs as {}, gate {}", signed.who, signed.capacity, signed.gate.word())
            }
            What::Wing(taken) => format!("log of {} taken up: {}", taken.name, taken.log),
            What::Note { text } => format!("note: {text}"),
        };
        shown(&words).into_owned()
    }

    /// `S4 aft -1.2°`
    fn reading_words(reading: &Reading, known: &BTreeMap<String, Instrument>) -> String {
        let instrument = reading.instrument.as_ref().and_then(|name| known.get(name));
        let text = match &reading.dial {
            Some(_) => format!("{} on the dial", reading.text),
            None => Say::of(reading.quantity, instrument, Units::INSIDE).typed(&reading.text, reading.value),
        };
        let note = reading.note.as_ref().map(|n| format!(" ({n})")).unwrap_or_default();
        format!("{} {text}{note}", place(&reading.point, reading.facing))
    }
}
