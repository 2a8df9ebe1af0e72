//! What a torque wrench must be set to.

/// How a nut's own drag counts toward the torque.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DragRule {
    /// It is always added (FAA AC 43.13-1B, 7-40 d).
    Add,
    /// It is added if it is at least 0.33 of the torque wanted, else ignored (US Army TM 5-2330-325-13&P).
    AddFromThird,
}

/// Below this share of the torque wanted, the second rule ignores the drag.
const THIRD: f64 = 0.33;

impl DragRule {
    /// Whether the drag counts.
    pub fn counts(self, wanted: f64, drag: f64) -> bool {
        match self {
            Self::Add => true,
            Self::AddFromThird => drag >= THIRD * wanted,
        }
    }
}

/// The torque at the nut: the torque wanted plus the nut's drag, by the rule.
pub fn with_drag(wanted: f64, drag: f64, rule: DragRule) -> f64 {
    if rule.counts(wanted, drag) { wanted + drag } else { wanted }
}

/// An extension on the drive of a wrench.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Extension {
    /// From the drive to the middle of the grip.
    pub lever: f64,
    /// From the drive to the nut, in the same unit.
    pub length: f64,
    /// Angle from straight ahead, in radians: 0 lengthens the wrench, a quarter turn changes nothing.
    pub angle: f64,
}

impl Extension {
    /// Torque at the nut for each unit shown by the wrench: (L + E cos A)/L. `None` if the nut would be at or behind
    /// the grip, or the lever is not above zero (a zero extension is allowed).
    pub fn gain(&self) -> Option<f64> {
        let gain = 1.0 + self.length * libm::cos(self.angle) / self.lever;
        // No wrench is held with the nut closer to the grip than a hundredth of the lever.
        (self.lever > 0.0 && self.length >= 0.0 && gain.is_finite() && gain > 0.01).then_some(gain)
    }
}
