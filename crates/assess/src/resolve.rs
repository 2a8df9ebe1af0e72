//! What would decide an undecided value.

use crate::judge::verdict;
use crate::view::Verdict;
use numerics::display;
use numerics::mixture::Mixture;
use record::Limits;
use record::plan::Rule;

/// Most seatings or rounds worth proposing; beyond that a better instrument is the answer.
const MOST_REPEATS: u32 = 20;

/// Where the uncertainty of a value comes from, as far as a person can do something about it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Makeup {
    /// A single point.
    Point {
        /// Step of the display.
        resolution: f64,
        /// Standard deviation of one seating.
        seating: f64,
        /// The part repeats do not reduce.
        shared: f64,
        /// True if turning the instrument would remove the shared zero.
        can_reverse: bool,
    },
    /// Nothing is known of it.
    #[default]
    Unknown,
}

/// The sentence that says what would decide it, if the value stays what it is.
pub fn what_would_decide(
    rule: &Rule,
    unit: &str,
    value: f64,
    u: f64,
    limits: Limits<f64>,
    makeup: &Makeup,
) -> String {
    let decides = |u: f64| verdict(rule, value, &Mixture::normal(u), limits).0 != Verdict::Undecided;
    let wanted = largest(u, decides);
    let nearest = [limits.lower, limits.upper]
        .into_iter()
        .flatten()
        .map(|l| (value - l).abs())
        .fold(f64::INFINITY, f64::min);
    if wanted < u / 50.0 || nearest == 0.0 {
        return format!(
            "it lies on the limit ({} {unit} away): no measurement will decide it, so move it or have the limit looked at",
            figure(nearest)
        );
    }
    let mut ways = Vec::new();
    match *makeup {
        Makeup::Point { resolution, seating, shared, can_reverse } => {
            let step = resolution * resolution / 12.0;
            if can_reverse {
                let step = step * (1.0 + display::alike(resolution, seating));
                let pair = libm::sqrt((step + seating * seating) / 2.0);
                if decides(pair) {
                    ways.push("turn the instrument round and take the pair".to_owned());
                }
            }
            let with = |n: f64| libm::sqrt(step + seating * seating / n + shared * shared);
            if seating > 0.0
                && let Some(n) = (2..=MOST_REPEATS).find(|n| decides(with(f64::from(*n))))
            {
                ways.push(format!("{n} seatings averaged"));
            }
            if ways.is_empty() && shared > wanted {
                ways.push(format!(
                    "repeats alone cannot get below the shared part, {} {unit}",
                    figure(shared)
                ));
            }
        }
        Makeup::Unknown => {}
    }
    ways.push(format!("a standard uncertainty under {} {unit}", figure(wanted)));
    format!("would decide it: {}", ways.join("; or "))
}

/// The largest uncertainty, not above `now`, that decides; 0 if none does.
fn largest(now: f64, decides: impl Fn(f64) -> bool) -> f64 {
    let (mut yes, mut no) = (0.0, now);
    for _ in 0..50 {
        let middle = (yes + no) / 2.0;
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
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 0..=9")]
    let decimals = (1.0 - magnitude).clamp(0.0, 9.0) as usize;
    format!("{value:.decimals$}")
}
