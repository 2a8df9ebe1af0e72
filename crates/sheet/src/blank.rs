//! The blank form of a stage: what to measure, with boxes to write in at the jig.

use crate::flow::{Grid, lay_out};
use crate::page::{Logs, Sheet, foot, form, running_head};
use crate::pdf::{self as writer, Standard};
use crate::text::Typesetter;
use crate::{DocumentKind, SheetError, Stamp};
use assess::Assessment;

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

/// The blank form as PDF/A-2b, with the fingerprint of its log on every page. It passes for no inspection sheet. The same
/// assessment, blank and stamp give the same bytes.
///
/// # Errors
/// If the stamp is not well formed, or the PDF cannot be written.
pub fn blank_pdf(assessment: &Assessment, blank: &Blank, stamp: &Stamp) -> Result<Vec<u8>, SheetError> {
    let mark = stamp.mark(DocumentKind::Blank)?;
    let set = Typesetter::new()?;
    let grid = Grid::of(stamp.paper);
    let sheet = Sheet { a: assessment, set: &set, stamp, grid };
    let laid = lay_out(form(&sheet, blank), grid);
    let fingerprint = stamp.fingerprint()?;
    let (pages, beside) = (laid.pages(), format!("{} · stage {}", stamp.title, blank.stage));
    let drawing = laid.draw(&set, |index, _| {
        let page = format!("page {} of {pages}", index + 1);
        let mut shapes = foot(&set, &grid, &Logs::One(&fingerprint), "blank form", stamp, &page);
        if index > 0 {
            shapes.extend(running_head(&set, &grid, &assessment.wing, &beside, Vec::new(), 0.0));
        }
        shapes
    });
    writer::write(&drawing, &set, stamp, &assessment.wing, &[mark], Standard::A2b)
}
