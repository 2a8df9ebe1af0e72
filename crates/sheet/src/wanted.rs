//! What a stage requires, as the blank form shows it.

#[derive(Clone, Debug)]
pub struct Blank {
    pub stage: String,
    /// Readings of one kind each, in the order in which they are taken.
    pub groups: Vec<BlankGroup>,
}

#[derive(Clone, Debug)]
pub struct BlankGroup {
    pub title: String,
    /// The instrument; `None` if it should be written down.
    pub instrument: Option<String>,
    /// Limits that apply to all of them together, as text.
    pub limits: Vec<String>,
    /// The heading for lengths along the span, with their unit.
    pub span: String,
    /// The heading for the design, with its unit.
    pub design: String,
    /// The facings, `forward` and `aft`; empty if nothing is turned.
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
    /// What the instrument should show in each facing, or once without facings.
    pub shows: Vec<Option<String>>,
}
