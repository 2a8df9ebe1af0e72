//! A value against its tolerance.

use super::{NoValue, Verdict};
use numerics::mixture::Mixture;
use numerics::scatter::Spread;
use quantity::{Kind, Units};
use serde::{Serialize, Serializer};

/// A value with its uncertainty, its limits and the verdict.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Judged {
    /// What is judged (`washout error`).
    pub what: String,
    /// The quantity; its base unit in JSON (`deg`, `mm`, `N·m` or `°C`).
    #[serde(serialize_with = "base_unit")]
    pub unit: Kind,
    pub value: f64,
    /// Half the width of its 95 % interval over 1.96: the standard uncertainty of a normal error of that width.
    pub u: f64,
    /// Lower end of its 95 % interval.
    pub lower95: f64,
    /// Upper end of its 95 % interval.
    pub upper95: f64,
    /// Lower limit.
    pub lower: Option<f64>,
    /// Upper limit.
    pub upper: Option<f64>,
    /// The verdict; `None` if the plan has no tolerance for it.
    pub verdict: Option<Verdict>,
    /// Probability of conformity (JCGM 106:2012).
    pub probability: Option<f64>,
    /// What would decide it, if it is undecided.
    pub decide: Option<String>,
    /// The distribution of its error; `None` means normal with `u`.
    #[serde(skip)]
    pub spread: Option<Spread>,
    /// The units in which it is shown to a person.
    #[serde(skip)]
    pub units: Units,
}

impl Judged {
    /// The distribution of its error.
    pub(crate) fn error(&self) -> Mixture {
        self.spread.as_ref().map_or_else(|| Mixture::normal(self.u), Spread::error)
    }
}

/// Something the plan asks to be judged: a judged value, or why there is none.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Finding {
    /// A value, judged.
    Judged(Judged),
    /// No value.
    Not(NotJudged),
}

/// Something that could not be judged.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NotJudged {
    /// What was to be judged.
    pub what: String,
    /// The quantity it would be; its base unit in JSON.
    #[serde(serialize_with = "base_unit")]
    pub unit: Kind,
    /// Always `null` in JSON, as are the next three.
    pub value: Option<f64>,
    /// Always `None`.
    pub u: Option<f64>,
    /// Always `None`.
    pub lower95: Option<f64>,
    /// Always `None`.
    pub upper95: Option<f64>,
    /// Lower limit.
    pub lower: Option<f64>,
    /// Upper limit.
    pub upper: Option<f64>,
    /// `Missing` or `CannotJudge`; `None` if the plan has no tolerance for it.
    pub verdict: Option<Verdict>,
    /// Why, and what to do.
    pub why: NoValue,
}

impl Finding {
    /// The judged value, if there is one.
    pub const fn judged(&self) -> Option<&Judged> {
        match self {
            Self::Judged(judged) => Some(judged),
            Self::Not(_) => None,
        }
    }

    /// What is judged.
    pub fn what(&self) -> &str {
        match self {
            Self::Judged(judged) => &judged.what,
            Self::Not(not) => &not.what,
        }
    }

    /// The verdict; `None` if the plan has no tolerance for it.
    pub const fn verdict(&self) -> Option<Verdict> {
        match self {
            Self::Judged(judged) => judged.verdict,
            Self::Not(not) => not.verdict,
        }
    }
}

/// Writes a quantity as the symbol of its base unit.
pub(crate) fn base_unit<S: Serializer>(kind: &Kind, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(kind.base_symbol())
}
