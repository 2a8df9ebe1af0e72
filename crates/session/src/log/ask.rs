//! Whether a value must be confirmed before it is recorded, by the rule of `assess::expect`.

use super::standing::{Standing, standing};
use crate::SessionError;
use assess::expect::{self, Question, Shows};
use bench::Sure;
use record::plan::Plan;
use record::{Asked, Entry, Facing, Instrument, Point, Reading};
use std::collections::BTreeMap;

/// The rounds in progress, as far as the next reading's expected value depends on them.
#[derive(Clone, Debug)]
pub(crate) struct Asking<'p> {
    plan: &'p Plan,
    going: BTreeMap<Option<String>, (u32, expect::Round<'p>)>,
}

impl<'p> Asking<'p> {
    /// From entries, oldest first; only readings that still count are used.
    pub(crate) fn of<'a, I>(plan: &'p Plan, entries: I) -> Self
    where
        I: IntoIterator<Item = &'a Entry, IntoIter: DoubleEndedIterator + Clone>,
    {
        Self::beside(plan, &standing(plan, entries))
    }

    /// From the readings that still count, oldest first.
    pub(crate) fn beside(plan: &'p Plan, standing: &[Standing<'_>]) -> Self {
        let mut asking = Self { plan, going: BTreeMap::new() };
        standing.iter().for_each(|s| asking.saw(s.reading));
        asking
    }

    pub(crate) fn saw(&mut self, reading: &Reading) {
        if let Some((number, round)) = self.going.get_mut(&reading.instrument)
            && *number == reading.round
        {
            return round.push(reading);
        }
        let mut round = expect::Round::new(self.plan);
        round.push(reading);
        self.going.insert(reading.instrument.clone(), (reading.round, round));
    }

    /// What a reading of that round should show at a point; `None` if the plan and the round do not say.
    pub(crate) fn shows(
        &self,
        point: &Point,
        facing: Option<Facing>,
        instrument: Option<&Instrument>,
        round: u32,
    ) -> Option<Shows> {
        match self.going.get(&instrument.map(|i| i.name.clone())) {
            Some((number, going)) if *number == round => going.shows(point, facing, instrument),
            _ => expect::Round::new(self.plan).shows(point, facing, instrument),
        }
    }

    /// The question about a reading, from what its round expects.
    pub(crate) fn question(&self, reading: &Reading, instrument: Option<&Instrument>) -> Option<Question> {
        match self.going.get(&reading.instrument) {
            Some((number, round)) if *number == reading.round => round.question(reading, instrument),
            _ => expect::Round::new(self.plan).question(reading, instrument),
        }
    }
}

/// The question that was answered with yes, as the entry stores it.
///
/// # Errors
/// [`SessionError::Asks`] if there is a question and the person did not confirm; [`SessionError::NothingAsked`] if
/// they confirmed and there is no question.
pub(crate) fn answered(question: Option<Question>, sure: Sure) -> Result<Option<Asked>, SessionError> {
    match (question, sure) {
        (Some(question), Sure::Yes) => Ok(Some(question.into())),
        (Some(question), Sure::Unsaid) => Err(SessionError::Asks(Box::new(question))),
        (None, Sure::Yes) => Err(SessionError::NothingAsked),
        (None, Sure::Unsaid) => Ok(None),
    }
}
