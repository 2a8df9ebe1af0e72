//! The state of the bench, and what events and keys do to it.

use crate::level::Level;
use crate::signal::Signal;
use crate::walk::Walk;
use crate::watch::Watching;
use crate::{
    Answer, Came, Device, Gauge, HandsFree, Key, Log, NotTaken, Out, PortEvent, Question, Said, Seat,
    TakenHere, Write, Written, Wrote, Zero, Zeroed, Zeroes,
};
use instrument::{Axis, Fault, Flags, Request, Sample};
use quantity::Celsius;
use record::{Asked, Facing};

/// A board that has not answered after this long will not: by then a question is given up, also behind another one.
pub const NO_ANSWER_MS: u64 = 5_600;

/// The bench with one instrument. See the crate documentation for what it contains.
#[derive(Clone, Debug)]
pub struct Bench {
    pub(crate) device: Device,
    pub(crate) main: Gauge,
    pub(crate) second: Option<Gauge>,
    pub(crate) signal: Signal,
    pub(crate) walk: Walk,
    pub(crate) seat: Seat,
    pub(crate) level: Option<Level>,
    pub(crate) question: Option<Question>,
    pub(crate) hands_free: HandsFree,
    pub(crate) temperature: Option<Celsius>,
    /// The instrument's report of its own temperature.
    pub(crate) own_temperature: Option<Celsius>,
    pub(crate) watching: Option<Watching>,
    pub(crate) mine: Vec<TakenHere>,
    pub(crate) zero: Zero,
    pub(crate) second_zero: Zero,
    pub(crate) new_round: bool,
    /// The question about the next take that was answered with yes.
    pub(crate) asked: Option<Asked>,
    pub(crate) fault: Option<Fault>,
    /// The rest that was refused or questioned: not taken automatically again.
    pub(crate) declined: bool,
    pub(crate) zeroed: Option<bool>,
    pub(crate) asked_ms: Option<u64>,
    /// Number of entries when the zero was computed.
    seen: Option<usize>,
}

impl Bench {
    pub fn new(device: Device) -> Self {
        Self {
            main: Gauge::new(device.measures, device.settle),
            second: None,
            signal: Signal::default(),
            walk: Walk::new(device.quantity()),
            seat: Seat::default(),
            level: None,
            question: None,
            hands_free: HandsFree::Off,
            temperature: None,
            own_temperature: None,
            watching: None,
            mine: Vec::new(),
            zero: Zero::Unknown,
            second_zero: Zero::Unknown,
            new_round: false,
            asked: None,
            fault: None,
            declined: false,
            zeroed: None,
            asked_ms: None,
            seen: None,
            device,
        }
    }

    pub const fn device(&self) -> &Device {
        &self.device
    }

    /// How the instrument lies on a post.
    pub const fn seat(&self) -> Seat {
        self.seat
    }

    /// The zero of the instrument's own axis, as far as known.
    pub const fn zero(&self) -> Zero {
        self.zero
    }

    /// The readings taken in this run, oldest first.
    pub fn taken(&self) -> &[TakenHere] {
        &self.mine
    }

    /// Notes the log: call it first, and whenever entries came from elsewhere.
    pub fn look(&mut self, log: &Log<'_>) {
        self.walk.begin(log);
        if self.seen.replace(log.entries.len()) != Some(log.entries.len()) {
            self.zero = Zero::of(log, &self.device.facts);
            self.second_zero = Zero::of(log, &self.device.second());
            if let Some(level) = &mut self.level {
                level.look(log);
            }
        }
    }

    #[must_use]
    pub fn event(&mut self, event: &PortEvent, log: &Log<'_>) -> Vec<Out> {
        self.look(log);
        let PortEvent { at_ms, what } = event;
        let (at_ms, mut out) = (*at_ms, Vec::new());
        match what {
            Came::Sample(sample) => self.sample(at_ms, sample, &mut out),
            Came::Fault(fault) => {
                // The first line after the port was opened is always doubtful, which does not explain silence.
                if *fault != Fault::Start {
                    self.fault = Some(*fault);
                    // The person who pressed the button waits for a value.
                    if self.main.each_value() {
                        out.push(Out::Say(Said::Fault(*fault)));
                    }
                }
            }
            Came::Missed(_) => self.restart(),
            Came::Lost(why) => {
                self.signal.gone(at_ms);
                self.restart();
                self.broken();
                out.push(Out::Say(Said::Lost { why: why.clone() }));
            }
            Came::Found => {
                self.signal.back();
                self.asked_ms = self.asked_ms.map(|_| at_ms);
                self.restart();
                out.push(Out::Say(Said::Found));
            }
            Came::Notice(notice) => self.notice(notice, &mut out),
        }
        out.extend(self.tick(at_ms, log));
        out
    }

    /// Handles the passing of time: call it even if nothing came.
    #[must_use]
    pub fn tick(&mut self, now_ms: u64, log: &Log<'_>) -> Vec<Out> {
        let mut out = Vec::new();
        if self.asked_ms.is_some_and(|asked| now_ms.saturating_sub(asked) > NO_ANSWER_MS)
            && !self.signal.port_gone()
        {
            self.asked_ms = None;
            out.push(Out::Say(Said::NoAnswer));
        }
        if self.signal.lost_for(now_ms).is_some() && !self.main.each_value() {
            self.broken();
        }
        self.turning(now_ms, log, &mut out);
        self.take_by_itself(now_ms, log, &mut out);
        out
    }

    fn sample(&mut self, at_ms: u64, sample: &Sample, out: &mut Vec<Out>) {
        if self.signal.wrong.is_some() {
            self.signal.value(at_ms);
            return;
        }
        // A board that was zeroed, or lost its zero, is a new set-up of the instrument.
        let zeroed = sample.flags.contains(Flags::ZEROED);
        if self.zeroed.replace(zeroed).is_some_and(|before| before != zeroed) {
            self.set_up_again();
            out.push(Out::Say(Said::Zeroed(if zeroed { Zeroed::Set } else { Zeroed::Lost })));
        }
        self.watch(at_ms, sample);
        if sample.axis == Axis::Cross && self.main.axis() == Axis::Angle {
            let (measures, settle) = (Axis::Cross, self.device.settle);
            self.second.get_or_insert_with(|| Gauge::new(measures, settle)).sample(at_ms, sample);
        }
        if sample.axis == self.main.axis() {
            self.signal.value(at_ms);
            self.fault = None;
        }
        self.main.sample(at_ms, sample);
        if self.main.each_value() && sample.axis == self.main.axis() && !sample.flags.contains(Flags::MOVING)
        {
            self.rests_anew();
        }
    }

    /// Settling restarts; what was taken stays taken.
    pub(crate) fn restart(&mut self) {
        self.main.restart();
        if let Some(second) = &mut self.second {
            second.restart();
        }
    }

    #[must_use]
    pub fn key(&mut self, key: Key, now_ms: u64, log: &Log<'_>) -> Vec<Out> {
        self.look(log);
        let mut out = Vec::new();
        match key {
            Key::Main => self.main_key(now_ms, log, &mut out),
            Key::Take => self.take_settled(now_ms, log, &mut out),
            Key::TakeAnyway => self.take_anyway(now_ms, log, &mut out),
            Key::Turn => self.face(None, now_ms, &mut out),
            Key::Face(facing) => self.face(Some(facing), now_ms, &mut out),
            Key::Lies(facing) => match &mut self.level {
                Some(level) if level.start.is_none() => level.facing = facing,
                Some(_) => out.push(Out::Say(Said::FacingLocked)),
                None => self.face(Some(facing), now_ms, &mut out),
            },
            Key::Skip => {
                if let Some(target) = self.walk.skip(log) {
                    out.push(Out::Say(Said::Passed(target)));
                }
            }
            Key::Back => {
                if !self.walk.back() {
                    out.push(Out::Say(Said::NothingBefore));
                }
            }
            Key::Go(target) => self.walk.go(target),
            Key::Only(facing) => self.walk.only(facing, log),
            Key::Withdraw { reason } => match self.mine.iter().rev().find(|mine| !mine.withdrawn) {
                Some(mine) => out.push(Out::Write(Write::Withdraw { seq: mine.seq, reason })),
                None => out.push(Out::Say(Said::NothingToWithdraw)),
            },
            Key::Zero => match self.device.zeroes {
                Zeroes::OnRequest => {
                    self.asked_ms = Some(now_ms);
                    out.push(Out::Ask(Request::Zero));
                }
                Zeroes::ByItsButton => out.push(Out::Say(Said::CannotZero)),
            },
            Key::HandsFree(hands_free) => {
                // A rest that was already there is not taken automatically, only one that comes.
                let begins = self.hands_free == HandsFree::Off && hands_free == HandsFree::On;
                self.declined |= begins && self.main.settled(now_ms).is_some();
                self.hands_free = hands_free;
            }
            Key::Level(post) => self.begin_level(&post, now_ms, log, &mut out),
            Key::Moves => self.begin_moves(log),
            Key::LeaveLevel => {
                (self.level, self.question) = (None, None);
            }
            Key::Seat(seat) => {
                let laid_anew = seat.arrow != self.seat.arrow;
                self.seat = seat;
                if let Some(level) = &mut self.level {
                    level.begin(log);
                    if laid_anew {
                        self.lies_as_before(now_ms);
                    }
                }
            }
            Key::Temperature(temperature) => self.temperature = temperature,
            Key::Answer(answer) => self.answer(answer, now_ms, log, &mut out),
        }
        out
    }

    fn face(&mut self, facing: Option<Facing>, now_ms: u64, out: &mut Vec<Out>) {
        let at_rest = self.main.settled(now_ms).map(|rest| rest.value);
        if let Some(level) = &mut self.level {
            if level.start.is_some() {
                out.push(Out::Say(Said::FacingLocked));
            } else {
                let before = level.facing;
                level.facing = facing.unwrap_or(before.turned());
                level.settled_at = None;
                if let (true, Some(value)) = (level.facing != before, at_rest) {
                    level.unturned = !level.unturned;
                    self.main.took(value);
                }
            }
            return;
        }
        let now = self.walk.target().and_then(|target| target.facing);
        let turned = now.is_some_and(|now| self.walk.face(facing.unwrap_or(now.turned())));
        if !turned && self.walk.target().is_some() {
            out.push(Out::Say(Said::NoFacing));
        }
    }

    fn answer(&mut self, answer: Answer, now_ms: u64, log: &Log<'_>, out: &mut Vec<Out>) {
        match self.question.take() {
            None => out.push(Out::Say(Said::NoQuestion)),
            Some(Question::Moved { .. } | Question::Implausible { .. }) if answer == Answer::Leave => {}
            Some(Question::Implausible { expected, why, .. }) => {
                if answer == Answer::Yes {
                    self.asked = Some(Asked { expected, why });
                    self.take_anyway(now_ms, log, out);
                }
            }
            Some(question @ Question::Moved { .. }) => self.answer_moved(question, answer, now_ms, log, out),
            Some(question) => self.answer_move(question, answer, now_ms, out),
        }
    }

    /// The write is in the log, and the log passed in contains it.
    #[must_use]
    pub fn wrote(&mut self, write: &Write, wrote: &Wrote, now_ms: u64, log: &Log<'_>) -> Vec<Out> {
        let what = match write {
            Write::Readings(_) => Written::Readings,
            Write::Move(_) => Written::Move,
            Write::Withdraw { .. } => Written::Withdrawal,
        };
        let mut out = vec![Out::Say(Said::Written { what, line: wrote.line.clone() })];
        match write {
            Write::Readings(readings) => self.wrote_readings(readings, wrote.seq, now_ms, log),
            Write::Move(_) => self.wrote_move(now_ms, log, &mut out),
            Write::Withdraw { seq, .. } => {
                let mine = self.mine.iter_mut().find(|mine| mine.seq == *seq);
                if let Some(mine) = mine {
                    mine.withdrawn = true;
                    self.walk.again(mine.target.clone());
                }
            }
        }
        self.look(log);
        out
    }

    /// The write is not in the log: the value is not what the point should show, and the person is asked. In
    /// hands-free mode the value is not taken, which asks the question; a key takes it.
    pub fn asks(&mut self, write: &Write, expected: &str, why: &str) {
        if let Write::Readings(readings) = write
            && let Some(first) = readings.first()
        {
            let (expected, why) = (expected.to_owned(), why.to_owned());
            self.question = Some(Question::Implausible { shown: self.shown(first.value), expected, why });
            self.declined = true;
        }
    }

    /// The write is not in the log, and why.
    #[must_use]
    pub fn not_written(&mut self, write: &Write, why: &str) -> Vec<Out> {
        if matches!(write, Write::Readings(_)) {
            self.declined = true;
        }
        self.asked = None;
        vec![Out::Say(Said::NotWritten(why.to_owned()))]
    }

    pub(crate) fn not_taken(out: &mut Vec<Out>, why: NotTaken) {
        out.push(Out::Say(Said::NotTaken(why)));
    }
}
