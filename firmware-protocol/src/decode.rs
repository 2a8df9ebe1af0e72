//! Reads one whole line into its message.

use crate::fields::{Fields, leading_number};
use crate::{
    Answer, Command, Damage, Decimal, Fault, FaultCode, Flags, Identify, MAX_DETAIL, MAX_FIRMWARE, MAX_NAME,
    MAX_NUMBER, Message, Outcome, Quantity, Request, Sample, Stamp, Status, Unit, VERSION, crc,
};

/// Reads one line, given from its `~` to its last check digit, without the line's end.
///
/// # Errors
///
/// The [`Damage`] that keeps it from being a message.
pub fn decode(line: &[u8]) -> Result<Message<'_>, Damage> {
    let framed = line.strip_prefix(b"~").ok_or(Damage::Noise { bytes: line.len() })?;
    let (payload, check) = framed.split_last_chunk::<5>().ok_or(Damage::NoCheck)?;
    let check = check_digits(check).ok_or(Damage::NoCheck)?;
    if crc::of(payload) != check {
        return Err(Damage::Check);
    }
    message(payload)
}

/// The check from `*` and four hexadecimal digits; lower case is refused so that every bit counts.
#[inline]
pub(crate) fn check_digits(check: &[u8; 5]) -> Option<u16> {
    let [b'*', digits @ ..] = check else { return None };
    let mut value = 0;
    for digit in digits {
        let nibble = match digit {
            b'0'..=b'9' => digit - b'0',
            b'A'..=b'F' => digit - b'A' + 10,
            _ => return None,
        };
        value = (value << 4) | u16::from(nibble);
    }
    Some(value)
}

#[inline]
fn message(payload: &[u8]) -> Result<Message<'_>, Damage> {
    let (version, rest) = payload.split_first_chunk::<2>().ok_or(Damage::Field)?;
    if *version != [b'0' + VERSION, b','] {
        return Err(Damage::Version);
    }
    let mut fields = Fields::new(rest);
    let kind = fields.field().ok_or(Damage::Field)?;
    // A later revision may add fields after those known here; they are ignored.
    match kind {
        b"sample" => sample(&mut fields).map(Message::Sample),
        b"identify" => identify(&mut fields).map(Message::Identify),
        b"status" => status(&mut fields).map(Message::Status),
        b"fault" => fault(&mut fields).map(Message::Fault),
        b"answer" => answer(&mut fields).map(Message::Answer),
        b"command" => command(&mut fields).map(Message::Command),
        _ => return Err(Damage::Kind),
    }
    .ok_or(Damage::Field)
}

#[inline]
fn stamp(fields: &mut Fields<'_>) -> Option<Stamp> {
    Some(Stamp { sequence: fields.number()?, device_ms: fields.number()? })
}

#[inline]
fn sample(fields: &mut Fields<'_>) -> Option<Sample> {
    let stamp = stamp(fields)?;
    let quantity = Quantity::from_word(fields.field()?)?;
    let field = fields.field()?;
    let (value, _) = decimal(field).filter(|(_, length)| *length == field.len())?;
    let unit = Unit::from_word(fields.field()?).filter(|unit| unit.measures(quantity))?;
    let flags = Flags::from_field(fields.field()?)?;
    Some(Sample { stamp, quantity, value, unit, flags })
}

/// A value such as `-1234e-3` at the front, in its one spelling, and its length.
#[inline]
pub(crate) fn decimal(field: &[u8]) -> Option<(Decimal, usize)> {
    let negative = field.first() == Some(&b'-');
    let digits = field.get(usize::from(negative)..)?;
    let (number, length) = leading_number(digits)?;
    let (exponent, exponent_length) = match *digits.get(length..)? {
        [b'e', b'-', digit @ b'1'..=b'9', ..] => (-(digit - b'0').cast_signed(), 3),
        [b'e', digit @ b'0'..=b'9', ..] => ((digit - b'0').cast_signed(), 2),
        _ => return None,
    };
    let signed = if negative { -i64::from(number) } else { i64::from(number) };
    let mantissa = i32::try_from(signed).ok()?;
    if mantissa == 0 && negative {
        return None;
    }
    Some((Decimal { mantissa, exponent }, usize::from(negative) + length + exponent_length))
}

fn identify<'a>(fields: &mut Fields<'a>) -> Option<Identify<'a>> {
    Some(Identify {
        stamp: stamp(fields)?,
        name: fields.text(MAX_NAME)?,
        number: fields.text(MAX_NUMBER)?,
        firmware: fields.text(MAX_FIRMWARE)?,
    })
}

fn status(fields: &mut Fields<'_>) -> Option<Status> {
    Some(Status {
        stamp: stamp(fields)?,
        interval_ms: fields.short_number()?,
        dropped: fields.number()?,
        flags: Flags::from_field(fields.field()?)?,
    })
}

fn fault<'a>(fields: &mut Fields<'a>) -> Option<Fault<'a>> {
    Some(Fault {
        stamp: stamp(fields)?,
        code: FaultCode::from_word(fields.field()?).unwrap_or(FaultCode::Other),
        detail: fields.text(MAX_DETAIL)?,
    })
}

fn answer<'a>(fields: &mut Fields<'a>) -> Option<Answer<'a>> {
    Some(Answer {
        stamp: stamp(fields)?,
        command: fields.short_number()?,
        outcome: Outcome::from_word(fields.field()?)?,
        detail: fields.text(MAX_DETAIL)?,
    })
}

fn command(fields: &mut Fields<'_>) -> Option<Command> {
    let number = fields.short_number()?;
    let request = match fields.field()? {
        b"identify" => Request::Identify,
        b"zero" => Request::Zero,
        b"rate" => Request::Rate { interval_ms: fields.short_number()? },
        _ => Request::Unknown,
    };
    Some(Command { number, request })
}
