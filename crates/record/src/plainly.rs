//! Writes the JSON of a common reading in one pass, with the same result as [`crate::What::to_json`]. A long table
//! has thousands of these, and writing key by key takes three times as long.

use crate::Reading;
use serde::Serialize;

/// Enough bytes for most readings.
const USUAL: usize = 256;

/// The JSON of a reading; `None` if it has rare fields, or a number that JSON cannot express.
pub fn json(reading: &Reading) -> Option<String> {
    let Reading {
        point,
        text,
        quantity,
        value,
        resolution,
        facing,
        instrument,
        temperature,
        round,
        scatter: None,
        samples: None,
        unsettled: false,
        source,
        dial: None,
        note,
        asked: None,
    } = reading
    else {
        return None;
    };
    let warm = temperature.map(|t| t.value());
    if !(value.is_finite() && resolution.is_finite() && warm.is_none_or(f64::is_finite)) {
        return None;
    }
    let mut out = Out(Vec::with_capacity(USUAL));
    out.raw("{\"kind\":\"reading\",\"body\":{\"point\":\"");
    out.raw(point.kind().word());
    out.raw("@");
    if let Some(spar) = point.spar() {
        out.plain(spar)?;
        out.raw(":");
    }
    out.plain(point.place())?;
    out.raw("\",\"text\":\"");
    out.plain(text)?;
    out.raw("\",\"quantity\":\"");
    out.raw(quantity.word());
    out.raw("\",\"value\":");
    out.json(value)?;
    out.raw(",\"resolution\":");
    out.json(resolution)?;
    if let Some(facing) = facing {
        out.raw(",\"facing\":\"");
        out.raw(facing.word());
        out.raw("\"");
    }
    if let Some(instrument) = instrument {
        out.raw(",\"instrument\":\"");
        out.plain(instrument)?;
        out.raw("\"");
    }
    if let Some(warm) = warm {
        out.raw(",\"temperature\":");
        out.json(&warm)?;
    }
    out.raw(",\"round\":");
    out.json(round)?;
    out.raw(",\"source\":\"");
    out.raw(source.word());
    out.raw("\"");
    if let Some(note) = note {
        out.raw(",\"note\":\"");
        out.plain(note)?;
        out.raw("\"");
    }
    out.raw("}}");
    String::from_utf8(out.0).ok()
}

struct Out(Vec<u8>);

impl Out {
    fn raw(&mut self, text: &str) {
        self.0.extend_from_slice(text.as_bytes());
    }

    /// Writes a text in which nothing needs escaping.
    fn plain(&mut self, text: &str) -> Option<()> {
        let escaped = text.bytes().any(|b| matches!(b, b'"' | b'\\' | 0..=0x1f));
        (!escaped).then(|| self.raw(text))
    }

    fn json<T: Serialize>(&mut self, number: &T) -> Option<()> {
        serde_json::to_writer(&mut self.0, number).ok()
    }
}
