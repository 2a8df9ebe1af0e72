//! A comparison as it is handed in.

use crate::Fingerprint;
use assess::Verdict;

/// Two stages of one wing, or two wings, compared. Nothing in it is judged here.
#[derive(Clone, Debug, PartialEq)]
pub struct CompareView {
    /// What is compared, in a few words (`two stages`, `left and right`).
    pub what: String,
    /// The one side.
    pub a: CompareSide,
    /// The other side; differences are B less A unless `rule` says otherwise.
    pub b: CompareSide,
    /// How it was decided which differences count, in words.
    pub rule: String,
    /// What is compared, row by row: parts first, then stations by span.
    pub rows: Vec<CompareRow>,
    /// What the person should be told.
    pub remarks: Vec<String>,
    /// The log of side B, where it is another one.
    pub other_log: Option<Fingerprint>,
}

/// One side of a comparison.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CompareSide {
    /// Its name (`spar bolted`, `left`).
    pub name: String,
    /// The wing.
    pub wing: String,
    /// The stage.
    pub stage: Option<String>,
}

/// One thing compared.
#[derive(Clone, Debug, PartialEq)]
pub struct CompareRow {
    /// What it is (`washout error`, `S4`).
    pub name: String,
    /// Where along the span, for a station; such rows are plotted.
    pub span_mm: Option<f64>,
    /// `deg`, `mm`, `N·m` or `°C`.
    pub unit: &'static str,
    /// On side A.
    pub a: Option<f64>,
    /// On side B.
    pub b: Option<f64>,
    /// The difference.
    pub difference: Option<f64>,
    /// Its standard uncertainty.
    pub u: Option<f64>,
    /// Two-sided probability of a difference this large by measurement alone.
    pub p: Option<f64>,
    /// True if it is more than measurement.
    pub real: Option<bool>,
    /// Lower limit of the difference, where the plan has one.
    pub lower: Option<f64>,
    /// Upper limit of the difference.
    pub upper: Option<f64>,
    /// The verdict; none where the plan has no tolerance for it.
    pub verdict: Option<Verdict>,
}
