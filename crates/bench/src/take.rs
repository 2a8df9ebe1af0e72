//! Taking a reading.

use crate::shown::sent;
use crate::{
    Bench, HandsFree, Log, NewReading, NotTaken, Out, Question, Rested, Round, Shown, Site, Standing,
    TakenHere, Target, Write,
};
use assess::view::PointState;
use instrument::{Sample, Settled};
use record::{Facing, Point, What};

/// Readings of one thing in one round differ by chance; beyond this many standard uncertainties, something was moved.
const DISAGREE: f64 = 5.0;

impl Bench {
    /// Takes the value at rest, if it was not taken yet.
    pub(crate) fn take_settled(&mut self, now_ms: u64, log: &Log<'_>, out: &mut Vec<Out>) {
        if self.question.is_some() {
            return Self::not_taken(out, NotTaken::Asked);
        }
        if let Some(why) = self.barred(now_ms) {
            return Self::not_taken(out, why);
        }
        let both = self.second_target_now(log).is_none()
            || self.second.as_ref().is_none_or(|second| second.settled(now_ms).is_some());
        match self.main.standing(now_ms) {
            Standing::Ready { .. } if !both => Self::not_taken(out, NotTaken::NotSettled),
            Standing::Ready { reading } => self.take(&reading, Rested::Settled, now_ms, log, out),
            Standing::Taken { .. } if self.main.each_value() => Self::not_taken(out, NotTaken::NotPressed),
            Standing::Taken { .. } => Self::not_taken(out, NotTaken::NotMoved),
            Standing::Moving { .. } => Self::not_taken(out, NotTaken::NotSettled),
            Standing::Silent => Self::not_taken(out, NotTaken::NoValue),
        }
    }

    /// Takes the value as it is: unsettled, taken before, or not as expected.
    pub(crate) fn take_anyway(&mut self, now_ms: u64, log: &Log<'_>, out: &mut Vec<Out>) {
        if let Some(Question::Implausible { expected, why, .. }) = self.question.take() {
            self.asked = Some(record::Asked { expected, why });
        }
        if let Some(why) = self.barred(now_ms) {
            return Self::not_taken(out, why);
        }
        if let Some(reading) = self.main.settled(now_ms) {
            return self.take(&reading, Rested::Settled, now_ms, log, out);
        }
        let latest = match (self.main.standing(now_ms), self.main.latest()) {
            (Standing::Moving { latest, .. }, Some(_)) => latest,
            _ => return Self::not_taken(out, NotTaken::NoValue),
        };
        let reading = Settled { value: latest, scatter: 0.0, samples: 1, since_ms: now_ms };
        self.take(&reading, Rested::Unsettled, now_ms, log, out);
    }

    /// Hands free: takes each rest once, as it comes.
    pub(crate) fn take_by_itself(&mut self, now_ms: u64, log: &Log<'_>, out: &mut Vec<Out>) {
        let standing = self.main.standing(now_ms);
        if matches!(standing, Standing::Moving { .. }) {
            self.rests_anew();
        }
        let free = self.hands_free == HandsFree::On && self.level.is_none() && self.watching.is_none();
        if free
            && !self.declined
            && self.question.is_none()
            && self.barred(now_ms).is_none()
            && let Standing::Ready { reading } = standing
        {
            if self.lies_as_left(&reading, log) {
                self.main.took(reading.value);
                return Self::not_taken(out, NotTaken::NotMoved);
            }
            self.take(&reading, Rested::Settled, now_ms, log, out);
        }
    }

    /// Whether the instrument still shows what it showed when it was last read, and nothing was taken since the start:
    /// a program begun again does not know whether it was turned, and the same rest in the other facing would make a pair of one value.
    fn lies_as_left(&self, rest: &Settled, log: &Log<'_>) -> bool {
        if !self.mine.is_empty() || self.main.each_value() {
            return false;
        }
        let of_it = log.entries.iter().rev().filter_map(|entry| match &entry.what {
            What::Reading(there) if there.instrument.as_deref() == Some(&self.device.facts.name) => {
                Some(there)
            }
            _ => None,
        });
        // Of two tilts taken together the log has the second last.
        let shown = self.device.sign * rest.value;
        of_it.take(2).any(|there| (there.value - shown).abs() <= self.main.band())
    }

    /// The refused or questioned rest is over: the instrument moves, or its button was pressed again.
    pub(crate) fn rests_anew(&mut self) {
        self.declined = false;
        let of_a_value = matches!(self.question, Some(Question::Implausible { .. } | Question::Moved { .. }));
        if of_a_value && self.hands_free == HandsFree::On {
            self.question = None;
        }
    }

    /// Why nothing can be taken at all.
    fn barred(&self, now_ms: u64) -> Option<NotTaken> {
        if self.signal.wrong.is_some() {
            return Some(NotTaken::Wrong);
        }
        let button = self.main.each_value() && !self.signal.port_gone();
        if self.signal.lost_for(now_ms).is_some() && !button {
            return Some(NotTaken::NoValue);
        }
        match &self.level {
            Some(level) if level.site == Site::Spars => return Some(NotTaken::AmongMoves),
            Some(_) => return None,
            None => {}
        }
        match self.walk.target() {
            None => Some(NotTaken::NoTarget),
            Some(target) if target.quantity != self.device.quantity() => Some(NotTaken::OtherQuantity),
            Some(_) => None,
        }
    }

    /// The present target of the instrument's own axis.
    pub(crate) fn main_target(&self) -> Option<Target> {
        match &self.level {
            Some(level) => Some(Target {
                point: level.point(self.seat)?,
                quantity: self.device.quantity(),
                facing: Some(level.facing),
            }),
            None => self.walk.target().map(|target| self.by_seat(target)),
        }
    }

    /// A tilt of a post that the second axis measures is taken with the first, on the same seat.
    fn by_seat(&self, target: &Target) -> Target {
        let own = [Facing::Forward, Facing::Aft]
            .into_iter()
            .find(|main| self.second.is_some() && self.seat.second_facing(*main) == target.facing);
        match (own, self.seat.main_kind()) {
            (Some(facing), Some(main)) if Some(target.point.kind()) == self.seat.second_kind() => Target {
                point: Point::at(main, target.point.place()),
                facing: Some(facing),
                ..target.clone()
            },
            _ => target.clone(),
        }
    }

    fn second_target_now(&self, log: &Log<'_>) -> Option<Target> {
        self.second_target(&self.main_target()?, log)
    }

    /// The target of its second axis at the same time, if any.
    fn second_target(&self, main: &Target, log: &Log<'_>) -> Option<Target> {
        if Some(main.point.kind()) != self.seat.main_kind() {
            return None;
        }
        let facing = self.seat.second_facing(main.facing?)?;
        let point = Point::at(self.seat.second_kind()?, main.point.place());
        log.plan.quantity_of(&point).map(|quantity| Target { point, quantity, facing: Some(facing) })
    }

    fn take(&mut self, rest: &Settled, rested: Rested, now_ms: u64, log: &Log<'_>, out: &mut Vec<Out>) {
        let Some(target) = self.main_target() else { return Self::not_taken(out, NotTaken::NoTarget) };
        let Some(like) = self.main.latest().copied() else { return Self::not_taken(out, NotTaken::NoValue) };
        let first = self.reading(&target, rest, rested, &like, self.device.sign);
        if self.asked.is_none()
            && let Some(question) = self.disagrees(&target, &first, log)
        {
            self.question = Some(question);
            self.declined = true;
            return;
        }
        let mut readings = vec![first];
        if let Some(second) = self.second_reading(&target, rested, now_ms, log) {
            readings.push(second);
        }
        out.push(Out::Write(Write::Readings(readings)));
    }

    fn reading(
        &self,
        target: &Target,
        rest: &Settled,
        rested: Rested,
        like: &Sample,
        sign: f64,
    ) -> NewReading {
        let sent = sent(rest.value, like, sign);
        NewReading {
            point: target.point.clone(),
            quantity: target.quantity,
            text: sent.text,
            value: sent.value,
            scatter: rest.scatter,
            samples: rest.samples,
            resolution: self.device.facts.resolution.max(sent.step),
            rest: rested,
            facing: target.facing,
            instrument: self.device.facts.clone(),
            temperature: self.temperature,
            round: if self.new_round { Round::Begins } else { Round::GoesOn },
            asked: self.asked.clone(),
        }
    }

    fn second_reading(
        &self,
        main: &Target,
        rested: Rested,
        now_ms: u64,
        log: &Log<'_>,
    ) -> Option<NewReading> {
        let target = self.second_target(main, log)?;
        let gauge = self.second.as_ref()?;
        let like = gauge.latest()?;
        let rest = match (gauge.settled(now_ms), rested) {
            (Some(rest), _) => rest,
            (None, Rested::Unsettled) => {
                Settled { value: like.base(), scatter: 0.0, samples: 1, since_ms: now_ms }
            }
            (None, Rested::Settled) => return None,
        };
        Some(NewReading {
            instrument: self.device.second(),
            ..self.reading(&target, &rest, rested, like, 1.0)
        })
    }

    /// The reading that this one would be averaged with but disagrees with.
    fn disagrees(&self, target: &Target, reading: &NewReading, log: &Log<'_>) -> Option<Question> {
        if reading.round == Round::Begins {
            return None;
        }
        let counting = log.assessment.points.iter().find(|view| view.point == target.point)?;
        // What is stale does not count: a recorded move is no riddle.
        if counting.state == PointState::Stale {
            return None;
        }
        let facing = target.facing.map_or(1.0, Facing::sign);
        for seq in counting.entries.iter().rev() {
            let entry = log.entries.iter().rev().find(|entry| entry.seq == *seq)?;
            let What::Reading(there) = &entry.what else { continue };
            if there.instrument.as_deref() != Some(&reading.instrument.name) {
                continue;
            }
            let zero = if there.facing == target.facing {
                0.0
            } else {
                match self.zero.known() {
                    Some(zero) => zero,
                    // The other half of the first pair: it gives the zero.
                    None => continue,
                }
            };
            let meant =
                |value: f64, facing: Option<Facing>| facing.map_or(1.0, Facing::sign) * (value - zero);
            let by = meant(reading.value, target.facing) - meant(there.value, there.facing);
            let u = self.u_between(reading, there);
            if by.abs() > DISAGREE * u {
                let candidates = self.candidates(target, by, u, log);
                return Some(Question::Moved { seq: *seq, by: by * facing, candidates });
            }
        }
        None
    }

    /// Standard uncertainty of the difference of two readings of one round, from display, seating and noise.
    fn u_between(&self, now: &NewReading, there: &record::Reading) -> f64 {
        let seating = self.device.facts.repeatability.unwrap_or(0.0);
        let step = now.resolution.max(there.resolution);
        let noise = now.scatter.max(there.scatter.unwrap_or(0.0));
        (2.0 * (step * step / 12.0 + seating * seating + noise * noise / 4.0)).sqrt().max(step / 2.0)
    }

    pub(crate) fn wrote_readings(&mut self, readings: &[NewReading], seq: u64, now_ms: u64, log: &Log<'_>) {
        (self.new_round, self.asked) = (false, None);
        let at_rest = self.main.settled(now_ms).map(|rest| rest.value);
        if let Some(value) = at_rest.or_else(|| self.main.latest().map(Sample::base)) {
            self.main.took(value);
        }
        for (reading, seq) in readings.iter().zip(seq..) {
            self.mine.push(TakenHere {
                seq,
                target: Target {
                    point: reading.point.clone(),
                    quantity: reading.quantity,
                    facing: reading.facing,
                },
                text: reading.text.clone(),
                at_ms: now_ms,
                withdrawn: false,
            });
        }
        if self.level.is_none() {
            self.walk.took(readings.iter().map(|reading| (reading.point.clone(), reading.facing)), log);
        }
    }

    pub(crate) fn shown(&self, value: f64) -> Shown {
        let step = self.device.facts.resolution;
        Shown { value: (value / step).round() * step, kind: self.device.quantity(), step }
    }
}
