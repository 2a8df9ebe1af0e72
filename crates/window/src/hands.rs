//! Taking readings with no hand free: a settled value is taken by itself, once for every time the instrument is moved.

/// Whether values are taken by themselves.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Hands {
    /// True while it is on.
    pub free: bool,
    /// True once the value has been seen unsettled since the last reading: the instrument was moved.
    moved: bool,
}

impl Hands {
    /// Turns it on or off. Turned on, the instrument must be moved before the first reading.
    pub fn toggle(&mut self) {
        *self = Self { free: !self.free, moved: false };
    }

    /// A reading was taken or another point was chosen: the instrument must be moved before the next.
    pub fn disarm(&mut self) {
        self.moved = false;
    }

    /// Sees whether the value has settled; true when it is to be taken.
    pub fn wants(&mut self, ready: bool) -> bool {
        if !ready {
            self.moved = true;
        }
        self.free && ready && std::mem::take(&mut self.moved)
    }
}
