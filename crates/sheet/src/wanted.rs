//! What a stage wants measured, as the blank form shows it.

#[derive(Clone, Debug)]
pub struct Blank {
    pub stage: String,
    /// Readings of one sort each, in the order in which they are taken.
    pub groups: Vec<BlankGroup>,
}

#[derive(Clone, Debug)]
pub struct BlankGroup {
    pub title: String,
    /// With what instrument; none where it is to be written down.
    pub instrument: Option<String>,
    /// Limits that hold for all of them together, each in words.
    pub limits: Vec<String>,
    /// How lengths along the span are headed, with their unit.
    pub span: String,
    /// How the design is headed, with its unit.
    pub design: String,
    /// The facings, `forward` and `aft`; none where nothing is turned.
    pub facings: Vec<String>,
    pub rows: Vec<BlankRow>,
}

#[derive(Clone, Debug)]
pub struct BlankRow {
    pub name: String,
    pub span: Option<String>,
    pub design: Option<String>,
    pub limits: Option<String>,
    pub first: Option<String>,
    /// What the instrument should show in each facing, or once where there is none.
    pub shows: Vec<Option<String>>,
}
