//! Whether a person confirms a value although it is questioned.

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Sure {
    #[default]
    Unsaid,
    /// It really is so.
    Yes,
}

impl Sure {
    /// For a typed line: `!` at its end confirms it.
    pub fn of_line(line: &str) -> Self {
        line.ends_with('!').into()
    }
}

impl From<bool> for Sure {
    fn from(said: bool) -> Self {
        if said { Self::Yes } else { Self::Unsaid }
    }
}
