//! What a stage wants measured, as the blank form shows it.

/// What is to be measured in a stage.
#[derive(Clone, Debug)]
pub struct Blank {
    /// The stage.
    pub stage: String,
    /// Readings of one sort each, in the order in which they are taken.
    pub groups: Vec<BlankGroup>,
}

/// Readings of one sort: one table.
#[derive(Clone, Debug)]
pub struct BlankGroup {
    /// What is measured.
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
    /// A row a place.
    pub rows: Vec<BlankRow>,
}

/// A place.
#[derive(Clone, Debug)]
pub struct BlankRow {
    /// Its name.
    pub name: String,
    /// Where it is along the span.
    pub span: Option<String>,
    /// What it should be.
    pub design: Option<String>,
    /// Its own limits.
    pub limits: Option<String>,
    /// The facing to read first.
    pub first: Option<String>,
    /// What the instrument should show in each facing, or once where there is none.
    pub shows: Vec<Option<String>>,
}
