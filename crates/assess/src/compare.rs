//! Comparing two stages of one wing, or left and right.

mod label;
mod others;

use crate::judge::judged_by;
use crate::twist::ALPHA;
use crate::view::{
    Assessment, Comparison, ComparisonKind, ComparisonRow, Finding, StationView, Twist, WingView,
};
use label::label;
use numerics::mixture::Mixture;
use numerics::scatter::Spread;
use others::Others;
use quantity::Kind;
use record::Limits;
use record::plan::{Plan, Side};

/// Stations of two wings are the same if their relative places differ by less than this.
const SAME_PLACE: f64 = 1e-3;

/// Why two assessments cannot be compared.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CompareError {
    /// They have no value in common.
    #[error("the two have no value in common")]
    NothingInCommon,
    /// One is an aeroplane, and nothing of the other was measured again on it.
    #[error(
        "nothing of {wing} was measured both in its jig and on the aeroplane.\n  The aeroplane's plan says by [[wing]] station where \
         it is read again"
    )]
    NothingSince { wing: String },
    /// Both are of the same side: two left wings are not a pair.
    #[error("{first} and {second} are both {} wings.\n  Left is compared with right, or two stages of one wing", .side.word())]
    SameSide {
        side: Side,
        /// The first wing.
        first: String,
        second: String,
    },
}

/// Compares two wings; one must be left and the other right.
///
/// # Errors
/// See [`CompareError`].
pub fn compare_wings(
    plan: &Plan,
    first: &Assessment,
    second: &Assessment,
) -> Result<Comparison, CompareError> {
    match (first.side, second.side) {
        (Side::Both, Side::Left | Side::Right) => return since_jig(first, second),
        (Side::Left | Side::Right, Side::Both) => return since_jig(second, first),
        _ => {}
    }
    if first.side == second.side {
        let (first, second) = (first.wing.clone(), second.wing.clone());
        return Err(CompareError::SameSide { side: plan.wing.side, first, second });
    }
    compare(plan, first, second)
}

/// Compares a wing on the aeroplane with its last profile in the jig, as taken up: twist from its first station.
fn since_jig(aeroplane: &Assessment, wing: &Assessment) -> Result<Comparison, CompareError> {
    let is = |w: &&WingView| w.side == wing.side && w.taken.as_ref().is_some_and(|t| t.wing == wing.wing);
    let found = aeroplane.wings.iter().find(is).filter(|w| !w.changes.is_empty());
    let found = found.ok_or_else(|| CompareError::NothingSince { wing: wing.wing.clone() })?;
    let stage = |stage: Option<&String>| stage.cloned().unwrap_or_else(|| "no stage".to_owned());
    let stations = found.changes.iter().map(|c| ComparisonRow {
        name: c.station.clone(),
        span_mm: Some(c.span_mm),
        first_deg: c.now_deg,
        second_deg: c.jig_deg,
        difference: c.change.clone(),
        p: c.p,
        real: c.real,
    });
    let taken = found.taken.as_ref();
    let measured = |name: &String| found.changes.iter().any(|c| c.station == *name || c.from == *name);
    let alone: Vec<&str> = taken
        .into_iter()
        .flat_map(|t| &t.stations)
        .map(|s| s.name.as_str())
        .filter(|n| !measured(&(*n).to_owned()))
        .collect();
    let from = found.changes.first().map_or("", |c| c.from.as_str());
    #[expect(clippy::cast_precision_loss, reason = "a few stations")]
    let station_alpha = ALPHA / found.changes.len().max(1) as f64;
    Ok(Comparison {
        format: 1,
        kind: ComparisonKind::SinceJig,
        first: format!("{} on {} ({})", found.name, aeroplane.wing, stage(aeroplane.stage.as_ref())),
        second: format!("last in its jig ({})", stage(taken.and_then(|t| t.stage.as_ref()))),
        parts: Vec::new(),
        stations: stations.collect(),
        station_alpha,
        others: Vec::new(),
        not_compared: (!alone.is_empty())
            .then(|| format!("{}: not measured on the aeroplane", alone.join(", ")))
            .into_iter()
            .collect(),
        remarks: vec![format!("twist counts from {from}, so the setting of the whole wing cancels")],
    })
}

/// Compares two assessments, the first less the second (left less right if the sides differ and the left is given
/// first). `plan` is that of the first and supplies the rule and the left-right tolerance.
///
/// # Errors
/// See [`CompareError`].
pub fn compare(plan: &Plan, first: &Assessment, second: &Assessment) -> Result<Comparison, CompareError> {
    let kind = if first.side == second.side { ComparisonKind::Stages } else { ComparisonKind::Sides };
    let profiles = (first.twist.as_ref(), second.twist.as_ref());
    let limits = match kind {
        ComparisonKind::Sides => plan.tolerances.left_right.map(|l| l.map(|d| d.value())),
        ComparisonKind::Stages | ComparisonKind::SinceJig => None,
    };
    let stations_of = |twist: Option<&'_ Twist>| twist.map(|t| t.stations.clone()).unwrap_or_default();
    let (ours, theirs) = (stations_of(profiles.0), stations_of(profiles.1));
    let valued = |s: &&StationView| s.twist_error_deg.is_some();
    let same = |s: &StationView, t: &StationView| (t.eta - s.eta).abs() < SAME_PLACE;
    let common: Vec<(&StationView, &StationView)> = ours
        .iter()
        .filter(valued)
        .filter_map(|s| Some((s, theirs.iter().filter(valued).find(|t| same(s, t))?)))
        .collect();
    let Others { others, mut not_compared } = others::others(first, second, kind);
    if common.is_empty() && others.is_empty() {
        return Err(CompareError::NothingInCommon);
    }
    for (twist, of) in [(profiles.0, first), (profiles.1, second)] {
        if twist.is_none() {
            not_compared.push(format!(
                "the twist: {} has no profile, because it takes two stations",
                label(of, kind)
            ));
        }
    }
    if let (Some(_), Some(_)) = profiles {
        for (mine, other, of) in [(&ours, &theirs, first), (&theirs, &ours, second)] {
            let alone =
                mine.iter().filter(valued).filter(|s| !other.iter().filter(valued).any(|t| same(s, t)));
            let names: Vec<&str> = alone.map(|s| s.name.as_str()).collect();
            if !names.is_empty() {
                not_compared.push(format!(
                    "{}: only {} has a value there",
                    names.join(", "),
                    label(of, kind)
                ));
            }
        }
    }
    #[expect(clippy::cast_precision_loss, reason = "a few stations")]
    let station_alpha = ALPHA / common.len().max(1) as f64;
    let row = |name: &str, span_mm, x: Valued, y: Valued, alpha: f64, limits: Option<Limits<f64>>| {
        let error = x.error.plus(&y.error);
        let p = error.two_sided(x.value - y.value);
        ComparisonRow {
            name: name.to_owned(),
            span_mm,
            first_deg: x.value,
            second_deg: y.value,
            difference: judged_by(plan, name, Kind::Angle, x.value - y.value, &error, limits),
            p,
            real: p < alpha,
        }
    };
    let part = |name: &str, x: &Finding, y: &Finding, limits| {
        Some(row(name, None, Valued::of(x)?, Valued::of(y)?, ALPHA, limits))
    };
    let parts: Vec<ComparisonRow> = match profiles {
        (Some(a), Some(b)) => {
            let setting = part("setting", &a.setting, &b.setting, None);
            let washout = part("washout error", &a.washout_error, &b.washout_error, limits);
            setting.into_iter().chain(washout).collect()
        }
        _ => Vec::new(),
    };
    let stations = common
        .iter()
        .map(|(s, t)| row(&s.name, Some(s.span_mm), Valued::at(s), Valued::at(t), station_alpha, limits))
        .collect();
    let mut remarks = remarks(kind, limits.is_some(), first, second);
    for (assessment, twist) in [(first, profiles.0), (second, profiles.1)] {
        for not in twist.into_iter().flat_map(|twist| [&twist.setting, &twist.washout_error]) {
            if let Finding::Not(not) = not {
                remarks.push(format!("{}: no {}: {}", label(assessment, kind), not.what, not.why));
            }
        }
    }
    Ok(Comparison {
        format: 1,
        kind,
        first: label(first, kind),
        second: label(second, kind),
        parts,
        stations,
        station_alpha,
        others,
        not_compared,
        remarks,
    })
}

/// A value and its error.
struct Valued {
    value: f64,
    error: Mixture,
}

impl Valued {
    fn of(found: &Finding) -> Option<Self> {
        let judged = found.judged()?;
        Some(Self { value: judged.value, error: judged.error() })
    }

    fn at(station: &StationView) -> Self {
        let normal = || Mixture::normal(station.u_deg.unwrap_or(f64::NAN));
        Self {
            value: station.twist_error_deg.unwrap_or(f64::NAN),
            error: station.spread.as_ref().map_or_else(normal, Spread::error),
        }
    }
}

fn remarks(kind: ComparisonKind, has_limit: bool, first: &Assessment, second: &Assessment) -> Vec<String> {
    let mut out = Vec::new();
    if kind == ComparisonKind::Sides {
        if first.side == Side::Right {
            out.push("the right wing was given first: differences are right less left".to_owned());
        }
        if !has_limit {
            out.push(
                "the plan has no left-right tolerance, so there is no verdict on the difference".to_owned(),
            );
        }
        if first.stage != second.stage {
            out.push("the two wings are at different stages".to_owned());
        }
    }
    out
}
