//! Whether a person says that a value really is so, though it would be asked about.

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Sure {
    #[default]
    Unsaid,
    /// It really is so.
    Yes,
}

impl Sure {
    /// Of a typed line: `!` at its end says so.
    pub fn of_line(line: &str) -> Self {
        line.ends_with('!').into()
    }
}

impl From<bool> for Sure {
    fn from(said: bool) -> Self {
        if said { Self::Yes } else { Self::Unsaid }
    }
}
