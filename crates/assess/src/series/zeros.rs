//! What the instruments of one wing showed: zeros found by reversal, and checks.

use crate::history::Fold;
use crate::view::Assessment;
use record::At;
use serde::Serialize;

quantity::words_in_json! {
    /// How it was found.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
    pub enum FoundKind {
        /// Its zero, by reversal.
        Zero = "zero",
        /// Its error on a known slope.
        Error = "error",
    }
}

/// One finding about an instrument.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// Its name.
    pub instrument: String,
    pub number: Option<String>,
    /// What was found.
    pub kind: FoundKind,
    /// When.
    pub at: At,
    /// The value, in degrees.
    pub value: f64,
    /// Its standard uncertainty.
    pub u: f64,
    /// The entry of a check that failed.
    pub failed: Option<u64>,
}

/// Everything found about the instruments of a wing.
pub fn found(fold: &Fold<'_>, a: &Assessment) -> Vec<Found> {
    let number = |name: &str| {
        let known = fold.instruments.get(name).and_then(|k| k.now().cloned());
        known.and_then(|facts| facts.number.clone())
    };
    let mut out = Vec::new();
    for zero in &a.zeros {
        let used = fold.points.values().flat_map(|f| &f.used).filter(|u| {
            u.reading.instrument.as_deref() == Some(&zero.instrument) && u.reading.round == zero.round
        });
        let Some(at) = used.map(|u| u.at).max() else { continue };
        out.push(Found {
            instrument: zero.instrument.clone(),
            number: number(&zero.instrument),
            kind: FoundKind::Zero,
            at,
            value: zero.zero_deg,
            u: zero.u_deg,
            failed: None,
        });
    }
    for (name, known) in fold.instruments.iter() {
        for made in &known.checks {
            let kind = if made.what.method == "reversal" { FoundKind::Zero } else { FoundKind::Error };
            out.push(Found {
                instrument: name.to_owned(),
                number: number(name),
                kind,
                at: made.when.at,
                value: made.what.found,
                u: made.what.u,
                failed: (!made.what.passed).then_some(made.seq),
            });
        }
    }
    out
}
