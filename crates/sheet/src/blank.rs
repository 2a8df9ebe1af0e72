//! The blank form of a stage: what to measure, with boxes to write in at the jig.

use crate::flow::{Grid, lay_out};
use crate::page::{Frame, Head, Sheet, form};
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
    let logs = [stamp.fingerprint()?];
    let beside = format!("{} · stage {}", stamp.title, blank.stage);
    let frame = Frame { set: &set, grid, stamp, logs: &logs, form: "blank form", name: &assessment.wing };
    let drawing = frame.draw(&laid, |_| Head { beside: beside.clone(), block: Vec::new(), width: 0.0 });
    writer::write(drawing, &set, stamp, &assessment.wing, &[mark], Standard::A2b)
}
