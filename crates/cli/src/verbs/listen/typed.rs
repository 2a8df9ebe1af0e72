//! What can be typed while listening.

/// What a person asks for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Typed {
    /// Take the settled value.
    Take,
    /// Take the value as it stands, settled or not.
    TakeUnsettled,
    /// The instrument is turned end for end.
    Turn,
    /// Pass over this point.
    Next,
    /// Go to a point.
    Choose(String),
    /// Withdraw the last reading of this run, with a reason.
    Withdraw(String),
    /// Ask the board to take the present value for zero.
    Zero,
    /// Leave.
    Quit,
    /// None of these.
    Unknown(String),
}

/// What can be typed, in a line.
pub const HELP: &str = "Enter takes it; ! takes it unsettled; r turned end for end; n next point; \
                        s POINT another point; b REASON withdraws the last; q leaves";
/// The same where a board can be asked things.
pub const HELP_WITH_ZERO: &str = "Enter takes it; ! takes it unsettled; r turned end for end; n next point; \
                                  s POINT another point; z zeroes; b REASON withdraws the last; q leaves";

impl Typed {
    /// Reads a line.
    pub fn read(line: &str) -> Self {
        let line = line.trim();
        let (word, rest) = line.split_once(char::is_whitespace).unwrap_or((line, ""));
        let rest = rest.trim().to_owned();
        match word {
            "" => Self::Take,
            "!" => Self::TakeUnsettled,
            "r" => Self::Turn,
            "n" => Self::Next,
            "s" => Self::Choose(rest),
            "b" => Self::Withdraw(rest),
            "z" => Self::Zero,
            "q" => Self::Quit,
            _ => Self::Unknown(line.to_owned()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Typed;

    #[test]
    fn lines_are_read_as_they_are_meant() {
        assert_eq!(Typed::read("  "), Typed::Take);
        assert_eq!(Typed::read("s incidence@S4"), Typed::Choose("incidence@S4".to_owned()));
        assert_eq!(Typed::read("b  it stood on a rivet "), Typed::Withdraw("it stood on a rivet".to_owned()));
        assert_eq!(Typed::read("take it"), Typed::Unknown("take it".to_owned()));
    }
}
