//! What keys and rests do in the loop of moves.

use crate::level::{Level, Outcome, Start};
use crate::pair::{Known, Pair};
use crate::seat::axis_of;
use crate::{
    Answer, Bench, By, Gauge, HandsFree, Log, Main, Measured, NewMove, NotTaken, Out, Question, Said, Shown,
    Site, Standing, Write,
};
use instrument::Sample;
use record::Facing;

impl Bench {
    pub(crate) fn known(&self) -> Known {
        Known {
            zero: self.zero,
            second_zero: self.second_zero,
            seat: self.seat,
            step: self.device.facts.resolution,
            scale: self.device.facts.scale.unwrap_or(0.0),
        }
    }

    pub(crate) fn begin_level(&mut self, post: &str, now_ms: u64, log: &Log<'_>, out: &mut Vec<Out>) {
        if !log.plan.posts.iter().any(|it| it.name == post) {
            return out.push(Out::Say(Said::NoPost(post.to_owned())));
        }
        let site = Site::Post(post.to_owned());
        let carried = self.level.as_ref().is_some_and(|level| level.site != site);
        let level = self.lay(site);
        level.begin(log);
        // A rest that was taken belongs to the point it was taken at, and so does its value.
        let taken = self.mine.last().filter(|_| matches!(self.main.standing(now_ms), Standing::Taken { .. }));
        let here = self.level.as_ref().and_then(|level| level.point(self.seat));
        if carried || taken.is_some_and(|mine| Some(&mine.target.point) != here.as_ref()) {
            self.lies_as_before(now_ms);
        }
    }

    /// The level must be laid another way, or on another thing: what it shows at the present rest does not count.
    pub(crate) fn lies_as_before(&mut self, now_ms: u64) {
        let at_rest = self.main.settled(now_ms).map(|rest| rest.value);
        if let (Some(level), Some(value)) = (&mut self.level, at_rest) {
            level.unlaid = true;
            self.main.took(value);
        }
    }

    pub(crate) fn begin_moves(&mut self, log: &Log<'_>) {
        self.lay(Site::Spars).look(log);
    }

    /// A new loop of moves, keeping the level's facing from the last one.
    fn lay(&mut self, site: Site) -> &mut Level {
        let facing = self.level.as_ref().map_or(Facing::Forward, |level| level.facing);
        self.question = None;
        self.level.insert(Level::new(site, facing))
    }

    /// What both axes show at rest now.
    pub(crate) fn pair_at_rest(&self, now_ms: u64) -> Option<Pair> {
        if self.level.as_ref().is_some_and(Level::as_before) {
            return None;
        }
        let main = self.main.settled(now_ms)?;
        let both = self.seat.second != crate::Second::NotUsed
            && self.level.as_ref().is_none_or(|level| level.site != Site::Spars);
        let second = match self.second.as_ref().filter(|_| both) {
            None => None,
            Some(second) => Some(second.settled(now_ms)?),
        };
        Some(Pair::of(&main, second.as_ref(), self.device.sign, self.device.facts.resolution))
    }

    /// What both axes show now, at rest or not.
    pub(crate) fn pair_now(&self, now_ms: u64) -> Option<Pair> {
        let as_before = self.level.as_ref().is_some_and(Level::as_before);
        if as_before || self.signal.wrong.is_some() || self.signal.lost_for(now_ms).is_some() {
            return None;
        }
        if let Some(pair) = self.pair_at_rest(now_ms) {
            return Some(pair);
        }
        let main = self.main.latest()?.base() * self.device.sign;
        let second = self.second.as_ref().and_then(Gauge::latest).map(Sample::base);
        Some(Pair { main, second, u: self.device.facts.resolution })
    }

    /// The signal was lost: ask about a move in progress when it is back.
    pub(crate) fn broken(&mut self) {
        if let Some(start) = self.level.as_mut().and_then(|level| level.start.as_mut()) {
            start.broken = true;
            // The measured difference may not be a move: measure it again.
            if matches!(self.question, Some(Question::Record { .. } | Question::Which { .. })) {
                self.question = None;
            }
        }
    }

    /// Advances the loop of moves with the value.
    pub(crate) fn turning(&mut self, now_ms: u64, log: &Log<'_>, out: &mut Vec<Out>) {
        let standing = self.main.standing(now_ms);
        if let (Standing::Moving { .. }, Some(level)) = (standing, &mut self.level) {
            (level.unturned, level.unlaid) = (false, false);
        }
        let at_rest = self.pair_at_rest(now_ms);
        let known = self.known();
        let live = self.pair_now(now_ms).is_some();
        let Some(level) = &mut self.level else { return };
        level.steadies(log, &known, at_rest.as_ref());
        if !live {
            return;
        }
        if let Standing::Moving { .. } = standing {
            if level.start.is_none() {
                level.settled_at = None;
            }
            return;
        }
        let Some(pair) = at_rest else { return };
        // One rest wanders by a step of the display and its noise.
        let band = (1.5 * known.step).max(2.0 * pair.u);
        let Some(start) = &mut level.start else {
            if self.hands_free == HandsFree::On
                && self.question.is_none()
                && level.settled_at.is_none_or(|at| (at - pair.main).abs() > band)
            {
                self.start(now_ms, log, out);
            }
            return;
        };
        if start.broken {
            if self.question.is_none() {
                self.question = Some(Question::Touched { start: start.shown });
            }
            return;
        }
        // The rest where it began is not the end of the move, and one rest is asked about only once.
        let asked = level.settled_at.is_some_and(|at| (at - pair.main).abs() <= band);
        if asked || self.question.is_some() {
            return;
        }
        level.settled_at = Some(pair.main);
        match level.outcome(log, &known, &pair) {
            None | Some(Outcome::Nothing(_)) => {}
            Some(Outcome::AsTold { measured, .. }) if self.hands_free == HandsFree::On => {
                self.record(&measured, now_ms, out);
            }
            Some(outcome) => self.ask_about(outcome, out),
        }
    }

    /// Asks about a measured move.
    fn ask_about(&mut self, outcome: Outcome, out: &mut Vec<Out>) {
        match outcome {
            Outcome::Nothing(_) => {}
            Outcome::AsTold { measured, others } => {
                self.question = Some(Question::Record { measured, others });
            }
            Outcome::Otherwise { candidates } => {
                out.push(Out::Say(Said::NotAsTold));
                self.question = Some(Question::Which { candidates });
            }
        }
    }

    /// Begins a move at the present rest.
    fn start(&mut self, now_ms: u64, log: &Log<'_>, out: &mut Vec<Out>) {
        let (Some(pair), known) = (self.pair_at_rest(now_ms), self.known()) else {
            return Self::not_taken(out, NotTaken::NotSettled);
        };
        let (kind, step) = (self.device.quantity(), self.device.facts.resolution);
        let Some(level) = &mut self.level else { return };
        // As it is shown while it is turned: facing and zero taken out.
        let value = level.places(log, &known, &pair).first().map_or(pair.main, |place| place.value);
        let shown = Shown { value, kind, step };
        let told = level.advise(log, &known, &pair).turn;
        level.settled_at = Some(pair.main);
        if (level.site == Site::Spars && told.is_none()) || told.as_ref().is_some_and(|it| it.by == By::Count)
        {
            return;
        }
        level.start = Some(Start { pair, shown, told, broken: false });
        out.push(Out::Say(Said::Started(shown)));
    }

    pub(crate) fn main_now(&self, now_ms: u64, log: &Log<'_>) -> Main {
        match &self.question {
            Some(Question::Record { measured, .. }) => return Main::Record(measured.clone()),
            Some(Question::Which { .. }) => return Main::Off,
            // Neither answer is the usual one: the main key must not give one.
            Some(Question::Touched { .. } | Question::Moved { .. } | Question::Implausible { .. }) => {
                return Main::Off;
            }
            None => {}
        }
        if self.signal.wrong.is_some() || (self.signal.lost_for(now_ms).is_some() && !self.main.each_value())
        {
            return Main::Off;
        }
        if self.level.is_some() {
            return self.main_of_level(now_ms, log);
        }
        if self.walk.target().is_none() {
            return Main::Off;
        }
        match self.main.standing(now_ms) {
            Standing::Silent => Main::Off,
            Standing::Moving { .. } => Main::HoldStill,
            Standing::Taken { .. } => Main::MoveFirst,
            Standing::Ready { .. } => Main::Take,
        }
    }

    fn main_of_level(&self, now_ms: u64, log: &Log<'_>) -> Main {
        let Some(level) = &self.level else { return Main::Off };
        let Some(pair) = self.pair_at_rest(now_ms) else {
            return if level.start.is_some() { Main::Turning } else { Main::HoldStill };
        };
        if level.start.is_some() {
            return Main::Turning;
        }
        let advised = level.advise(log, &self.known(), &pair);
        if advised.coarse.is_some() {
            return Main::TakeBothWays;
        }
        match advised.turn.map(|turn| turn.by) {
            Some(By::Level) => Main::Start,
            Some(By::Count) => Main::Count,
            None => Main::Enough,
        }
    }

    pub(crate) fn main_key(&mut self, now_ms: u64, log: &Log<'_>, out: &mut Vec<Out>) {
        match self.main_now(now_ms, log) {
            Main::Take => self.take_settled(now_ms, log, out),
            Main::Start => self.start(now_ms, log, out),
            Main::Record(measured) => {
                self.question = None;
                self.record(&measured, now_ms, out);
            }
            Main::HoldStill => Self::not_taken(out, NotTaken::NotSettled),
            Main::MoveFirst => self.take_settled(now_ms, log, out),
            Main::Turning => self.nothing_turned(now_ms, log, out),
            // Enter alone answers only what the line names.
            Main::Off if self.question.is_some() => Self::not_taken(out, NotTaken::Asked),
            Main::Off => self.take_settled(now_ms, log, out),
            Main::Enough | Main::TakeBothWays | Main::Count => {}
        }
    }

    /// The main key between start and end: at rest it ends the move, and if nothing was turned, nothing is written.
    fn nothing_turned(&mut self, now_ms: u64, log: &Log<'_>, out: &mut Vec<Out>) {
        let known = self.known();
        let Some(pair) = self.pair_at_rest(now_ms) else { return Self::not_taken(out, NotTaken::NotSettled) };
        let Some(level) = &mut self.level else { return };
        match level.outcome(log, &known, &pair) {
            Some(Outcome::Nothing(by)) => {
                level.start = None;
                level.settled_at = Some(pair.main);
                out.push(Out::Say(Said::NothingMoved(by)));
            }
            Some(outcome) => self.ask_about(outcome, out),
            None => {}
        }
    }

    /// Handles answers to questions about a move.
    pub(crate) fn answer_move(
        &mut self,
        question: Question,
        answer: Answer,
        now_ms: u64,
        out: &mut Vec<Out>,
    ) {
        let candidates = match question {
            Question::Record { measured, others } => match answer {
                Answer::Yes => return self.record(&measured, now_ms, out),
                Answer::No | Answer::Leave => return self.drop_start(now_ms, out),
                Answer::Other(_) => std::iter::once(measured).chain(others).collect(),
            },
            Question::Which { candidates } => candidates,
            Question::Touched { .. } => {
                match (answer, self.level.as_mut().and_then(|level| level.start.as_mut())) {
                    (Answer::No, Some(start)) => {
                        start.broken = false;
                        out.push(Out::Say(Said::StartKept));
                    }
                    _ => self.drop_start(now_ms, out),
                }
                return;
            }
            Question::Moved { .. } | Question::Implausible { .. } => return,
        };
        match answer {
            Answer::Other(at) => match candidates.get(at) {
                Some(measured) => self.record(&measured.clone(), now_ms, out),
                None => self.question = Some(Question::Which { candidates }),
            },
            Answer::No | Answer::Leave => self.drop_start(now_ms, out),
            Answer::Yes => self.question = Some(Question::Which { candidates }),
        }
    }

    /// Handles answers to whether something was moved since a reading.
    pub(crate) fn answer_moved(
        &mut self,
        question: Question,
        answer: Answer,
        now_ms: u64,
        log: &Log<'_>,
        out: &mut Vec<Out>,
    ) {
        let Question::Moved { candidates, .. } = &question else { return };
        match answer {
            Answer::Leave => {}
            Answer::No => {
                self.new_round = true;
                out.push(Out::Say(Said::RoundBegins));
                self.take_anyway(now_ms, log, out);
            }
            Answer::Yes if candidates.is_empty() => out.push(Out::Say(Said::RecordByHand)),
            Answer::Yes => self.question = Some(Question::Which { candidates: candidates.clone() }),
            Answer::Other(at) => match candidates.get(at) {
                Some(measured) => self.record(&measured.clone(), now_ms, out),
                None => self.question = Some(question),
            },
        }
    }

    fn drop_start(&mut self, now_ms: u64, out: &mut Vec<Out>) {
        let at = self.pair_at_rest(now_ms).map(|pair| pair.main);
        if let Some(level) = &mut self.level {
            (level.start, level.settled_at) = (None, at);
        }
        out.push(Out::Say(Said::StartDropped));
    }

    fn record(&self, measured: &Measured, now_ms: u64, out: &mut Vec<Out>) {
        let it = measured.rounded();
        let end = self.pair_at_rest(now_ms);
        let seen = self.level.as_ref().zip(end).and_then(|(level, end)| level.seen(&self.known(), &end));
        out.push(Out::Write(Write::Move(NewMove {
            support: it.foot.clone(),
            mm: it.mm,
            u_mm: it.u_mm,
            text: it.recorded(),
            seen,
        })));
    }

    pub(crate) fn wrote_move(&mut self, now_ms: u64, log: &Log<'_>, out: &mut Vec<Out>) {
        let at = self.pair_at_rest(now_ms).map(|pair| pair.main);
        self.new_round = false;
        let Some(level) = &mut self.level else { return };
        let lay = level.point(self.seat);
        (level.start, level.settled_at) = (None, at);
        level.look(log);
        let next = level.point(self.seat);
        match &next {
            None => out.push(Out::Say(Said::LastMove)),
            Some(point) if next != lay => out.push(Out::Say(Said::LayOn(point.place().to_owned()))),
            // Hands free continues from the rest where the last move ended.
            Some(_) if self.hands_free == HandsFree::On && at.is_some() => self.start(now_ms, log, out),
            Some(_) => {}
        }
    }

    /// The move of each foot that would explain a difference to an earlier reading, if it is a tilt of a post.
    pub(crate) fn candidates(&self, target: &crate::Target, by: f64, u: f64, log: &Log<'_>) -> Vec<Measured> {
        let Some(axis) = axis_of(target.point.kind()) else { return Vec::new() };
        let post = Site::Post(target.point.place().to_owned());
        let level = Level::new(post, target.facing.unwrap_or(Facing::Forward));
        level.since_reading(log, axis, by, u)
    }
}
