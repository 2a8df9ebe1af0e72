//! What a torque wrench must be set to.

/// What a nut's own drag does to the torque wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DragRule {
    /// It is always added (FAA AC 43.13-1B, 7-40 d).
    Add,
    /// It is added where it is at least 0.33 of the torque wanted, else ignored (US Army TM 5-2330-325-13&P).
    AddFromThird,
}

/// Below this share of the torque wanted the second rule ignores the drag.
const THIRD: f64 = 0.33;

impl DragRule {
    /// True where a drag counts beside the torque wanted.
    pub fn counts(self, wanted: f64, drag: f64) -> bool {
        match self {
            Self::Add => true,
            Self::AddFromThird => drag >= THIRD * wanted,
        }
    }
}

/// The torque at the nut: what is wanted, with the nut's drag by the rule.
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
    /// Away from straight ahead, in radians: 0 makes the wrench longer, a quarter turn changes nothing.
    pub angle: f64,
}

impl Extension {
    /// The torque at the nut for one shown by the wrench: (L + E cos A)/L. `None` where the nut lies at or behind the grip,
    /// or a length is not above zero (an extension of nothing is one).
    pub fn gain(&self) -> Option<f64> {
        let gain = 1.0 + self.length * libm::cos(self.angle) / self.lever;
        // Nearer to the grip than a hundredth of the lever no wrench is held.
        (self.lever > 0.0 && self.length >= 0.0 && gain.is_finite() && gain > 0.01).then_some(gain)
    }
}

#[cfg(test)]
mod tests {
    use super::{DragRule, Extension, with_drag};

    fn gain(lever: f64, length: f64, degrees: f64) -> Option<f64> {
        Extension { lever, length, angle: f64::to_radians(degrees) }.gain()
    }

    /// US Army TM 1-1500-204-23-9, 8-16: 300 lbf in with 4 in on a lever of 10 in is set as 214. TM 9-254, figure 45: set at 60
    /// with 2 in on 12 in gives 70.
    #[test]
    fn published_extensions() {
        let set = 300.0 / gain(10.0, 4.0, 0.0).unwrap();
        assert!((set - 214.285_714_285_714_3).abs() < 1e-9, "{set}");
        assert!((60.0 * gain(12.0, 2.0, 0.0).unwrap() - 70.0).abs() < 1e-12);
    }

    /// By the lever arm: square to the wrench the nut is as far from the hand's line as the drive is.
    #[test]
    fn angles() {
        assert!((gain(10.0, 4.0, 90.0).unwrap() - 1.0).abs() < 1e-12);
        assert!((gain(10.0, 4.0, 60.0).unwrap() - 1.2).abs() < 1e-12);
        assert!((gain(10.0, 4.0, 180.0).unwrap() - 0.6).abs() < 1e-12);
        for (lever, length, degrees) in [
            (10.0, 10.0, 180.0),
            (10.0, 40.0, 170.0),
            (0.0, 1.0, 0.0),
            (10.0, -1.0, 0.0),
            (f64::NAN, 1.0, 0.0),
        ] {
            assert_eq!(gain(lever, length, degrees), None, "{lever} {length} {degrees}");
        }
    }

    /// US Army TM 5-2330-325-13&P: 50 to 70 lbf in with a drag of 30 is 80 to 100; below 0.33 that manual ignores it.
    #[test]
    fn drag_by_both_rules() {
        for (wanted, drag, always, from_third) in
            [(50.0, 30.0, 80.0, 80.0), (70.0, 30.0, 100.0, 100.0), (100.0, 30.0, 130.0, 100.0)]
        {
            assert_eq!(with_drag(wanted, drag, DragRule::Add), always);
            assert_eq!(with_drag(wanted, drag, DragRule::AddFromThird), from_third);
        }
    }
}
