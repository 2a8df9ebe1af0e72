//! What would decide an undecided value: only what the next assessment will count, each with its expected result.

use crate::conformity::{LEVEL, conformity};
use crate::estimate::Measured;
use crate::view::Verdict;
use numerics::display;
use numerics::mixture::Mixture;
use quantity::Kind;
use quantity::shown::{K95, on_limit};
use record::Limits;
use record::plan::Plan;

/// The most seatings of one point worth proposing; beyond that, use a better instrument.
pub const MOST_SEATINGS: u32 = 6;

/// What a person can do; the least of each sort is enough.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort {
    /// Turn the instrument end for end.
    EndForEnd,
    /// Walk another round.
    Rounds,
    /// Seat it again at one place.
    Seatings,
}

/// Something a person can do, and the resulting error.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    pub sort: Sort,
    pub words: String,
    /// The error of the value once it is done.
    pub error: Mixture,
}

/// The uncertainty of a single point, by source: what a person can influence.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OfPoint {
    /// Step of the display.
    pub resolution: f64,
    /// Standard deviation of one seating.
    pub seating: f64,
    /// Seatings that count now, for one facing.
    pub seatings: u32,
    /// Standard uncertainty from the instrument's shared zero.
    pub zero: f64,
    /// From everything else that is shared.
    pub shared: f64,
    /// How it was read.
    pub read: Read,
}

/// How a point was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Read {
    /// Both ways round.
    Pair,
    /// One way round, with an instrument that can be turned.
    OneWay,
    /// With an instrument that has no facing.
    Plain,
    /// As an event: the last one counts, and nothing is averaged.
    Event,
}

impl OfPoint {
    /// For a measured point.
    pub fn of(measured: &Measured) -> Self {
        let zero = measured.estimate.zero_u();
        let shared = measured.estimate.shared_u();
        Self {
            resolution: measured.resolution,
            seating: measured.seating,
            seatings: measured.seatings,
            zero,
            shared: libm::sqrt((shared * shared - zero * zero).max(0.0)),
            read: match (measured.reversed, measured.facing_wanted, measured.is_event) {
                (_, _, true) => Read::Event,
                (true, ..) => Read::Pair,
                (false, Some(_), _) => Read::OneWay,
                (false, None, _) => Read::Plain,
            },
        }
    }

    /// Everything a person can do about it that will count.
    pub fn ways(self) -> Vec<Way> {
        let mut ways = Vec::new();
        let step = self.resolution * self.resolution / 12.0;
        let square = self.seating * self.seating;
        let pair_step = step * (1.0 + display::alike(self.resolution, self.seating)) / 2.0;
        let way = |sort, words: String, own: f64, zero: f64| {
            let u = libm::sqrt(own + zero * zero + self.shared * self.shared);
            Way { sort, words, error: Mixture::normal(u) }
        };
        if self.read == Read::OneWay {
            let own = pair_step + square * (1.0 / f64::from(self.seatings) + 1.0) / 4.0;
            let words = "turn the instrument end for end and take the pair".to_owned();
            ways.push(way(Sort::EndForEnd, words, own, 0.0));
        }
        if self.read != Read::Event && square > 0.0 {
            for n in self.seatings + 1..=MOST_SEATINGS {
                let (own, words) = match self.read {
                    Read::Pair => (pair_step + square / f64::from(2 * n), format!("{n} seatings each way")),
                    _ => (step + square / f64::from(n), format!("{n} seatings of it")),
                };
                ways.push(way(Sort::Seatings, words, own, self.zero));
            }
        }
        ways
    }
}

/// The sentence: every way that decides, with the 95 % margin it gives, or how far the best falls short.
pub fn sentence(plan: &Plan, kind: Kind, value: f64, u: f64, limits: Limits<f64>, ways: &[Way]) -> String {
    let (rule, scale) = (&plan.rule, plan.shown_in.scale(kind));
    let decides = |error: &Mixture| conformity(rule, value, error, limits).verdict != Verdict::Undecided;
    let wanted = largest(u, |u| decides(&Mixture::normal(u)));
    let limits = [limits.lower, limits.upper].into_iter().flatten();
    let nearest = limits.clone().map(|l| (value - l).abs()).fold(f64::INFINITY, f64::min);
    let of = |size: f64| scale.rough_with(size);
    if wanted < u / 50.0 || nearest == 0.0 {
        let away = if limits.clone().any(|l| on_limit(value, l)) {
            String::new()
        } else {
            format!(" ({} away)", of(nearest))
        };
        return format!(
            "it is on the limit{away}: no measurement will decide it, so move it or have the limit reviewed"
        );
    }
    let half = |way: &Way| format!("±{}", of(way.error.half_width(LEVEL)));
    let mut sorts = Vec::new();
    let mut said = Vec::new();
    for way in ways.iter().filter(|w| decides(&w.error)) {
        if !sorts.contains(&way.sort) {
            sorts.push(way.sort);
            said.push(format!("{} (then {})", way.words, half(way)));
        }
    }
    if !said.is_empty() {
        return format!("would decide it: {}", said.join("; or "));
    }
    let widths = ways.iter().map(|way| (way, way.error.half_width(LEVEL)));
    let best = widths.min_by(|(_, a), (_, b)| a.total_cmp(b));
    let best = best.map_or_else(String::new, |(w, _)| format!("{} would give {}; ", w.words, half(w)));
    format!("{best}±{} is needed: take a finer instrument, or move it away from the limit", of(K95 * wanted))
}

/// The largest uncertainty, at most `now`, that decides; 0 if none does.
fn largest(now: f64, decides: impl Fn(f64) -> bool) -> f64 {
    let (mut yes, mut no) = (0.0, now);
    for _ in 0..40 {
        let middle = f64::midpoint(yes, no);
        if decides(middle) { yes = middle } else { no = middle }
    }
    yes
}

/// Two significant digits, for a sentence.
pub fn figure(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("{value}");
    }
    let magnitude = libm::floor(libm::log10(value.abs()));
    let decimals = (1.0 - magnitude).clamp(0.0, 9.0) as usize;
    format!("{value:.decimals$}")
}
