//! The walk itself: its position, and the effect of a typed line.

use super::line::{Line, understand};
use super::steps::{Done, Step, steps};
use crate::{Sure, Target};
use assess::Assessment;
use quantity::{Kind, typed};
use record::plan::Plan;
use record::{Facing, Point};

/// Angles beyond this are questioned twice, in degrees.
const STEEP: f64 = 30.0;

#[derive(Clone, Debug)]
pub struct Typing {
    steps: Vec<Step>,
    at: Option<usize>,
    /// Steps done, in order.
    walked: Vec<usize>,
    replacing: bool,
    asked: Option<Asked>,
}

#[derive(Clone, Debug)]
struct Asked {
    take: Untaken,
    /// How many confirmations are still needed.
    times: u8,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Untaken {
    pub target: Target,
    pub text: String,
    pub sure: Sure,
    pub replaces: Option<u64>,
}

/// What to do about a line.
#[derive(Clone, Debug, PartialEq)]
pub enum Do {
    /// Record this value; then tell the walk whether that was done.
    Take(Untaken),
    /// Nothing: ask again.
    Again,
    Help,
    /// A place was skipped, with this many values.
    Skipped {
        target: Target,
        values: usize,
    },
    Not(Undone),
    Stop,
}

/// Why a line has no effect.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Undone {
    #[error("Nothing was typed before this in the round.")]
    NothingBefore,
    #[error("Nothing was asked, so ! records nothing.")]
    NothingAsked,
    #[error("Beyond {STEEP}°: ! once more to record it.")]
    OnceMore,
    /// The word could mean any of these.
    #[error("Which is meant: {}?", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join(", "))]
    Which(Vec<Point>),
    /// This one is nearest.
    #[error("`{word}` is not a value and not a known word; nearest is `{near}`.")]
    Unknown { word: String, near: String },
}

/// The step that is asked for.
#[derive(Clone, Copy, Debug)]
pub struct Here<'a> {
    /// Its position among the steps, from 0.
    pub at: usize,
    pub step: &'a Step,
}

impl Typing {
    pub fn new(plan: &Plan, assessment: &Assessment) -> Self {
        let steps = steps(plan, assessment);
        let at = (!steps.is_empty()).then_some(0);
        Self { steps, at, walked: Vec::new(), replacing: false, asked: None }
    }

    pub fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// The present step; `None` once all are done.
    pub fn at(&self) -> Option<Here<'_>> {
        let at = self.at?;
        Some(Here { at, step: self.steps.get(at)? })
    }

    /// Whether the value of a finished step is being typed again.
    pub const fn replacing(&self) -> bool {
        self.replacing
    }

    pub fn taken(&self) -> usize {
        self.steps.iter().filter(|step| matches!(step.done, Done::Taken { .. })).count()
    }

    /// Applies a line to the round.
    pub fn line(&mut self, text: &str, plan: &Plan) -> Do {
        let now = self.at().map(|here| here.step.target.clone());
        let line = understand(text, plan, now.as_ref());
        if !matches!(line, Line::Anyway) {
            self.asked = None;
        }
        match line {
            Line::Nothing => {
                if self.replacing {
                    self.go_on();
                }
                Do::Again
            }
            Line::Stop => Do::Stop,
            Line::Help => Do::Help,
            Line::Back => self.back(),
            Line::Skip => self.skip(),
            Line::Anyway => self.anyway(),
            Line::Which(points) => Do::Not(Undone::Which(points)),
            Line::Unknown { word, near } => Do::Not(Undone::Unknown { word, near }),
            Line::Face(facing) => match now {
                Some(now) => {
                    self.go(&Target { facing: Some(facing), ..now });
                    Do::Again
                }
                None => Do::Again,
            },
            Line::Go { point, facing } => {
                let Some(quantity) = plan.quantity_of(&point) else { return Do::Again };
                self.go(&Target { point, quantity, facing });
                Do::Again
            }
            Line::Value { point, facing, text, sure } => {
                let named = point.is_some();
                let target = match (point, now) {
                    (Some(point), now) => {
                        let Some(quantity) = plan.quantity_of(&point) else { return Do::Again };
                        // As for a single `take`: a point named without a facing faces forward, except at the place
                        // asked for.
                        let asked = now.filter(|now| now.point == point).and_then(|now| now.facing);
                        let usual = point.kind().reverses().then_some(Facing::Forward);
                        Target { point, quantity, facing: facing.or(asked).or(usual) }
                    }
                    (None, Some(now)) => Target { facing: facing.or(now.facing), ..now },
                    (None, None) => return Do::Stop,
                };
                let typed_again = self.replacing && self.at().is_some_and(|here| here.step.target == target);
                self.go(&target);
                // A value typed with its place is an additional reading; only a value that was gone back to is
                // replaced.
                self.replacing &= typed_again || !named;
                let Some(Here { step, .. }) = self.at() else { return Do::Stop };
                let replaces = match &step.done {
                    Done::Taken { seq, .. } if self.replacing => Some(*seq),
                    _ => None,
                };
                Do::Take(Untaken { target: step.target.clone(), text, sure, replaces })
            }
        }
    }

    pub fn took(&mut self, seq: u64, text: &str) {
        self.asked = None;
        if let Some(at) = self.at {
            if let Some(step) = self.steps.get_mut(at) {
                step.done = Done::Taken { seq, text: text.to_owned() };
            }
            self.walked.retain(|walked| *walked != at);
            self.walked.push(at);
        }
        self.go_on();
    }

    /// The value was not recorded: it is questioned.
    pub fn asks(&mut self, take: Untaken) {
        let steep = take.target.quantity == Kind::Angle
            && typed(&take.text, Kind::Angle).is_ok_and(|typed| typed.amount.base().abs() > STEEP);
        self.asked = Some(Asked { take, times: if steep { 2 } else { 1 } });
    }

    fn anyway(&mut self) -> Do {
        let Some(asked) = &mut self.asked else { return Do::Not(Undone::NothingAsked) };
        asked.times = asked.times.saturating_sub(1);
        if asked.times > 0 {
            return Do::Not(Undone::OnceMore);
        }
        Do::Take(Untaken { sure: Sure::Yes, ..asked.take.clone() })
    }

    /// Moves to the next step still wanted: the other facing at this place, else after this one, else from the
    /// beginning.
    fn go_on(&mut self) {
        self.replacing = false;
        let here = self.at.unwrap_or_default();
        let wanted = |(_, step): &(usize, &Step)| step.done == Done::Not;
        let mut all = self.steps.iter().enumerate();
        let place = self.steps.get(here).map(|step| &step.target.point);
        let other_half = all.clone().find(|one| wanted(one) && Some(&one.1.target.point) == place);
        let later = other_half.or_else(|| all.clone().skip(here).find(wanted));
        self.at = later.or_else(|| all.find(wanted)).map(|(at, _)| at);
    }

    fn back(&mut self) -> Do {
        // Skip a value that is being typed again on the way back.
        if self.replacing
            && let Some(at) = self.at
            && let Some(place) = self.walked.iter().position(|walked| *walked == at)
        {
            return match place.checked_sub(1).and_then(|before| self.walked.get(before)) {
                Some(before) => self.to(*before),
                None => Do::Not(Undone::NothingBefore),
            };
        }
        match self.walked.last() {
            Some(before) => self.to(*before),
            None => Do::Not(Undone::NothingBefore),
        }
    }

    fn to(&mut self, at: usize) -> Do {
        self.at = Some(at);
        let done = self.steps.get(at).map(|step| &step.done);
        self.replacing = matches!(done, Some(Done::Taken { .. }));
        Do::Again
    }

    /// Skips what is still wanted at this place.
    fn skip(&mut self) -> Do {
        let Some(Here { at, step }) = self.at() else { return Do::Stop };
        let target = step.target.clone();
        if self.replacing {
            self.go_on();
            return Do::Again;
        }
        let mut values = 0;
        for step in &mut self.steps {
            if step.target.point == target.point && step.done == Done::Not {
                (step.done, values) = (Done::Skipped, values + 1);
            }
        }
        self.walked.push(at);
        self.go_on();
        Do::Skipped { target, values }
    }

    /// Goes to a target: to its step, else to a new one after this.
    fn go(&mut self, target: &Target) {
        if self.at().is_some_and(|here| here.step.target == *target) {
            return;
        }
        let same = |step: &Step| {
            step.target.point == target.point
                && (target.facing.is_none() || step.target.facing == target.facing)
        };
        let open = self.steps.iter().position(|step| same(step) && step.done == Done::Not);
        let found = open.or_else(|| self.steps.iter().position(same));
        if let Some(found) = found {
            if let Some(step) = self.steps.get_mut(found).filter(|step| step.done == Done::Skipped) {
                step.done = Done::Not;
            }
            self.to(found);
            return;
        }
        let facing = target.point.kind().reverses().then(|| target.facing.unwrap_or(Facing::Forward));
        let after = self.at.unwrap_or(self.steps.len());
        self.steps.insert(after, Step { target: Target { facing, ..target.clone() }, done: Done::Not });
        for walked in self.walked.iter_mut().filter(|walked| **walked >= after) {
            *walked += 1;
        }
        self.at = Some(after);
        self.replacing = false;
    }
}
