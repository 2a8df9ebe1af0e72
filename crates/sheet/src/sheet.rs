//! The inspection sheet as a whole.

use crate::flow::{Grid, lay_out};
use crate::page::{Logs, Sheet, foot, gate_block, running_head};
use crate::pdf::{self as writer, Standard};
use crate::text::{Face, Typesetter};
use crate::{DocumentKind, Form, SheetError, Stamp};
use assess::Assessment;

/// The inspection sheet as PDF/A-2b (ISO 19005-2): tagged, fonts embedded, the fingerprint as text on every page and
/// in the metadata. The same assessment and stamp give the same bytes.
///
/// # Errors
/// If the stamp's fingerprints or time are not well formed, or the PDF cannot be written.
pub fn pdf(assessment: &Assessment, stamp: &Stamp) -> Result<Vec<u8>, SheetError> {
    made(assessment, stamp, Standard::A2b)
}

/// The same sheet as PDF/A-1b (ISO 19005-1), without tags and bookmarks: for validators that only know the first
/// part.
///
/// # Errors
/// As for [`pdf`].
#[cfg(feature = "preflight")]
pub fn pdf_1b(assessment: &Assessment, stamp: &Stamp) -> Result<Vec<u8>, SheetError> {
    made(assessment, stamp, Standard::A1b)
}

fn made(assessment: &Assessment, stamp: &Stamp, standard: Standard) -> Result<Vec<u8>, SheetError> {
    let mark = stamp.mark(DocumentKind::Sheet)?;
    let set = Typesetter::new()?;
    let grid = Grid::of(stamp.paper);
    let sheet = Sheet { a: assessment, set: &set, stamp, grid };
    let laid = lay_out(sheet.pieces()?, grid);
    let fingerprint = stamp.fingerprint()?;
    let pages = laid.pages();
    let word = assessment.gate.state.word().to_uppercase();
    let right = grid.left + grid.width;
    let drawing = laid.draw(&set, |index, _| {
        let page = format!("page {} of {pages}", index + 1);
        let mut shapes = foot(&set, &grid, &Logs::One(&fingerprint), stamp.form.word(), stamp, &page);
        if index > 0 {
            let beside = sheet.beside(laid.chapter(index));
            let block = match stamp.form {
                Form::Component(_) => Vec::new(),
                Form::Full | Form::Short => {
                    gate_block(&set, &word, assessment.gate.state, right, grid.top - 1.0)
                }
            };
            let wide = set.width(Face::SemiBold, 10.5, &word) + 30.0;
            shapes.extend(running_head(&set, &grid, &assessment.wing, &beside, block, wide));
        }
        shapes
    });
    // The layout is no longer needed once drawn: for a long wing it is most of the memory.
    drop(laid);
    writer::write(drawing, &set, stamp, &assessment.wing, &[mark], standard)
}
