//! One walk along the points with an instrument on a port.

use super::guide::{Guide, Target};
use super::screen::{Picture, Screen, Stand};
use super::typed::{HELP, HELP_WITH_ZERO, Typed};
use instrument::{DialectSpec, Fault, Flags, Notice, Outcome, Request, Sample};
use quantity::{Amount, Celsius};
use record::What;
use serde::Serialize;
use session::gauges::Connected;
use session::port::{GIVEN_UP_MS, Gauge, Listener, PortEvent, Standing, rounded};
use session::{Session, SessionError, TakeSettled, shown};

/// A reading of this walk, for the summary.
#[derive(Clone, Debug, Serialize)]
pub struct TakenView {
    pub seq: u64,
    pub point: String,
    pub facing: Option<&'static str>,
    pub value: f64,
    pub unit: &'static str,
    pub samples: u32,
    pub unsettled: bool,
    pub withdrawn: bool,
}

/// What came in that is no reading.
#[derive(Clone, Copy, Debug, Default, Serialize)]
pub struct Counts {
    /// Values.
    pub values: u64,
    /// What came in and is no value.
    pub faults: u64,
    /// Values thrown away because there was no time for them.
    pub missed: u64,
    /// How often the port was lost.
    pub lost: u64,
}

/// One walk.
pub struct Round<'a> {
    pub session: Session,
    pub device: &'a Connected,
    pub listener: &'a Listener,
    pub guide: Guide,
    pub screen: Screen<'a>,
    pub target: Option<Target>,
    pub temperature: Option<Celsius>,
    gauge: Gauge,
    lost: bool,
    new_round: bool,
    zeroed: Option<bool>,
    /// When the board was asked to zero, until it answers.
    asked_ms: Option<u64>,
    /// The board there has another number than the instrument's file.
    stranger: bool,
    last_fault: Option<String>,
    pub counts: Counts,
    pub taken: Vec<TakenView>,
    targets: Vec<Target>,
}

impl<'a> Round<'a> {
    pub fn new(
        session: Session,
        device: &'a Connected,
        listener: &'a Listener,
        guide: Guide,
        screen: Screen<'a>,
    ) -> Self {
        Self {
            session,
            device,
            listener,
            guide,
            screen,
            target: None,
            temperature: None,
            gauge: Gauge::new(device.measures, device.settle),
            lost: false,
            new_round: false,
            zeroed: None,
            asked_ms: None,
            stranger: false,
            last_fault: None,
            counts: Counts::default(),
            taken: Vec::new(),
            targets: Vec::new(),
        }
    }

    /// Takes in what came from the port.
    pub fn event(&mut self, event: PortEvent) -> Result<(), SessionError> {
        match event {
            PortEvent::Sample { at_ms, sample } => self.sample(at_ms, &sample),
            PortEvent::Fault { fault, .. } => {
                // The first line after the port was opened is always in doubt; that is no reason for silence.
                if fault != Fault::Start {
                    self.counts.faults += 1;
                    self.last_fault = Some(fault.to_string());
                    // Whoever pressed the button waits for a value.
                    if self.device.settle.each_value() {
                        return self.screen.say(&format!("note    {fault}; nothing was taken of it"));
                    }
                }
                Ok(())
            }
            PortEvent::Missed { values, .. } => {
                self.counts.missed += values;
                self.gauge.restart();
                Ok(())
            }
            PortEvent::Lost { why, .. } => {
                (self.lost, self.counts.lost) = (true, self.counts.lost + 1);
                self.gauge.restart();
                self.screen.say(&format!("lost    {}: {why}; it is looked for", self.port()))
            }
            PortEvent::Found { .. } => {
                self.lost = false;
                self.asked_ms = self.asked_ms.map(|_| self.now_ms());
                self.gauge.restart();
                self.screen.say(&format!("found   {} is back", self.port()))
            }
            PortEvent::Notice { notice, .. } => self.notice(&notice),
        }
    }

    fn sample(&mut self, at_ms: u64, sample: &Sample) -> Result<(), SessionError> {
        self.counts.values += 1;
        self.last_fault = None;
        self.gauge.sample(at_ms, sample);
        // A board that was zeroed, or lost its zero, is a fresh set-up of the instrument.
        let zeroed = sample.flags.contains(Flags::ZEROED);
        if self.zeroed.replace(zeroed).is_some_and(|before| before != zeroed) {
            self.new_round = true;
            let words = if zeroed { "was zeroed" } else { "has lost its zero" };
            return self.screen.say(&format!("note    the instrument {words}; a new round begins"));
        }
        Ok(())
    }

    fn notice(&mut self, notice: &Notice) -> Result<(), SessionError> {
        match notice {
            Notice::Identity { name, number, firmware } => {
                self.screen.say(&format!(
                    "hears   {} number {}, firmware {}",
                    shown(name.as_str()),
                    shown(number.as_str()),
                    shown(firmware.as_str())
                ))?;
                let wanted = self.device.wanted_instead_of(number.as_str());
                self.stranger = wanted.is_some();
                match wanted {
                    Some(wanted) => self.screen.say(&format!(
                        "note    the instrument's file is of number {}; nothing is taken from another",
                        shown(wanted)
                    )),
                    None => Ok(()),
                }
            }
            Notice::Answer { outcome, detail, .. } => {
                self.asked_ms = None;
                let words = match outcome {
                    Outcome::Done => {
                        self.new_round = true;
                        // The flag that samples carry from now on is no news then.
                        self.zeroed = None;
                        "zeroed; a new round begins".to_owned()
                    }
                    Outcome::Refused => format!("the board refuses to zero: {}", shown(detail.as_str())),
                    Outcome::Unknown => "the board does not know how to zero".to_owned(),
                };
                self.gauge.restart();
                self.screen.say(&format!("note    {words}"))
            }
            Notice::Status { .. } => Ok(()),
        }
    }

    /// Does what was typed; false to leave.
    pub fn typed(&mut self, line: &str) -> Result<bool, SessionError> {
        self.screen.entered();
        match Typed::read(line) {
            Typed::Quit => return Ok(false),
            Typed::Take => match self.gauge.standing(self.now_ms()) {
                Standing::Ready { reading } => {
                    self.take(reading.value, reading.scatter, reading.samples, false)?
                }
                Standing::Taken { .. } => {
                    let words = if self.device.settle.each_value() {
                        "        Nothing was sent since the last reading; ! takes it all the same."
                    } else {
                        "        It has not moved since the last reading; ! takes it all the same."
                    };
                    self.screen.say(words)?;
                }
                Standing::Moving { .. } => {
                    self.screen
                        .say("        It has not settled; ! takes it as it stands, and the log says so.")?;
                }
                Standing::Silent => self.screen.say("        No value comes in; nothing was taken.")?,
            },
            Typed::TakeUnsettled => self.take_as_it_stands()?,
            Typed::Turn => self.turn()?,
            Typed::Next => self.pass()?,
            Typed::Choose(text) => match self.guide.choose(&self.session, &text) {
                Ok(target) => self.target = Some(target),
                Err(why) => self.screen.say(&format!("        {why}"))?,
            },
            Typed::Withdraw(reason) => self.withdraw(&reason)?,
            Typed::Zero => self.zero()?,
            Typed::Unknown(text) => {
                self.screen.say(&format!("        `{}`? {}.", shown(&text), self.help()))?
            }
        }
        Ok(true)
    }

    /// Takes a value that settled somewhere else than the last one.
    pub fn take_by_itself(&mut self) -> Result<(), SessionError> {
        match self.gauge.standing(self.now_ms()) {
            Standing::Ready { reading } if !self.lost && !self.stranger => {
                self.take(reading.value, reading.scatter, reading.samples, false)
            }
            _ => Ok(()),
        }
    }

    fn take_as_it_stands(&mut self) -> Result<(), SessionError> {
        if let Some(reading) = self.gauge.settled(self.now_ms()) {
            return self.take(reading.value, reading.scatter, reading.samples, false);
        }
        let moving = matches!(self.gauge.standing(self.now_ms()), Standing::Moving { .. });
        match self.gauge.latest().map(Sample::base) {
            Some(latest) if moving => self.take(latest, 0.0, 1, true),
            _ => self.screen.say("        No value comes in; nothing was taken."),
        }
    }

    fn take(&mut self, value: f64, scatter: f64, samples: u32, unsettled: bool) -> Result<(), SessionError> {
        let Some(target) = self.target.clone() else { return Ok(()) };
        if self.stranger {
            return self.screen.say("        This is another instrument than the file's; nothing was taken.");
        }
        let resolution = self.device.facts.resolution;
        let taken = self.session.take_settled(TakeSettled {
            point: target.point.clone(),
            amount: Amount::from_base(self.device.quantity(), rounded(value * self.device.sign, resolution)),
            scatter,
            samples,
            resolution,
            unsettled,
            facing: target.facing,
            instrument: Some(self.device.facts.name.clone()),
            temperature: self.temperature,
            new_round: self.new_round,
            // Whoever types ! means the value that is shown.
            sure: unsettled,
        });
        let taken = match taken {
            Err(SessionError::Asks(question)) => {
                // It is offered again only after it has left this rest.
                self.gauge.took(value);
                return self.screen.say(&format!("asked   {}. Not recorded", shown(&question.why)));
            }
            taken => taken?,
        };
        self.new_round = false;
        self.gauge.took(value);
        if let What::Reading(reading) = &taken.entry.what {
            self.taken.push(TakenView {
                seq: taken.entry.seq,
                point: reading.point.to_string(),
                facing: reading.facing.map(record::Facing::word),
                value: reading.value,
                unit: reading.quantity.base_symbol(),
                samples,
                unsettled,
                withdrawn: false,
            });
        }
        self.guide.passed(&target);
        self.target = self.guide.after(&self.session, &target);
        self.targets.push(target);
        self.screen.ring()?;
        self.screen.say(&format!("taken   {}", taken.ack))
    }

    fn zero(&mut self) -> Result<(), SessionError> {
        if !self.can_be_asked() {
            return self
                .screen
                .say("        This instrument cannot be asked to zero; do it by its own button.");
        }
        self.listener.ask(Request::Zero);
        self.asked_ms = Some(self.now_ms());
        Ok(())
    }

    const fn can_be_asked(&self) -> bool {
        matches!(self.device.dialect, DialectSpec::Jigtrue)
    }

    const fn help(&self) -> &'static str {
        if self.can_be_asked() { HELP_WITH_ZERO } else { HELP }
    }

    fn turn(&mut self) -> Result<(), SessionError> {
        match &mut self.target {
            Some(Target { facing: Some(facing), .. }) => *facing = facing.turned(),
            Some(_) => return self.screen.say("        This point has no facing."),
            None => {}
        }
        Ok(())
    }

    /// Passes over the target: the other facing of a pair, or a point.
    fn pass(&mut self) -> Result<(), SessionError> {
        let Some(target) = self.target.take() else { return Ok(()) };
        self.guide.passed(&target);
        self.target = self.guide.next(&self.session);
        self.screen.say(&format!("passed  {}", target.words()))
    }

    fn withdraw(&mut self, reason: &str) -> Result<(), SessionError> {
        let Some(at) = self.taken.iter().rposition(|taken| !taken.withdrawn) else {
            return self.screen.say("        No reading of this walk is left to withdraw.");
        };
        let Some(seq) = self.taken.get(at).map(|taken| taken.seq) else { return Ok(()) };
        match self.session.withdraw(seq, reason) {
            Ok(done) => {
                if let Some(taken) = self.taken.get_mut(at) {
                    taken.withdrawn = true;
                }
                self.target = self.targets.get(at).cloned().or(self.target.take());
                self.screen.say(&format!("        {}", done.ack))
            }
            Err(why @ SessionError::Refused(_)) => self.screen.say(&format!("        {why}")),
            Err(why) => Err(why),
        }
    }

    /// Shows how it stands.
    pub fn draw(&mut self) -> Result<(), SessionError> {
        let Some(target) = self.target.clone() else { return Ok(()) };
        let waited_ms = self.asked_ms.map_or(0, |asked_ms| self.now_ms().saturating_sub(asked_ms));
        if waited_ms > GIVEN_UP_MS && !self.lost {
            self.asked_ms = None;
            self.screen.say("note    the board does not answer")?;
        }
        let (stand, value, progress) = match self.gauge.standing(self.now_ms()) {
            _ if self.lost => (Stand::Lost, None, 0.0),
            Standing::Silent => (Stand::Silent, None, 0.0),
            Standing::Moving { latest, progress } => (Stand::Moving, Some(latest), progress),
            Standing::Taken { latest } => (Stand::Taken, Some(latest), 1.0),
            Standing::Ready { reading } => (Stand::Ready, Some(reading.value), 1.0),
        };
        let figure = value
            .map_or_else(|| "---".to_owned(), |v| figure(v * self.device.sign, self.device.facts.resolution));
        let unit = self.device.quantity().base_symbol();
        let words = match stand {
            Stand::Lost => format!("{} is gone; it is looked for", self.port()),
            Stand::Silent => match &self.last_fault {
                Some(fault) => format!("no value comes in: {fault}"),
                None if self.device.settle.each_value() => "waits for its button".to_owned(),
                None => "no value comes in".to_owned(),
            },
            Stand::Moving => "moving".to_owned(),
            Stand::Taken => "taken; go on to the next".to_owned(),
            Stand::Ready if self.device.settle.each_value() => format!("sent {figure} {unit}"),
            Stand::Ready => format!("settled at {figure} {unit}"),
        };
        let left = self.guide.left(&self.session).len();
        let head = match left {
            0 => target.words(),
            n => format!("{} ({n} still wanted)", target.words()),
        };
        self.screen.draw(&Picture { head, figure, unit, stand, progress, words, help: self.help() })
    }

    fn now_ms(&self) -> u64 {
        self.listener.now_ms()
    }

    fn port(&self) -> String {
        format!("port {}", shown(self.listener.path()))
    }
}

/// A value with the decimals of the display.
pub fn figure(value: f64, resolution: f64) -> String {
    quantity::shown::signed(value, quantity::shown::step_decimals(resolution))
}
