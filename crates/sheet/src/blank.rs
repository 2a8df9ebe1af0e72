//! The blank form of a stage: what to measure, with boxes to write in at the jig.

use crate::flow::{Grid, lay_out};
use crate::page::{Logs, Sheet, foot, form, running_head};
use crate::pdf::{self as writer, Standard};
use crate::text::Typesetter;
use crate::wanted::Blank;
use crate::{DocumentKind, SheetError, Stamp};
use assess::Assessment;

/// The blank form as PDF/A-2b, with the fingerprint of its log on every page. It cannot be taken for an inspection
/// sheet. The same assessment, blank and stamp give the same bytes.
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
    writer::write(drawing, &set, stamp, &assessment.wing, &[mark], Standard::A2b)
}
