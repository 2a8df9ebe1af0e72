//! Comparing two stages of one wing, or left and right.

use crate::judge::judged_by;
use crate::twist::ALPHA;
use crate::view::{Assessment, Comparison, ComparisonKind, ComparisonRow, Finding, StationView, Twist};
use numerics::mixture::Mixture;
use numerics::scatter::Spread;
use quantity::Kind;
use record::Limits;
use record::plan::{Plan, Side};

/// Stations of two wings count as the same where their relative places differ by less than this.
const SAME_PLACE: f64 = 1e-3;

/// Why two assessments cannot be compared.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CompareError {
    /// One of them has no profile; which.
    NoProfile(String),
    /// They have no station in common.
    NothingInCommon,
}

impl core::fmt::Display for CompareError {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        match self {
            Self::NoProfile(which) => {
                write!(f, "{which} has no twist profile: measure at least two stations of it")
            }
            Self::NothingInCommon => write!(f, "the two have no station at the same place along the span"),
        }
    }
}

impl core::error::Error for CompareError {}

/// Compares the twist of two assessments, the first less the second (left less right where sides differ and the left is
/// given first). `plan` is that of the first and gives the rule and the left-right tolerance.
///
/// # Errors
/// See [`CompareError`].
pub fn compare(plan: &Plan, first: &Assessment, second: &Assessment) -> Result<Comparison, CompareError> {
    let kind = if first.side == second.side { ComparisonKind::Stages } else { ComparisonKind::Sides };
    let profile = |a: &'_ Assessment| -> Result<Twist, CompareError> {
        a.twist.clone().ok_or_else(|| CompareError::NoProfile(label(a, kind)))
    };
    let (a, b) = (profile(first)?, profile(second)?);
    let limits = match kind {
        ComparisonKind::Sides => plan.tolerances.left_right.map(|l| l.map(|d| d.value())),
        ComparisonKind::Stages => None,
    };
    let common: Vec<(&StationView, &StationView)> = a
        .stations
        .iter()
        .filter_map(|s| {
            let other = b.stations.iter().find(|t| (t.eta - s.eta).abs() < SAME_PLACE)?;
            (s.twist_error_deg.is_some() && other.twist_error_deg.is_some()).then_some((s, other))
        })
        .collect();
    if common.is_empty() {
        return Err(CompareError::NothingInCommon);
    }
    #[expect(clippy::cast_precision_loss, reason = "a few stations")]
    let station_alpha = ALPHA / common.len() as f64;
    let row = |name: &str, span_mm, x: Valued, y: Valued, alpha: f64, limits: Option<Limits<f64>>| {
        let error = x.error.plus(&y.error);
        let p = error.two_sided(x.value - y.value);
        ComparisonRow {
            name: name.to_owned(),
            span_mm,
            first_deg: x.value,
            second_deg: y.value,
            difference: judged_by(&plan.rule, name, Kind::Angle, x.value - y.value, &error, limits),
            p,
            real: p < alpha,
        }
    };
    let part = |name: &str, x: &Finding, y: &Finding, limits| {
        Some(row(name, None, Valued::of(x)?, Valued::of(y)?, ALPHA, limits))
    };
    let parts: Vec<ComparisonRow> = [
        part("setting", &a.setting, &b.setting, None),
        part("washout error", &a.washout_error, &b.washout_error, limits),
    ]
    .into_iter()
    .flatten()
    .collect();
    let stations = common
        .iter()
        .map(|(s, t)| row(&s.name, Some(s.span_mm), Valued::at(s), Valued::at(t), station_alpha, limits))
        .collect();
    let mut remarks = remarks(kind, limits.is_some(), first, second);
    for (assessment, twist) in [(first, &a), (second, &b)] {
        for not in [&twist.setting, &twist.washout_error] {
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

fn label(a: &Assessment, kind: ComparisonKind) -> String {
    let stage = a.stage.as_deref().unwrap_or("no stage");
    match kind {
        ComparisonKind::Stages => stage.to_owned(),
        ComparisonKind::Sides => format!("{} ({} wing, {stage})", a.wing, a.side.word()),
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
