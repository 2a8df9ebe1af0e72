//! From the readings of a point to its value, with an uncertainty that keeps its shared parts apart.
//!
//! JCGM 100:2008. A reading has a part of its own, s^2 = r^2/12 + q^2/n (resolution r, seating standard deviation q, n
//! seatings averaged); a reversal pair r^2/24 (1 + rho) + q^2/2, rho by how much the display rounds both facings alike
//! ([`numerics::display::alike`]); that part of the step, rho r^2/12, stays in every further round as well. And shared parts: the instrument's zero within its round, u_z = a/sqrt(3) for an accuracy limit a,
//! with the sign of the facing and absent from a reversal pair; and its scale error, g/sqrt(3) times the value.

mod dial;
mod tape;

use crate::history::{Distrust, Used};
use crate::sound::{Unusable, unusable};
use numerics::repeats::{Agreement, Repeat};
use numerics::{display, dist, lengths};
use record::plan::{Material, Plan};
use record::point::Reference;
use record::{Facing, Instrument, Point, PointKind};
use std::collections::{BTreeMap, BTreeSet};

/// An error that several values share.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, thiserror::Error)]
pub enum Shared {
    /// The zero of an instrument in one round.
    #[error("zero of {0}, round {1}")]
    Zero(String, u32),
    /// What remains of the zeros of several combined rounds: the first of the rounds, and the part.
    #[error("zeros from round {0}, part {1}")]
    Zeros(u32, usize),
    /// The scale of an instrument.
    #[error("scale of {0}")]
    Scale(String),
    /// The thermal expansion of the part.
    #[error("expansion")]
    Expansion,
    /// The expansion of an instrument that states none.
    #[error("expansion of {0}")]
    TapeExpansion(String),
    /// The table of an instrument for one cable.
    #[error("table of {0} for {1}")]
    Table(String, String),
    /// The pull on a tape.
    #[error("pull on {0}")]
    Pull(String),
    /// An error of a wing's last profile in the jig: the wing, and the error in its log.
    #[error("{0}: {1}")]
    Jig(String, String),
    /// A tilt used as a datum by other values, by the point at which it was read.
    #[error("datum {0}")]
    Datum(Point),
}

/// A value and the sources of its uncertainty, in the base unit of its quantity.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Estimate {
    pub value: f64,
    /// Independent standard uncertainty.
    pub own: f64,
    /// The part of `own` that repeats when the same thing is measured again: what the display rounds alike.
    pub lasting: f64,
    /// How much the value changes with one standard uncertainty of each shared error.
    pub shared: BTreeMap<Shared, f64>,
}

impl Estimate {
    /// A constant without uncertainty.
    pub fn exact(value: f64) -> Self {
        Self { value, ..Self::default() }
    }

    /// The combined standard uncertainty.
    pub fn u(&self) -> f64 {
        libm::sqrt(self.own * self.own + self.shared_u() * self.shared_u())
    }

    /// Its part from instrument zeros.
    pub fn zero_u(&self) -> f64 {
        let zeros = self.shared.iter().filter(|(e, _)| matches!(e, Shared::Zero(..) | Shared::Zeros(..)));
        libm::sqrt(zeros.map(|(_, c)| c * c).sum())
    }

    /// Its shared part.
    pub fn shared_u(&self) -> f64 {
        libm::sqrt(self.shared.values().map(|c| c * c).sum())
    }

    /// `value + sum of factor * (part - part's value)`: first-order propagation through a function of several
    /// estimates; the factors are its partial derivatives.
    pub fn propagate(value: f64, parts: &[(f64, &Self)]) -> Self {
        let mut out = Self::exact(value);
        let (mut own, mut lasting) = (0.0, 0.0);
        for (factor, part) in parts {
            own += (factor * part.own) * (factor * part.own);
            lasting += (factor * part.lasting) * (factor * part.lasting);
            for (error, coefficient) in &part.shared {
                *out.shared.entry(error.clone()).or_insert(0.0) += factor * coefficient;
            }
        }
        out.own = libm::sqrt(own);
        out.lasting = libm::sqrt(lasting);
        out
    }

    /// The probability that two values of one thing differ this much by chance.
    pub fn alike(&self, other: &Self) -> f64 {
        let apart = self.value - other.value;
        let u = Self::propagate(apart, &[(1.0, self), (-1.0, other)]).u();
        2.0 * dist::normal_sf((apart / u).abs())
    }
}

/// What is known about a measured point besides its estimate.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// The value, corrected for facing, reversal, fixture and temperature.
    pub estimate: Estimate,
    /// Whether it is a reversal pair.
    pub reversed: bool,
    /// The facing still missing for a pair.
    pub facing_wanted: Option<Facing>,
    /// The zero found by reversal.
    pub zero: Option<Zero>,
    /// Reasons to doubt its readings; empty if there are none.
    pub doubts: BTreeSet<Distrust>,
    /// The correction to 20 °C that was applied, in mm.
    pub correction: f64,
    /// Mean temperature of the part, °C, if every reading has one.
    pub temperature: Option<f64>,
    /// The step of the coarsest display.
    pub resolution: f64,
    /// Standard deviation of one seating.
    pub seating: f64,
    /// Number of averaged seatings, for the facing with fewer.
    pub seatings: u32,
    /// Readings of the same facing against each other, each at 20 °C.
    pub repeats: Agreement,
    /// Whether it is an event: the last one counts and nothing is averaged.
    pub is_event: bool,
}

/// A zero found by reversal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Zero {
    /// The zero, in the base unit.
    pub value: f64,
    /// Its standard uncertainty.
    pub u: f64,
}

/// Computes the value of one point from its readings, all of one round and one instrument; each is judged by what was
/// known of its instrument at the time. `None` without readings, or if they give no value.
pub fn measure(plan: &Plan, point: &Point, used: &[Used]) -> Option<Measured> {
    measured(plan, point, used).ok()
}

/// The same, with the reason if the readings give no value.
///
/// # Errors
/// See [`Unusable`].
pub fn measured(plan: &Plan, point: &Point, used: &[Used]) -> Result<Measured, Unusable> {
    let last = used.last().ok_or(Unusable::NoReading)?;
    if let Some(why) = unusable(plan, point, used) {
        return Err(why);
    }
    let name = last.reading.instrument.clone();
    let by_table = dial::by_table(plan, point, used)?;
    let used = by_table.as_ref().map_or(used, |found| found.used.as_slice());
    // If the instrument's data changed within the round, the weakest count.
    let facts = || used.iter().filter_map(|u| u.facts.as_deref());
    let most = |value: fn(&Instrument) -> Option<f64>| facts().filter_map(value).reduce(f64::max);
    let resolution =
        used.iter().map(|u| u.reading.resolution).chain(facts().map(|i| i.resolution)).fold(0.0, f64::max);
    let seating = seating_sd(used, most(|i| i.repeatability));
    let reverses = point.kind().reverses();
    let (forward, aft) = (side(used, Facing::Forward), side(used, Facing::Aft));
    let step = resolution * resolution / 12.0;
    let alike = display::alike(resolution, seating);

    let one_way = |n: f64| libm::sqrt(step + seating * seating / n);
    // The sign with which the instrument's zero is in the value.
    let (value, own, sign) = match (forward, aft) {
        (Some((f, nf)), Some((a, na))) => {
            let var = step * (1.0 + alike) / 2.0 + seating * seating * (1.0 / nf + 1.0 / na) / 4.0;
            ((f - a) / 2.0, libm::sqrt(var), 0.0)
        }
        (Some((mean, n)), None) => (mean, one_way(n), 1.0),
        (None, Some((mean, n))) => (-mean, one_way(n), -1.0),
        (None, None) => return Err(Unusable::NoReading),
    };
    let zero = forward.zip(aft).map(|((f, _), (a, _))| Zero { value: (f + a) / 2.0, u: own });
    let mut estimate = Estimate { value, own, lasting: libm::sqrt(alike * step), shared: BTreeMap::new() };
    let mut share = |error: Shared, limit: Option<f64>, factor: f64| {
        if let Some(limit) = limit.filter(|limit| *limit > 0.0) {
            estimate.shared.insert(error, factor * limit / libm::sqrt(3.0));
        }
    };
    if let Some(name) = &name {
        let accuracy = most(|i| i.accuracy).filter(|_| sign != 0.0);
        share(Shared::Zero(name.clone(), last.reading.round), accuracy, sign);
        share(Shared::Scale(name.clone()), most(|i| i.scale), value);
    }
    if let Some(found) = &by_table {
        let error = Shared::Table(name.clone().unwrap_or_default(), found.cable.clone());
        share(error, found.accuracy, 1.0);
    }
    tape::hold(plan, point, used, &mut estimate)?;
    let warm = Warm::of(plan, point.kind(), used);
    let repeats = repeats(used, libm::sqrt(step + seating * seating), warm.as_ref());
    let correction = warm.map_or(0.0, |warm| warm.to_twenty_degrees(name, &mut estimate));
    estimate.value -= plan.fixture_of(point);
    if !(estimate.value.is_finite() && estimate.u().is_finite()) {
        return Err(Unusable::NotFinite);
    }
    Ok(Measured {
        reversed: zero.is_some(),
        facing_wanted: (reverses && zero.is_none())
            .then(|| if forward.is_some() { Facing::Aft } else { Facing::Forward }),
        zero,
        doubts: BTreeSet::new(),
        correction,
        temperature: temperature(used),
        resolution,
        seating,
        seatings: fewer(forward, aft),
        repeats,
        is_event: point.kind().row().is_event(last.reading.quantity),
        estimate,
    })
}

/// Mean of the displayed values with this facing, and their number; quantities without a facing count as forward.
fn side(used: &[Used], facing: Facing) -> Option<(f64, f64)> {
    let (mut sum, mut n) = (0.0, 0.0);
    for u in used {
        if faced(u) == facing {
            sum += u.reading.value;
            n += 1.0;
        }
    }
    (n > 0.0).then(|| (sum / n, n))
}

/// The facing a reading counts as: forward if its kind has no facing, or if it states none.
pub fn faced(used: &Used) -> Facing {
    let reverses = used.reading.point.kind().reverses();
    used.reading.facing.filter(|_| reverses).unwrap_or(Facing::Forward)
}

/// The number of seatings of the facing with fewer.
fn fewer(forward: Option<(f64, f64)>, aft: Option<(f64, f64)>) -> u32 {
    let least = [forward, aft].into_iter().flatten().map(|side| side.1).fold(f64::INFINITY, f64::min);
    least.min(1e6) as u32
}

/// Standard deviation of one seating: the instrument's own, with the scatter of the port samples added. The scatter
/// is not divided by the number of samples, because neighbouring samples are not independent.
fn seating_sd(used: &[Used], repeatability: Option<f64>) -> f64 {
    let q = repeatability.unwrap_or(0.0);
    let scatter = used.iter().filter_map(|u| u.reading.scatter).fold(0.0, f64::max);
    libm::sqrt(q * q + scatter * scatter)
}

/// The mean temperature, if every reading has one.
fn temperature(used: &[Used]) -> Option<f64> {
    let all: Vec<f64> =
        used.iter().map(|u| u.reading.temperature.map(|t| t.value())).collect::<Option<_>>()?;
    Some(all.iter().sum::<f64>() / all.len() as f64)
}

/// Readings of the same facing against each other, each with the standard deviation `sd`.
fn repeats(used: &[Used], sd: f64, warm: Option<&Warm>) -> Agreement {
    let mut out = Agreement::default();
    for facing in [Facing::Forward, Facing::Aft] {
        let same = used.iter().filter(|u| faced(u) == facing);
        out.add(same.map(|u| warm.map_or(Repeat { value: u.reading.value, sd }, |warm| warm.repeat(u, sd))));
    }
    out
}

/// What corrects a length to 20 °C (ISO 1), if a temperature and both expansions are known. An instrument without a stated
/// expansion may have anything from none to twice the part's: its reading is used as it is, with that uncertainty.
struct Warm {
    part: Material,
    tape: Option<f64>,
    /// Mean temperature above 20 °C; a reading without one takes it.
    above: f64,
}

impl Warm {
    fn of(plan: &Plan, kind: PointKind, used: &[Used]) -> Option<Self> {
        let part = plan.wing.material.filter(|_| kind.row().reference != Reference::AsRead)?;
        let all = || used.iter().filter_map(|u| u.reading.temperature);
        let above = all().map(|t| t.value()).sum::<f64>() / all().count() as f64 - 20.0;
        let tape = used.last()?.facts.as_deref().and_then(|i| i.expansion);
        above.is_finite().then_some(Self { part, tape, above })
    }

    /// The factor that brings a length read at a temperature to 20 °C, and the standard uncertainty of its expansion.
    fn factor(&self, above: f64) -> (f64, f64) {
        match self.tape {
            Some(tape) => (lengths::to_reference(tape, self.part.expansion, above), self.part.expansion_u),
            None => (1.0, self.part.expansion / libm::sqrt(3.0)),
        }
    }

    /// A reading taken from its own temperature to the mean one, which all have in common.
    fn repeat(&self, used: &Used, sd: f64) -> Repeat {
        let (shown, mean) = (used.reading.value, self.factor(self.above).0);
        let above = used.reading.temperature.map_or(self.above, |t| t.value() - 20.0);
        let (factor, u) = self.factor(above);
        Repeat { value: shown * factor / mean, sd: libm::hypot(sd, shown * (above - self.above) * u) }
    }

    /// Corrects a length and returns the correction.
    fn to_twenty_degrees(&self, name: Option<String>, estimate: &mut Estimate) -> f64 {
        let shown = estimate.value;
        let (factor, u) = self.factor(self.above);
        let coefficient = shown * self.above * u;
        if coefficient != 0.0 {
            let (error, sign) = match self.tape {
                Some(_) => (Shared::Expansion, -1.0),
                None => (Shared::TapeExpansion(name.unwrap_or_default()), 1.0),
            };
            estimate.shared.insert(error, sign * coefficient);
        }
        estimate.value = shown * factor;
        estimate.value - shown
    }
}
