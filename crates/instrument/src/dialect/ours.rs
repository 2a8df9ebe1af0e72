//! The project's own framed lines; see the crate `jigtrue-protocol`.

use crate::text::cut;
use crate::{Decimal, Fault, Flags, Notice, Sample};
use arrayvec::ArrayVec;
use jigtrue_protocol::{Damage, MAX_LINE, Message, Receiver, Stamp, Unit as Word};
use quantity::Unit;

/// How many lines back a repeated line is recognised, by sequence and milliseconds together.
const REPEATS: usize = 64;

const NOTICES: usize = 4;

/// Reads framed lines: drops repeats, keeps what the board reports about itself.
#[derive(Clone, Debug)]
pub struct Ours {
    receiver: Receiver<2048>,
    /// Whether a whole line has come since the port was opened. The rest of a line already under way then is not a
    /// fault.
    begun: bool,
    /// Stray bytes before that.
    early: usize,
    before: Before,
    /// The most recent notices.
    notices: ArrayVec<Notice, NOTICES>,
}

impl Ours {
    /// A decoder that has received nothing yet.
    #[must_use]
    pub(crate) const fn new() -> Self {
        Self {
            receiver: Receiver::new(),
            begun: false,
            early: 0,
            before: Before::NOTHING,
            notices: ArrayVec::new_const(),
        }
    }

    /// See [`Decoder::received`](crate::Decoder::received).
    pub(crate) fn received(&mut self, bytes: &[u8]) -> usize {
        self.receiver.received(bytes)
    }

    /// See [`Decoder::forget`](crate::Decoder::forget). The last line is remembered: if it comes again through a
    /// reopened port, it is a repeat. Earlier lines are forgotten: the board may have restarted, and the lines that
    /// say so may be lost.
    pub(crate) const fn forget(&mut self) {
        self.receiver.forget();
        (self.begun, self.early) = (false, 0);
        self.before.all_but_the_last();
    }

    /// See [`Decoder::next`](crate::Decoder::next).
    #[inline]
    pub(crate) fn next(&mut self) -> Option<Result<Sample, Fault>> {
        loop {
            let message = match self.receiver.next()? {
                Ok(message) => message,
                Err(Damage::Noise { bytes }) if !self.begun => {
                    self.early = self.early.saturating_add(bytes);
                    // More than the rest of a line: something else is sending.
                    let other = self.early > MAX_LINE;
                    return Some(Err(if other { Fault::Noise { bytes } } else { Fault::Start }));
                }
                Err(damage) => return Some(Err(fault(damage))),
            };
            self.begun = true;
            let restarted = match &message {
                Message::Identify(_) => true,
                Message::Sample(sample) => sample.flags.contains(Flags::RESTARTED),
                Message::Status(_) | Message::Fault(_) | Message::Answer(_) | Message::Command(_) => false,
            };
            let Some(stamp) = message.stamp() else { continue };
            if self.before.repeats(stamp, restarted) {
                return Some(Err(Fault::Repeat));
            }
            let notice = match message {
                Message::Sample(sample) => return Some(Ok(taken(&sample))),
                Message::Fault(it) => {
                    let detail = cut(it.detail);
                    return Some(Err(Fault::Instrument { code: it.code, detail }));
                }
                Message::Identify(it) => Notice::Identity {
                    name: cut(it.name),
                    number: cut(it.number),
                    firmware: cut(it.firmware),
                },
                Message::Status(it) => {
                    Notice::Status { interval_ms: it.interval_ms, dropped: it.dropped, flags: it.flags }
                }
                Message::Answer(it) => {
                    let detail = cut(it.detail);
                    Notice::Answer { command: it.command, outcome: it.outcome, detail }
                }
                Message::Command(_) => continue,
            };
            if self.notices.is_full() {
                self.notices.pop_at(0);
            }
            self.notices.push(notice);
        }
    }

    /// See [`Decoder::notice`](crate::Decoder::notice). The last four are kept.
    pub(crate) fn notice(&mut self) -> Option<Notice> {
        self.notices.pop_at(0)
    }
}

/// The lines given out so far.
#[derive(Clone, Copy, Debug)]
struct Before {
    last: Option<Stamp>,
    /// The last lines, each at the place given by its sequence number.
    stamps: [Option<Stamp>; REPEATS],
}

impl Before {
    const NOTHING: Self = Self { last: None, stamps: [None; REPEATS] };

    /// Whether a line was given out before; if not, it is remembered.
    #[inline]
    fn repeats(&mut self, now: Stamp, restarted: bool) -> bool {
        if self.last == Some(now) {
            return true;
        }
        if restarted {
            self.all_but_the_last();
        }
        let Some(place) = self.stamps.get_mut(now.sequence as usize % REPEATS) else { return false };
        if *place == Some(now) {
            return true;
        }
        *place = Some(now);
        self.last = Some(now);
        false
    }

    /// Forgets all but the last line: after a restart a board sends the same numbers at the same times again.
    const fn all_but_the_last(&mut self) {
        self.stamps = [None; REPEATS];
    }
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
            Word::Newtons => Unit::Newton,
            Word::PoundsForce => Unit::PoundForce,
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
