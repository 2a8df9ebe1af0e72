//! The values of one wing at the end of a stage, by what they prove.

use crate::view::{Assessment, Finding, Judged, ObligationKind as K, Verdict};
use quantity::Kind;
use record::point::Place;

/// A value that counts.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// What sort of thing it proves.
    pub kind: K,
    /// The plan's name for it; for a step, both stations.
    pub about: String,
    /// Its quantity.
    pub unit: Kind,
    /// The value, in the base unit.
    pub value: f64,
    /// Half the width of its 95 % interval over 1.96.
    pub u: f64,
    /// Lower limit.
    pub lower: Option<f64>,
    /// Upper limit.
    pub upper: Option<f64>,
    /// The verdict; `None` without a tolerance.
    pub verdict: Option<Verdict>,
}

/// Something of a wing without a value that counts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lacking {
    /// What sort of thing.
    pub kind: K,
    /// The plan's name for it.
    pub about: String,
    /// Why, as one word: `missing`, `stale`, `doubtful`, `cannot be judged`.
    pub state: Verdict,
    /// Why, in the words of its obligation.
    pub words: String,
}

/// The values that count, in the order of the board and along the wing, and what has none.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Figures {
    /// Those that count.
    pub found: Vec<Figure>,
    /// What has none.
    pub lacking: Vec<Lacking>,
}

impl Figures {
    pub fn of(a: &Assessment) -> Self {
        let mut all: Vec<Figure> = a.judged().map(|one| judged(one.kind, one.about, one.judged)).collect();
        if let Some(twist) = &a.twist {
            let part = |kind, about: &str, f: &Finding| f.judged().map(|j| judged(kind, about, j));
            all.extend(part(K::Setting, "setting", &twist.setting));
            all.extend(part(K::Washout, "washout error", &twist.washout_error));
            for step in &twist.neighbours {
                let about = format!("{} to {}", step.from, step.to);
                let sure = [&step.from, &step.to].iter().all(|s| counts(state(a, K::Station, s)));
                all.extend(part(K::Neighbour, &about, &step.finding).filter(|_| sure));
            }
            for s in &twist.stations {
                let (Some(value), Some(u)) = (s.twist_error_deg, s.u_deg) else { continue };
                let (lower, upper) = (twist.lower_deg, twist.upper_deg);
                let (kind, about, unit) = (K::Station, s.name.clone(), Kind::Angle);
                all.push(Figure { kind, about, unit, value, u, lower, upper, verdict: s.verdict });
            }
        }
        for p in a.points.iter().filter(|p| p.point.kind().row().place == Place::Spot) {
            let (Some(value), Some(u)) = (p.value, p.u) else { continue };
            let (kind, about, verdict) = (K::Spot, p.point.place().to_owned(), p.verdict);
            all.push(Figure { kind, about, unit: p.unit, value, u, lower: p.lower, upper: p.upper, verdict });
        }
        all.sort_by_key(|f| f.kind);
        let found: Vec<Figure> = all
            .into_iter()
            .filter(|f| f.value.is_finite() && counts(state(a, f.kind, &f.about)) && counts(f.verdict))
            .collect();
        let lacking = lacking(a, &found);
        Self { found, lacking }
    }
}

/// Everything that a value must prove and that has no value that counts.
fn lacking(a: &Assessment, found: &[Figure]) -> Vec<Lacking> {
    let measured = |kind: K| {
        !matches!(kind, K::Stage | K::Point | K::Instrument | K::OpenItem | K::Record | K::Neighbour)
    };
    a.gate
        .obligations
        .iter()
        .filter(|o| {
            measured(o.kind)
                && o.state != Verdict::Within
                && !found.iter().any(|f| f.kind == o.kind && f.about == o.about)
        })
        .map(|o| Lacking { kind: o.kind, about: o.about.clone(), state: o.state, words: o.words.clone() })
        .collect()
}

fn judged(kind: K, about: &str, j: &Judged) -> Figure {
    let (value, u, lower, upper) = (j.value, j.u, j.lower, j.upper);
    Figure { kind, about: about.to_owned(), unit: j.unit, value, u, lower, upper, verdict: j.verdict }
}

fn state(a: &Assessment, kind: K, about: &str) -> Option<Verdict> {
    a.gate.obligations.iter().find(|o| o.kind == kind && o.about == about).map(|o| o.state)
}

/// A value counts if it was measured and nothing disturbed it or puts it in doubt.
const fn counts(verdict: Option<Verdict>) -> bool {
    match verdict {
        None | Some(Verdict::Within | Verdict::Undecided | Verdict::Outside) => true,
        Some(Verdict::Missing | Verdict::Stale | Verdict::Doubtful | Verdict::CannotJudge) => false,
    }
}
