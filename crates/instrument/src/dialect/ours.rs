//! The project's own framed lines; see the crate `jigtrue-protocol`.

use crate::{Decimal, Fault, Flags, Notice, Sample, Text};
use jigtrue_protocol::{Damage, Message, Receiver, Stamp, Unit as Word};
use quantity::Unit;

/// How far back a repeated line is known again. A board that starts again says so (`identify`, or
/// the flag `r`); if that is lost, its first lines up to this many are taken for repeats.
const REPEATS: u32 = 64;

const NOTICES: usize = 4;

/// Reads framed lines: drops repeats, counts what is missing, keeps what the board says of itself.
#[derive(Clone, Debug)]
pub struct Ours {
    receiver: Receiver<2048>,
    last: Option<Stamp>,
    missed: u64,
    notices: [Option<Notice>; NOTICES],
}

impl Ours {
    /// One that has received nothing yet.
    #[must_use]
    pub(crate) const fn new() -> Self {
        Self { receiver: Receiver::new(), last: None, missed: 0, notices: [None; NOTICES] }
    }

    /// See [`Decoder::received`](crate::Decoder::received).
    pub(crate) fn received(&mut self, bytes: &[u8]) -> usize {
        self.receiver.received(bytes)
    }

    /// See [`Decoder::forget`](crate::Decoder::forget). The last sequence is kept: the same line heard
    /// again through a reopened port is still a repeat.
    pub(crate) const fn forget(&mut self) {
        self.receiver.forget();
    }

    /// See [`Decoder::next`](crate::Decoder::next).
    #[inline]
    pub(crate) fn next(&mut self) -> Option<Result<Sample, Fault>> {
        loop {
            let message = match self.receiver.next()? {
                Ok(message) => message,
                Err(damage) => return Some(Err(fault(damage))),
            };
            let restarted = match &message {
                Message::Identify(_) => true,
                Message::Sample(sample) => sample.flags.contains(Flags::RESTARTED),
                Message::Status(_) | Message::Fault(_) | Message::Answer(_) | Message::Command(_) => false,
            };
            let Some(stamp) = message.stamp() else { continue };
            let (repeat, missed) = place(self.last, stamp, restarted);
            if repeat {
                return Some(Err(Fault::Repeat));
            }
            self.missed += u64::from(missed);
            self.last = Some(stamp);
            let notice = match message {
                Message::Sample(sample) => return Some(Ok(taken(&sample))),
                Message::Fault(it) => {
                    let detail = Text::cut(it.detail);
                    return Some(Err(Fault::Instrument { code: it.code, detail }));
                }
                Message::Identify(it) => Notice::Identity {
                    name: Text::cut(it.name),
                    number: Text::cut(it.number),
                    firmware: Text::cut(it.firmware),
                },
                Message::Status(it) => {
                    Notice::Status { interval_ms: it.interval_ms, dropped: it.dropped, flags: it.flags }
                }
                Message::Answer(it) => {
                    let detail = Text::cut(it.detail);
                    Notice::Answer { command: it.command, outcome: it.outcome, detail }
                }
                Message::Command(_) => continue,
            };
            keep(&mut self.notices, notice);
        }
    }

    /// See [`Decoder::notice`](crate::Decoder::notice). The last four are kept.
    pub(crate) const fn notice(&mut self) -> Option<Notice> {
        let [first, second, third, fourth] = self.notices;
        self.notices = [second, third, fourth, None];
        first
    }

    /// How many lines of the board did not come in.
    #[must_use]
    pub(crate) const fn missed(&self) -> u64 {
        self.missed
    }
}

fn keep(notices: &mut [Option<Notice>; NOTICES], notice: Notice) {
    match notices.iter_mut().find(|slot| slot.is_none()) {
        Some(free) => *free = Some(notice),
        None => {
            notices.rotate_left(1);
            if let Some(last) = notices.last_mut() {
                *last = Some(notice);
            }
        }
    }
}

/// Whether a line repeats an earlier one, and how many are missing before it.
#[inline]
fn place(last: Option<Stamp>, now: Stamp, restarted: bool) -> (bool, u32) {
    let Some(last) = last else { return (false, 0) };
    if now == last {
        return (true, 0);
    }
    let behind = last.sequence.wrapping_sub(now.sequence);
    let earlier = last.device_ms.wrapping_sub(now.device_ms) < 1 << 31;
    if behind < REPEATS && earlier {
        return (!restarted, 0);
    }
    let ahead = now.sequence.wrapping_sub(last.sequence);
    (false, if restarted || ahead >= 1 << 31 { 0 } else { ahead - 1 })
}

#[inline]
const fn taken(sample: &jigtrue_protocol::Sample) -> Sample {
    Sample {
        axis: sample.quantity,
        value: Decimal { mantissa: sample.value.mantissa as i64, exponent: sample.value.exponent },
        unit: match sample.unit {
            Word::Degrees => Unit::Degree,
            Word::MillimetresPerMetre => Unit::MillimetrePerMetre,
            Word::Millimetres => Unit::Millimetre,
            Word::Inches => Unit::Inch,
            Word::Celsius => Unit::Celsius,
            Word::NewtonMetres => Unit::NewtonMetre,
            Word::InchPounds => Unit::InchPound,
        },
        sequence: Some(sample.stamp.sequence),
        device_ms: Some(sample.stamp.device_ms),
        flags: sample.flags,
    }
}

const fn fault(damage: Damage) -> Fault {
    match damage {
        Damage::Noise { bytes } => Fault::Noise { bytes },
        Damage::Cut => Fault::Cut,
        Damage::TooLong => Fault::TooLong,
        Damage::NoCheck | Damage::Check => Fault::Check,
        Damage::Version => Fault::Version,
        Damage::Kind | Damage::Field => Fault::Form,
    }
}
