//! Comparing two stages of one wing, or left and right.

use crate::judge::{Spread, judged};
use crate::resolve::Makeup;
use crate::twist::two_sided;
use crate::view::{Assessment, Comparison, ComparisonKind, ComparisonRow, StationView, Twist};
use quantity::Kind;
use record::Limits;
use record::plan::{Plan, Side};

/// Family-wise significance of a difference.
const ALPHA: f64 = 0.05;
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
    let dof = match (a.washout_error.dof, b.washout_error.dof) {
        (Some(x), Some(y)) => Some(x.min(y)),
        (x, y) => x.or(y),
    };
    let row = |name: &str, span_mm, x: (f64, f64), y: (f64, f64), alpha: f64, limits: Option<Limits<f64>>| {
        let spread = Spread { u: libm::hypot(x.1, y.1), dof };
        let p = two_sided(x.0 - y.0, spread.u, dof);
        ComparisonRow {
            name: name.to_owned(),
            span_mm,
            first_deg: x.0,
            second_deg: y.0,
            difference: judged(&plan.rule, name, Kind::Angle, x.0 - y.0, spread, limits, &Makeup::Fit),
            p,
            real: p < alpha,
        }
    };
    let parts = vec![
        row("setting", None, value(&a.setting), value(&b.setting), ALPHA, None),
        row("washout error", None, value(&a.washout_error), value(&b.washout_error), ALPHA, limits),
    ];
    let stations = common
        .iter()
        .map(|(s, t)| row(&s.name, Some(s.span_mm), error(s), error(t), station_alpha, limits))
        .collect();
    Ok(Comparison {
        format: 1,
        kind,
        first: label(first, kind),
        second: label(second, kind),
        parts,
        stations,
        station_alpha,
        remarks: remarks(kind, limits.is_some(), first, second),
    })
}

fn value(judged: &crate::view::Judged) -> (f64, f64) {
    (judged.value, judged.u)
}

fn error(station: &StationView) -> (f64, f64) {
    (station.twist_error_deg.unwrap_or(0.0), station.u_deg.unwrap_or(0.0))
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
