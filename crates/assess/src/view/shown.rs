//! How a judged value is written, for every face.

use super::Judged;
use quantity::Kind;
use quantity::shown::{self, Scale, Shown};

impl Judged {
    /// The unit in which it is shown.
    pub const fn scale(&self) -> Scale {
        self.units.scale(self.unit)
    }

    /// The value and its 95 %, with the digits that keep it on its side of the limits.
    pub fn with_u(&self) -> Shown {
        self.scale().with_u(self.value, self.u).against([self.lower, self.upper])
    }

    /// The same with the unit: `-0.36 ±0.07°`; a size without a plus.
    pub fn shown(&self) -> String {
        if shown::has_plus(self.unit, self.lower, self.upper) {
            self.with_u().signed_with()
        } else {
            self.with_u().plain_with()
        }
    }

    /// Its limits: `±0.25`; `no tolerance` if the plan has none.
    pub fn limits(&self) -> String {
        // A limit from a chart, or converted from pounds, has more digits than needed.
        let brief = |limit: Option<f64>| match self.unit {
            Kind::Force => limit.map(|l| {
                let scale = self.scale();
                scale.unit().to_base(libm::round(scale.number(l) * 10.0) / 10.0)
            }),
            _ => limit,
        };
        self.scale().limits(brief(self.lower), brief(self.upper)).unwrap_or_else(|| "no tolerance".to_owned())
    }
}
