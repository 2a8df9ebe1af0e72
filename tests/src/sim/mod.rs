//! A simulated instrument: a script and a seed in, the bytes of a dialect out. Whoever owns a port (or a
//! pseudo-terminal) passes in the time and passes on the bytes.

mod harm;
mod trace;

pub use harm::{Harm, harmed};
pub use trace::Trace;

use crate::seeded::Draws;
use instrument::{
    Axis, Decimal, DialectSpec, Flags, ModbusSpec, NamedAxis, NmeaSpec, Register, RegisterForm, Sample,
    Table, WordOrder, modbus_crc,
};
use jigtrue_protocol as protocol;
use quantity::Unit;
use std::collections::BTreeMap;

/// One axis of a simulated instrument.
#[derive(Clone, Debug)]
pub struct Channel {
    /// Which.
    pub axis: Axis,
    /// The unit it sends.
    pub unit: Unit,
    /// The step of its display: `1e-1` for tenths. If the dialect has its own (a register's scale), that counts.
    pub step: Decimal,
    /// What it is exposed to.
    pub trace: Trace,
}

/// A simulated instrument.
#[derive(Clone, Debug)]
pub struct Simulated {
    spec: DialectSpec,
    /// How a text line is written: `X={angle},Y={cross}`.
    line: &'static str,
    channels: Vec<Channel>,
    interval_ms: u64,
    next_ms: u64,
    draws: Draws,
    board: Board,
    sent: Vec<(u64, Sample)>,
}

/// What a board of our own remembers.
#[derive(Clone, Debug, Default)]
struct Board {
    receiver: protocol::Receiver,
    sequence: u32,
    identified: bool,
    first_sample_sent: bool,
    zeros: BTreeMap<&'static str, f64>,
    last: Option<(u16, protocol::Outcome)>,
}

impl Simulated {
    /// One that sends a value of each channel every `interval_ms` from time 0 on (a polled one: when asked).
    #[must_use]
    pub fn new(spec: DialectSpec, channels: Vec<Channel>, interval_ms: u64, seed: u64) -> Self {
        let (draws, board) = (Draws::new(seed), Board::default());
        Self {
            spec,
            line: "",
            channels,
            interval_ms: interval_ms.max(1),
            next_ms: 0,
            draws,
            board,
            sent: Vec::new(),
        }
    }

    /// Makes one of text lines write them like this: each axis in braces is its value.
    #[must_use]
    pub fn writing(self, line: &'static str) -> Self {
        Self { line, ..self }
    }

    /// The frames it sends unasked up to this time, included; one element each.
    pub fn frames(&mut self, until_ms: u64) -> Vec<Vec<u8>> {
        let mut frames = Vec::new();
        if matches!(self.spec, DialectSpec::Modbus(_)) {
            return frames;
        }
        if matches!(self.spec, DialectSpec::Jigtrue) && !self.board.identified {
            frames.push(self.identify(self.next_ms));
            self.board.identified = true;
        }
        while self.next_ms <= until_ms {
            let now_ms = self.next_ms;
            self.next_ms += self.interval_ms;
            let samples = self.measure(now_ms);
            if samples.is_empty() {
                continue;
            }
            match &self.spec {
                DialectSpec::Jigtrue => {
                    for sample in &samples {
                        frames.push(self.board.sample(now_ms, sample));
                    }
                }
                DialectSpec::Lines(_) => frames.push(written(self.line, &samples).into_bytes()),
                DialectSpec::Nmea(spec) => frames.push(sentence(spec, &samples).into_bytes()),
                DialectSpec::Bcd => frames.extend(samples.iter().map(|sample| bcd(sample).into_bytes())),
                DialectSpec::Modbus(_) => {}
            }
            self.sent.extend(samples.into_iter().map(|sample| (now_ms, sample)));
        }
        frames
    }

    /// The same as one run of bytes.
    pub fn bytes(&mut self, until_ms: u64) -> Vec<u8> {
        self.frames(until_ms).concat()
    }

    /// What it answers to these bytes at this time: a board of our own answers commands, a Modbus slave questions.
    pub fn hear(&mut self, now_ms: u64, bytes: &[u8]) -> Vec<u8> {
        match self.spec {
            DialectSpec::Jigtrue => self.hear_commands(now_ms, bytes),
            DialectSpec::Modbus(spec) => self.answer(now_ms, &spec, bytes).unwrap_or_default(),
            DialectSpec::Lines(_) | DialectSpec::Nmea(_) | DialectSpec::Bcd => Vec::new(),
        }
    }

    /// Every value it has sent, with its time.
    #[must_use]
    pub fn sent(&self) -> &[(u64, Sample)] {
        &self.sent
    }

    fn measure(&mut self, now_ms: u64) -> Vec<Sample> {
        let mut samples = Vec::new();
        for channel in &self.channels {
            let Some(seen) = channel.trace.seen(now_ms, &mut self.draws) else { continue };
            let zero = self.board.zeros.get(channel.axis.word()).copied().unwrap_or(0.0);
            let step = step(&self.spec, channel.axis).unwrap_or(channel.step);
            let steps = libm::round((seen - zero) / step.to_f64()) as i64;
            let value = Decimal { mantissa: steps * step.mantissa, exponent: step.exponent };
            samples.push(Sample::bare(channel.axis, value, channel.unit));
        }
        samples
    }

    fn identify(&mut self, now_ms: u64) -> Vec<u8> {
        let stamp = self.board.stamp(now_ms);
        let (name, number, firmware) = ("simulated board", "SIM-1", "1.0");
        line(&protocol::Message::Identify(protocol::Identify { stamp, name, number, firmware }))
    }

    fn hear_commands(&mut self, now_ms: u64, mut bytes: &[u8]) -> Vec<u8> {
        let mut answers = Vec::new();
        while !bytes.is_empty() {
            let taken = self.board.receiver.received(bytes);
            bytes = bytes.get(taken..).unwrap_or_default();
            while let Some(command) = self.board.next_command() {
                answers.extend(self.carry_out(now_ms, command));
            }
        }
        answers
    }

    fn carry_out(&mut self, now_ms: u64, command: protocol::Command) -> Vec<u8> {
        let mut answer = Vec::new();
        let again = self.board.last.filter(|(number, _)| *number == command.number);
        let outcome = match (command.request, again) {
            (protocol::Request::Identify, _) => {
                answer.extend(self.identify(now_ms));
                protocol::Outcome::Done
            }
            (_, Some((_, outcome))) => outcome,
            (protocol::Request::Zero, None) => {
                for channel in &self.channels {
                    self.board.zeros.insert(channel.axis.word(), channel.trace.level(now_ms));
                }
                protocol::Outcome::Done
            }
            (protocol::Request::Rate { interval_ms: 0 }, None) => protocol::Outcome::Refused,
            (protocol::Request::Rate { interval_ms }, None) => {
                self.interval_ms = interval_ms.into();
                protocol::Outcome::Done
            }
            (protocol::Request::Unknown, None) => protocol::Outcome::Unknown,
        };
        self.board.last = Some((command.number, outcome));
        let (stamp, detail) = (self.board.stamp(now_ms), "-");
        answer.extend(line(&protocol::Message::Answer(protocol::Answer {
            stamp,
            command: command.number,
            outcome,
            detail,
        })));
        answer
    }

    /// A slave's answer to a whole question; `None` for anything else.
    fn answer(&mut self, now_ms: u64, spec: &ModbusSpec, asked: &[u8]) -> Option<Vec<u8>> {
        let asked: &[u8; 8] = asked.try_into().ok()?;
        let [slave, function, first_high, first_low, count_high, count_low, low, high] = *asked;
        let right = modbus_crc(&[slave, function, first_high, first_low, count_high, count_low]);
        if slave != spec.slave || right.to_le_bytes() != [low, high] {
            return None;
        }
        let first = u16::from_be_bytes([first_high, first_low]);
        let count = u16::from_be_bytes([count_high, count_low]);
        let table = match function {
            3 => Table::Holding,
            4 => Table::Input,
            _ => return Some(with_check(vec![slave, function | 0x80, 1])),
        };
        let samples = self.measure(now_ms);
        let words: Option<Vec<u16>> =
            (0..count).map(|at| word_at(spec, &samples, table, first.checked_add(at)?)).collect();
        let Some(words) = words else { return Some(with_check(vec![slave, function | 0x80, 2])) };
        self.sent.extend(samples.into_iter().map(|sample| (now_ms, sample)));
        let mut frame = vec![slave, function, (count * 2) as u8];
        frame.extend(words.iter().flat_map(|word| word.to_be_bytes()));
        Some(with_check(frame))
    }
}

/// A frame with its check behind it.
fn with_check(mut frame: Vec<u8>) -> Vec<u8> {
    let check = modbus_crc(&frame).to_le_bytes();
    frame.extend(check);
    frame
}

/// What is in a register of an instrument that shows these samples; `None` if it has no such register.
fn word_at(spec: &ModbusSpec, samples: &[Sample], table: Table, address: u16) -> Option<u16> {
    let place = |value: &&Register| {
        value.table == table && (value.address..value.address + registers(value.form)).contains(&address)
    };
    let value = spec.values.iter().flatten().find(place)?;
    let shown = samples.iter().find(|sample| sample.axis == value.axis);
    let number = match value.form {
        RegisterForm::F32 => {
            let shown = shown.map_or(0.0, |sample| sample.value.to_f64() / value.scale.to_f64());
            i64::from((shown as f32).to_bits())
        }
        _ => shown.map_or(0, |sample| sample.value.mantissa / value.scale.mantissa),
    };
    let second = registers(value.form) == 2 && address != value.address;
    let high = registers(value.form) == 2 && (value.order == WordOrder::HighFirst) != second;
    Some(if high { (number >> 16) as u16 } else { number as u16 })
}

impl Board {
    fn stamp(&mut self, now_ms: u64) -> protocol::Stamp {
        let stamp = protocol::Stamp { sequence: self.sequence, device_ms: now_ms as u32 };
        self.sequence = self.sequence.wrapping_add(1);
        stamp
    }

    fn sample(&mut self, now_ms: u64, sample: &Sample) -> Vec<u8> {
        let mut flags = if self.first_sample_sent { Flags::NONE } else { Flags::RESTARTED };
        if !self.zeros.is_empty() {
            flags |= Flags::ZEROED;
        }
        self.first_sample_sent = true;
        let (mantissa, exponent) = (sample.value.mantissa as i32, sample.value.exponent);
        line(&protocol::Message::Sample(protocol::Sample {
            stamp: self.stamp(now_ms),
            quantity: sample.axis,
            value: protocol::Decimal { mantissa, exponent },
            unit: word(sample.unit),
            flags,
        }))
    }

    fn next_command(&mut self) -> Option<protocol::Command> {
        loop {
            if let Ok(protocol::Message::Command(command)) = self.receiver.next()? {
                return Some(command);
            }
        }
    }
}

fn line(message: &protocol::Message<'_>) -> Vec<u8> {
    message.encode().map(|line| line.as_bytes().to_vec()).unwrap_or_default()
}

fn word(unit: Unit) -> protocol::Unit {
    match unit {
        Unit::MillimetrePerMetre => protocol::Unit::MillimetresPerMetre,
        Unit::Millimetre => protocol::Unit::Millimetres,
        Unit::Inch => protocol::Unit::Inches,
        Unit::Celsius => protocol::Unit::Celsius,
        Unit::NewtonMetre => protocol::Unit::NewtonMetres,
        Unit::InchPound => protocol::Unit::InchPounds,
        Unit::Newton => protocol::Unit::Newtons,
        Unit::PoundForce => protocol::Unit::PoundsForce,
        _ => protocol::Unit::Degrees,
    }
}

fn sentence(spec: &NmeaSpec, samples: &[Sample]) -> String {
    let mut payload = String::from("IIXDR");
    for sample in samples {
        let named = spec.names.iter().flatten().find(|named| named.axis == sample.axis);
        let Some(NamedAxis { name, .. }) = named else { continue };
        let (kind, unit) = match sample.unit {
            Unit::Celsius => ("C", "C"),
            Unit::Metre => ("D", "M"),
            _ => ("A", "D"),
        };
        payload.push_str(&format!(",{kind},{},{unit},{name}", sample.value));
    }
    let check = payload.bytes().fold(0, |sum, byte| sum ^ byte);
    format!("${payload}*{check:02X}\r\n")
}

fn bcd(sample: &Sample) -> String {
    let sign = if sample.value.mantissa < 0 { 8 } else { 0 };
    let digits = sample.value.mantissa.unsigned_abs() % 1_000_000;
    let unit = u8::from(sample.unit == Unit::Inch);
    format!("FFFF{sign}{digits:06}{}{unit}\r\n", sample.value.exponent.unsigned_abs())
}

/// A line with the values of these samples; 0 for a missing one.
fn written(line: &str, samples: &[Sample]) -> String {
    let mut pieces = line.split('{');
    let mut text = pieces.next().unwrap_or_default().to_owned();
    for piece in pieces {
        let (axis, after) = piece.split_once('}').unwrap();
        let sample = samples.iter().find(|sample| sample.axis.word() == axis);
        text += &sample.map_or_else(|| "0".to_owned(), |sample| sample.value.to_string());
        text += after;
    }
    text + "\r\n"
}

/// The step of an axis if the dialect itself has one.
fn step(spec: &DialectSpec, axis: Axis) -> Option<Decimal> {
    let DialectSpec::Modbus(spec) = spec else { return None };
    let value = spec.values.iter().flatten().find(|value| value.axis == axis)?;
    (value.form != RegisterForm::F32).then_some(value.scale)
}

/// How many registers a number takes.
const fn registers(form: RegisterForm) -> u16 {
    match form {
        RegisterForm::I16 | RegisterForm::U16 => 1,
        RegisterForm::I32 | RegisterForm::U32 | RegisterForm::F32 => 2,
    }
}
