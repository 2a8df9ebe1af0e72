//! Whether an exported reading is possible: a person may have changed it.

use super::super::known::{self, Says};
use super::context::Context;
use super::fault::LineFault;
use crate::SessionError;
use crate::refusal::Refusal;
use assess::expect::{Question, Say, impossible};
use quantity::{Kind, possible, typed_or_in};
use record::{Instrument, Reading};

/// Whether two numbers are equal except for rounding, relative to their size.
const HAIR: f64 = 1e-9;

/// Compares a reading with its own text and with the instrument that this log knows, by the rules for a typed one.
/// Returns the question to ask if it lies between the steps of the display.
///
/// # Errors
/// If it is impossible.
pub(super) fn sound(reading: &Reading, context: &Context<'_>) -> Result<Option<Question>, LineFault> {
    let named = reading.instrument.as_deref();
    let instrument = match named {
        Some(_) => known::pick(context.known, reading.quantity, named)?,
        None => None,
    };
    let of_a_dial = instrument.is_some_and(Instrument::shows_divisions);
    let in_its_unit = instrument.filter(|_| !of_a_dial);
    if let Some(why) = impossible(reading.quantity, reading.value, reading.resolution, in_its_unit) {
        return Err(why.into());
    }
    let scatter = reading.scatter.unwrap_or(0.0);
    if !(scatter >= 0.0 && possible(reading.quantity, scatter)) || reading.samples == Some(0) {
        return Err(SessionError::from(Refusal::Scatter).into());
    }
    if let Some(part) = reading.temperature.filter(|t| !possible(Kind::Temperature, t.value())) {
        return Err(LineFault::NoPartTemperature(part.value()));
    }
    let Says { value, step, off_step, .. } = said(reading, instrument, context)?;
    // Samples from a port are averaged in the digits that the instrument sends.
    let averaged = reading.samples.is_some();
    let allowed = HAIR * (1.0 + value.abs()) + if averaged { step / 2.0 } else { 0.0 };
    let say = Say::of(reading.quantity, instrument, context.plan.units);
    if (value - reading.value).abs() > allowed {
        return Err(LineFault::OtherText { text: reading.text.clone(), value: say.value(reading.value) });
    }
    if reading.resolution < step * (1.0 - HAIR) && (instrument.is_some() || !averaged) {
        return Err(LineFault::FinerStep { step: say.exact(reading.resolution), least: say.exact(step) });
    }
    Ok(off_step.filter(|_| !averaged))
}

/// What a reading's text says.
fn said(
    reading: &Reading,
    instrument: Option<&Instrument>,
    context: &Context<'_>,
) -> Result<Says, LineFault> {
    let Reading { text, quantity, .. } = reading;
    let read_to = reading.dial.as_ref().map(|dial| dial.step.to_string());
    let dialled = known::dialled(context.plan, &reading.point, instrument, text, read_to.as_deref())
        .map_err(SessionError::from)?;
    match (dialled, &reading.dial) {
        (Some(found), dial) if found.dial == *dial => Ok(found),
        (None, None) => {
            let bare = Instrument::bare_unit_of(instrument, *quantity, context.plan.units);
            let value = typed_or_in(text, *quantity, bare);
            let value = value.map_err(|why| LineFault::Value { text: text.clone(), why })?;
            Ok(Says::typed(&value, instrument, None))
        }
        _ => Err(LineFault::OtherDial),
    }
}
