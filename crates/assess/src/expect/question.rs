//! The question that a person is asked.

use record::Asked;

/// What a person is asked before a value is recorded.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// What was expected, as `about +1.3°`.
    pub expected: String,
    /// Why the value is questioned.
    pub why: String,
}

impl Question {
    /// One question for two odd things about one value.
    #[must_use]
    pub fn both(one: Option<Self>, other: Option<Self>) -> Option<Self> {
        let Asked { expected, why } = Asked::both(one.map(Asked::from), other.map(Asked::from))?;
        Some(Self { expected, why })
    }
}

impl From<Question> for Asked {
    fn from(question: Question) -> Self {
        Self { expected: question.expected, why: question.why }
    }
}
