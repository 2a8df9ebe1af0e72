//! What moves did on many wings, as a start for advice on the next one.
//!
//! Each part of a build between two stages, with moves and the twist measured before and after them, is one sample of
//! the unknowns of [`crate::advice::belief`]. Samples are treated as draws from independent normals, whose means and
//! spreads are found by expectation and maximisation (Dempster, Laird, Rubin 1977), with the general belief counting
//! as a few samples more: a few wings change it little, many wings dominate. A support that was never moved keeps the
//! general belief.

use crate::advice::learn::Learned;
use crate::advice::observed::Event;
use crate::advice::prior::Prior;
use record::plan::Plan;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The general belief counts as this many samples in a mean.
const GENERAL_MEAN: f64 = 1.0;
/// And as this many in a spread.
const GENERAL_SPREAD: f64 = 2.0;
/// Rounds of expectation and maximisation; more would not change a shown digit.
const ROUNDS: usize = 30;
/// The most samples used; with more, this many evenly over the wings.
const MOST: usize = 300;

/// A value with its uncertainty for the next wing.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Start {
    /// The value.
    pub mean: f64,
    /// Standard uncertainty for the next wing.
    pub u: f64,
}

/// What a mm at one support carries along at another; for the same support, the amount beyond its own mm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Carried {
    /// The support that is carried along.
    pub at: String,
    /// The support that is moved.
    pub by: String,
    /// In mm for each mm.
    #[serde(flatten)]
    pub mm: Start,
}

/// The effect of a move, for a person.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PerMove {
    pub support: String,
    /// Wings on which it was moved with the twist measured before and after.
    pub wings: usize,
    /// The effect of one turn of its screw; `None` for shims.
    pub deg_per_turn: Option<f64>,
    /// The effect of a mm on the twist between root and tip or, if it does not twist, on the setting; in degrees.
    pub deg_per_mm: f64,
    /// Its standard uncertainty on the next wing.
    pub u_deg_per_mm: f64,
    /// Divided by what geometry says.
    pub factor: f64,
    /// The sentence.
    pub words: String,
}

/// What moves do on this kind of wing in this jig.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Stiffness {
    /// The number of wings it was learned from.
    pub wings: usize,
    /// Samples: parts of a build between two stages.
    pub samples: usize,
    /// Samples used: evenly over the wings if there are very many.
    pub used: usize,
    /// The share of the twist that arrives.
    pub share: Start,
    pub bow: Start,
    /// The effects of supports on each other.
    pub carried: Vec<Carried>,
    /// Support by support, for a person.
    pub moves: Vec<PerMove>,
    /// Logs from another jig, whose moves do not count.
    pub other_jig: Vec<String>,
}

/// What the moves of these wings, each with what they taught in order, teach together; `None` without a believable one.
pub fn stiffness(plan: &Plan, wings: &[&[Event]], other_jig: Vec<String>) -> Option<Stiffness> {
    let general = Prior::general(plan);
    let mut samples: Vec<&[Event]> = Vec::new();
    let (mut taught, mut moved): (usize, BTreeMap<usize, usize>) = (0, BTreeMap::new());
    for wing in wings {
        let own: Vec<&[Event]> = parts(wing).filter(|part| believed(plan, &general, part)).collect();
        taught += usize::from(!own.is_empty());
        let mut seen: Vec<usize> = own.iter().flat_map(|part| supports(part)).collect();
        seen.sort_unstable();
        seen.dedup();
        seen.into_iter().for_each(|s| *moved.entry(s).or_default() += 1);
        samples.extend(own);
    }
    if samples.is_empty() {
        return None;
    }
    let used: Vec<&[Event]> =
        crate::advice::learn::evenly(samples.len(), MOST).into_iter().map(|i| samples[i]).collect();
    let mut at = general.clone();
    for _ in 0..ROUNDS {
        at = step(plan, &general, &at, &used);
    }
    let next = at.widened(1.0 + 1.0 / (GENERAL_MEAN + used.len() as f64));
    Some(view(plan, &next, taught, samples.len(), used.len(), &moved, other_jig))
}

/// One iteration: each sample from the common belief, and the common belief from the samples.
fn step(plan: &Plan, general: &Prior, at: &Prior, samples: &[&[Event]]) -> Prior {
    let posterior = |part: &&[Event]| Learned::from_prior(plan, at, part).belief.summary();
    let found: Vec<Prior> = samples.iter().map(posterior).collect();
    let n = found.len() as f64;
    let mut next = general.clone();
    for k in 0..next.mean.len() {
        let total: f64 = found.iter().map(|f| f.mean[k]).sum();
        let mean = (GENERAL_MEAN * general.mean[k] + total) / (GENERAL_MEAN + n);
        let about = |f: &Prior| f.variance[k] + (f.mean[k] - mean) * (f.mean[k] - mean);
        let spread: f64 = found.iter().map(about).sum();
        next.mean[k] = mean;
        next.variance[k] = (GENERAL_SPREAD * general.variance[k] + spread) / (GENERAL_SPREAD + n);
    }
    next
}

/// The observations between two stages.
fn parts(events: &[Event]) -> impl Iterator<Item = &[Event]> {
    events.split(|e| matches!(e, Event::Stage)).filter(|part| !part.is_empty())
}

/// A part counts if every observation in it is consistent with its moves.
fn believed(plan: &Plan, general: &Prior, part: &[Event]) -> bool {
    let learned = Learned::from_prior(plan, general, part);
    learned.doubted.is_empty() && learned.seen.contains(&true)
}

fn supports(part: &[Event]) -> impl Iterator<Item = usize> {
    part.iter().flat_map(|event| match event {
        Event::Observed(o) => o.moves.iter().map(|t| t.support).collect(),
        Event::Stage => vec![],
    })
}

fn view(
    plan: &Plan,
    next: &Prior,
    wings: usize,
    samples: usize,
    used: usize,
    moved: &BTreeMap<usize, usize>,
    other_jig: Vec<String>,
) -> Stiffness {
    let start = |k: usize| Start { mean: next.mean[k], u: libm::sqrt(next.variance[k]) };
    let carried = next.pairs(plan).into_iter().map(|pair| Carried {
        at: plan.supports[pair.carried].name.clone(),
        by: plan.supports[pair.moved].name.clone(),
        mm: start(pair.unknown),
    });
    let moves = next.per_mm(plan).into_iter().filter_map(|m| {
        let wings = *moved.get(&m.support)?;
        let support = &plan.supports[m.support];
        let per_turn = crate::advice::steps::per_turn(&support.adjust);
        let what = if m.twists { "the twist" } else { "the setting" };
        let words = format!(
            "{} moves {what} {:.2} of what geometry says ({wings} {})",
            support.name,
            m.factor,
            if wings == 1 { "wing" } else { "wings" }
        );
        Some(PerMove {
            support: support.name.clone(),
            wings,
            deg_per_turn: per_turn.map(|mm| mm * m.deg_per_mm),
            deg_per_mm: m.deg_per_mm,
            u_deg_per_mm: m.u,
            factor: m.factor,
            words,
        })
    });
    Stiffness {
        wings,
        samples,
        used,
        share: start(0),
        bow: start(1),
        carried: carried.collect(),
        moves: moves.collect(),
        other_jig,
    }
}

impl Stiffness {
    /// The prior for a plan with the same jig; `None` if a support is missing from it.
    pub fn prior(&self, plan: &Plan) -> Option<Prior> {
        let mut prior = Prior::general(plan);
        let mut put = |k: usize, start: &Start| {
            (prior.mean[k], prior.variance[k]) = (start.mean, start.u * start.u);
        };
        put(0, &self.share);
        put(1, &self.bow);
        let pairs = Prior::general(plan).pairs(plan);
        let name = |s: usize| plan.supports[s].name.as_str();
        for pair in &pairs {
            let own = self.carried.iter().find(|c| c.at == name(pair.carried) && c.by == name(pair.moved))?;
            put(pair.unknown, &own.mm);
        }
        let sound = prior.mean.iter().chain(&prior.variance).all(|v| v.is_finite());
        (sound && prior.variance.iter().all(|v| *v > 0.0)).then_some(prior)
    }
}
