//! Whether values come in, and from the right instrument.

/// Without a value for this long, the signal is lost, whatever the instrument's own interval.
const LOST_MS: u64 = 2_000;
/// Or for this many of its intervals, if that is longer.
const LOST_INTERVALS: u64 = 3;
/// Number of recent gaps used to estimate the interval: the smallest counts.
const GAPS: usize = 4;

#[derive(Clone, Debug, Default)]
pub(crate) struct Signal {
    last_ms: Option<u64>,
    gaps: [Option<u64>; GAPS],
    next: usize,
    /// Since when the port itself is gone.
    gone_ms: Option<u64>,
    /// The number of a wrong instrument while it is connected.
    pub(crate) wrong: Option<String>,
}

impl Signal {
    pub(crate) fn value(&mut self, at_ms: u64) {
        if let (Some(last_ms), None) = (self.last_ms, self.gone_ms) {
            // Values of one frame come at the same moment.
            if at_ms > last_ms
                && let Some(gap) = self.gaps.get_mut(self.next)
            {
                *gap = Some(at_ms - last_ms);
                self.next = (self.next + 1) % GAPS;
            }
        }
        (self.last_ms, self.gone_ms) = (Some(at_ms), None);
    }

    pub(crate) fn gone(&mut self, at_ms: u64) {
        self.gone_ms.get_or_insert(at_ms);
    }

    /// The port is back; its instrument is unknown until it sends.
    pub(crate) fn back(&mut self) {
        self.wrong = None;
    }

    /// Milliseconds without a value, if that is too long; `None` before the first value on an open port.
    pub(crate) fn lost_for(&self, now_ms: u64) -> Option<u64> {
        if let Some(gone_ms) = self.gone_ms {
            return Some(now_ms.saturating_sub(self.last_ms.unwrap_or(gone_ms)));
        }
        let silent = now_ms.saturating_sub(self.last_ms?);
        let interval = self.gaps.iter().flatten().min().copied().unwrap_or(0);
        (silent > LOST_MS.max(LOST_INTERVALS * interval)).then_some(silent)
    }

    pub(crate) const fn port_gone(&self) -> bool {
        self.gone_ms.is_some()
    }
}
