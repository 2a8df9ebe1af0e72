//! What a drift watch records.

use super::{Session, Taken};
use crate::{SessionError, now, shown};
use assess::drift::Span;
use quantity::Celsius;
use record::{At, DriftShift, Point, What};

impl Session {
    /// Writes a span of a drift watch. `now_ms` is the present on the clock of the span's times.
    ///
    /// # Errors
    /// If the log cannot be written.
    pub fn drift(
        &mut self,
        point: &Point,
        span: &Span,
        now_ms: u64,
        temperature: Option<Celsius>,
    ) -> Result<Taken, SessionError> {
        let present = now();
        let instant = |at_ms: u64| {
            let ago = i64::try_from(now_ms.saturating_sub(at_ms)).unwrap_or(i64::MAX);
            At::from_millis(present.millis().saturating_sub(ago))
        };
        let entry = self.append(
            None,
            &What::Drift {
                point: point.clone(),
                mean: span.mean,
                least: span.least,
                most: span.most,
                samples: span.samples,
                seconds: span.seconds,
                temperature,
                shift: span
                    .shift
                    .map(|shift| DriftShift { size: shift.size, since: instant(shift.since_ms) }),
            },
        )?;
        let ack = format!("{}: {} over {} s", entry.seq, shown(&point.to_string()), span.seconds);
        Ok(Taken::new(entry, ack))
    }
}
