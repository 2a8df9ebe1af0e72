//! The verdicts.

use serde::{Serialize, Serializer};

quantity::words! {
    /// The verdict on a value, or why there is none.
    ///
    /// In order of concern: later ones are worse. An obligation is met only by [`Verdict::Within`], and says so.
    #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
    #[serde(rename_all = "snake_case")]
    pub enum Verdict {
        /// Conformity is proven at the required level.
        Within = "within",
        /// There is no reading.
        Missing = "missing",
        /// It was measured but disturbed since, so the reading proves nothing.
        Stale = "stale",
        /// Neither is proven.
        Undecided = "undecided",
        /// The readings contradict each other, or what they depend on is in doubt.
        Doubtful = "doubtful",
        /// The readings give no value.
        CannotJudge = "cannot be judged",
        /// Non-conformity is proven at the required level.
        Outside = "outside",
    }
}

impl Verdict {
    /// Every verdict, worst first.
    pub const WORST_FIRST: [Self; 7] = {
        let [best, b, c, d, e, f, worst] = Self::ALL;
        [worst, f, e, d, c, b, best]
    };
    /// The word for an obligation: what is within is met.
    pub const fn obligation_word(self) -> &'static str {
        match self {
            Self::Within => "met",
            other => other.word(),
        }
    }
}

/// The verdict on an obligation, as JSON has it.
pub fn of_obligation<S: Serializer>(state: &Verdict, to: S) -> Result<S::Ok, S::Error> {
    match state {
        Verdict::Within => to.serialize_str(state.obligation_word()),
        other => other.serialize(to),
    }
}
