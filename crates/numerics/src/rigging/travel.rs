//! How far a control surface turns about its hinge, from a level on it or a length at its trailing edge.
//!
//! Angles are in radians, positive trailing edge up. All of this is the geometry of a plane turning about a line.

/// How the level lies on the surface.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Laid {
    /// Square to the hinge.
    Square,
    /// In line with the aeroplane, whatever the hinge does.
    ForeAft,
}

/// How a hinge line lies.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Hinge {
    /// Sweep in plan, outboard end aft.
    pub sweep: f64,
    /// Dihedral, outboard end up: what a level laid along the hinge shows.
    pub dihedral: f64,
}

impl Hinge {
    /// How far the surface is turned from the position in which its chord square to the hinge is level, if a level
    /// shows `shown`; `None` if no position of the surface shows that.
    pub fn turned(&self, laid: Laid, shown: f64) -> Option<f64> {
        let turned = match laid {
            Laid::Square => libm::asin(libm::sin(shown) / libm::cos(self.dihedral)),
            Laid::ForeAft => {
                // A level held upright shows no travel.
                if libm::cos(shown) < 1e-6 {
                    return None;
                }
                let slope = libm::tan(shown) * libm::cos(self.dihedral);
                let own = libm::sin(self.dihedral) * libm::sin(self.sweep);
                libm::atan((slope - own) / libm::cos(self.sweep))
            }
        };
        turned.is_finite().then_some(turned)
    }

    /// The travel between two readings of the level.
    pub fn travel(&self, laid: Laid, neutral: f64, shown: f64) -> Option<f64> {
        Some(self.turned(laid, shown)? - self.turned(laid, neutral)?)
    }
}

/// Which side of the triangle or circle swept by the chord behind the hinge a length is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum By {
    /// Straight from the trailing edge at neutral to where it is now.
    Chord,
    /// Square to the chord at neutral.
    Sine,
    /// Along the circle.
    Arc,
    /// Square to the chord at neutral, from the trailing edge at neutral to the line of the chord now.
    Tangent,
}

impl By {
    /// The travel for a length with this chord behind the hinge; `None` if no travel gives that length.
    pub fn travel(self, length: f64, chord: f64) -> Option<f64> {
        let share = length / chord;
        let travel = match self {
            Self::Chord => 2.0 * libm::asin(share / 2.0),
            Self::Sine => libm::asin(share),
            Self::Arc => share,
            Self::Tangent => libm::atan(share),
        };
        (chord > 0.0 && travel.abs() <= core::f64::consts::PI).then_some(travel)
    }
}
