//! Shapes of true wings, in units of s, the standard deviation of one station's value.

use super::Dice;

/// The true deviation of a wing from its design.
#[derive(Clone, Debug)]
pub struct Shape {
    /// Rigid part.
    pub setting: f64,
    /// Twist error of each station, its rib included.
    pub error: Vec<f64>,
    /// Twist error of the smooth wing at a relative place.
    slope: f64,
    bow: f64,
    wave: f64,
    kink: f64,
}

/// What kind of wing.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Kind {
    /// Height of a bow at mid-span.
    pub bow: f64,
    /// Amplitude of an S.
    pub s: f64,
    /// A kink at mid-span: the deviation at the tip from the line of the inboard half.
    pub kink: f64,
    /// Standard deviation of every rib about the smooth wing.
    pub scatter: f64,
    /// A lone dent in the middle.
    pub dent: f64,
}

impl Shape {
    /// A wing of that kind with stations at these places, `unit` one s in degrees; setting, slope and signs are drawn.
    pub fn drawn(kind: Kind, eta: &[f64], unit: f64, flat: bool, dice: &mut Dice) -> Self {
        let sign = if dice.uniform() < 0.5 { -1.0 } else { 1.0 };
        let mut shape = Self {
            setting: if flat { 0.0 } else { 0.4 * dice.normal() },
            error: Vec::new(),
            slope: if flat { 0.0 } else { 0.3 * dice.normal() },
            bow: sign * kind.bow * unit,
            wave: sign * kind.s * unit,
            kink: sign * kind.kink * unit,
        };
        let middle = eta.len() / 2;
        shape.error = eta
            .iter()
            .enumerate()
            .map(|(i, e)| {
                let rib = kind.scatter * unit * dice.normal();
                let dent = if i == middle { sign * kind.dent * unit } else { 0.0 };
                shape.smooth(*e) + rib + dent
            })
            .collect();
        shape
    }

    /// Twist error of the smooth wing; 0 at the root datum.
    pub fn smooth(&self, eta: f64) -> f64 {
        let bow = 4.0 * eta * (1.0 - eta);
        let wave = (std::f64::consts::TAU * eta).sin();
        let kink = if eta > 0.5 { 2.0 * (eta - 0.5) } else { 0.0 };
        self.slope * eta + self.bow * bow + self.wave * wave + self.kink * kink
    }

    /// The same wing turned so that this is its washout error.
    pub fn with_washout(mut self, eta: &[f64], washout: f64) -> Self {
        let by = washout - self.smooth(1.0);
        self.slope += by;
        self.error.iter_mut().zip(eta).for_each(|(e, at)| *e += by * at);
        self
    }
}
