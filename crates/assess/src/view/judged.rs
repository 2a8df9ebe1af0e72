//! A value against its tolerance.

use quantity::Kind;
use serde::{Serialize, Serializer};

/// What is said of a value, or of the lack of one.
///
/// The order is that of concern: later ones are worse.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Conformity is proven at the level asked for.
    Within,
    /// There is no reading.
    Missing,
    /// It was measured and disturbed since, so the reading proves nothing.
    Stale,
    /// Neither is proven.
    Undecided,
    /// The readings contradict each other, or what they rest on is in doubt.
    Doubtful,
    /// No value follows from the readings.
    CannotJudge,
    /// Non-conformity is proven at the level asked for.
    Outside,
}

impl Verdict {
    /// Every verdict, worst first.
    pub const WORST_FIRST: [Self; 7] = [
        Self::Outside,
        Self::CannotJudge,
        Self::Doubtful,
        Self::Undecided,
        Self::Stale,
        Self::Missing,
        Self::Within,
    ];

    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Within => "within",
            Self::Missing => "missing",
            Self::Stale => "stale",
            Self::Undecided => "undecided",
            Self::Doubtful => "doubtful",
            Self::CannotJudge => "cannot be judged",
            Self::Outside => "outside",
        }
    }
}

/// A value with its uncertainty, its limits and what follows.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Judged {
    /// What is judged, in words (`washout error`).
    pub what: String,
    /// The quantity; its base unit in JSON (`deg`, `mm`, `N·m` or `°C`).
    #[serde(serialize_with = "base_unit")]
    pub unit: Kind,
    /// The value.
    pub value: f64,
    /// Its standard uncertainty.
    pub u: f64,
    /// Degrees of freedom where the coverage is Student's t; none for the normal.
    pub dof: Option<f64>,
    /// Lower limit.
    pub lower: Option<f64>,
    /// Upper limit.
    pub upper: Option<f64>,
    /// The verdict; none where the plan has no tolerance for it.
    pub verdict: Option<Verdict>,
    /// Probability of conformity (JCGM 106:2012).
    pub probability: Option<f64>,
    /// What would decide it, if it is undecided.
    pub decide: Option<String>,
}

/// A quantity as the symbol of its base unit.
#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands the field over so")]
pub(super) fn base_unit<S: Serializer>(kind: &Kind, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(kind.base_symbol())
}
