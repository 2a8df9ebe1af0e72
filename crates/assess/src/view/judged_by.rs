//! What gave a verdict.

use super::ObligationKind as K;
use serde::{Serialize, Serializer};
use std::fmt;

/// What gave a verdict: the kind of obligation that it meets, and its name in the plan. In text and in JSON it reads
/// `station S4`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct JudgedBy {
    pub kind: K,
    pub about: String,
}

impl JudgedBy {
    pub fn new(kind: K, about: &str) -> Self {
        Self { kind, about: about.to_owned() }
    }
}

impl fmt::Display for JudgedBy {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.kind {
            K::Spot => f.write_str("its own limits"),
            K::Station => write!(f, "station {}", self.about),
            K::Square => write!(f, "{} out of square", self.about),
            kind => f.write_str(&kind.of(&self.about)),
        }
    }
}

impl Serialize for JudgedBy {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}
