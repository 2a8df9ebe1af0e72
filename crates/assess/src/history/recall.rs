//! Decides which readings of a long log can still count, as they come and without the plan.
//!
//! A reading of a point no longer counts once the point was measured in enough later rounds
//! ([`super::Freshness::earlier`]), or often enough in the same one, unless in between something happened that a
//! judgement looks back to: a stage, a move, a rework. What is held at that moment is held for good. So the fold over
//! what is held equals the fold over the whole log.

use super::readings::SEATINGS;
use record::What;
use record::plan::EARLIER;
use record::skim::Skimmed;
use std::collections::{HashMap, VecDeque};

/// A held reading: its entry, and where its keeper finds it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Handle {
    /// The number of its entry.
    pub seq: u64,
    /// Where it is kept.
    pub slot: usize,
}

/// The readings held, by point.
#[derive(Clone, Debug, Default)]
pub struct Recall {
    points: HashMap<Box<str>, VecDeque<Round>>,
    instruments: Vec<Box<str>>,
    /// Everything held at this entry is held for good.
    sealed: u64,
}

/// The readings of one point in one round.
#[derive(Clone, Debug)]
struct Round {
    number: u32,
    instrument: Option<usize>,
    /// Without a facing, forward, aft.
    readings: [VecDeque<Handle>; 3],
}

impl Recall {
    /// Whether judgements look back to this: to the readings that counted when it happened.
    pub const fn looks_back(what: &What) -> bool {
        matches!(what, What::Stage(_) | What::Move(_) | What::Rework(_))
    }

    /// Something happened that judgements look back to.
    pub fn seal(&mut self, seq: u64) {
        self.sealed = seq;
    }

    /// Notes a reading. Adds those that can no longer count to `forgotten`.
    pub fn reading(&mut self, says: &Skimmed<'_>, handle: Handle, forgotten: &mut Vec<Handle>) {
        let instrument = says.instrument.map(|name| self.instrument(name));
        let rounds = match self.points.get_mut(says.point) {
            Some(rounds) => rounds,
            None => self.points.entry(says.point.into()).or_default(),
        };
        let sealed = self.sealed;
        let mut forget = |held: Handle| forgotten.extend((held.seq > sealed).then_some(held));
        let side = match says.facing {
            None => 0,
            Some("forward") => 1,
            Some(_) => 2,
        };
        if let Some(last) = rounds.back_mut()
            && (last.number, last.instrument) == (says.round, instrument)
        {
            let readings = &mut last.readings[side];
            readings.push_back(handle);
            // One more than can count, to show that there were more.
            if readings.len() > SEATINGS + 1 {
                readings.pop_front().into_iter().for_each(forget);
            }
            return;
        }
        let mut readings = Default::default();
        if rounds.len() > EARLIER
            && let Some(first) = rounds.pop_front()
        {
            readings = first.readings;
            readings.iter_mut().flat_map(|side| side.drain(..)).for_each(&mut forget);
        }
        readings[side].push_back(handle);
        rounds.push_back(Round { number: says.round, instrument, readings });
    }

    fn instrument(&mut self, name: &str) -> usize {
        let found = self.instruments.iter().position(|known| **known == *name);
        found.unwrap_or_else(|| {
            self.instruments.push(name.into());
            self.instruments.len() - 1
        })
    }
}
