//! The inspection sheet as a whole.

use crate::flow::{Grid, lay_out};
use crate::page::{Frame, Head, Sheet, gate_block};
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
    let logs = [stamp.fingerprint()?];
    let word = assessment.gate.state.word().to_uppercase();
    let form = stamp.form.word();
    let frame = Frame { set: &set, grid, stamp, logs: &logs, form, name: &assessment.wing };
    let drawing = frame.draw(&laid, |index| Head {
        beside: sheet.beside(laid.chapter(index)),
        block: match stamp.form {
            Form::Component(_) => Vec::new(),
            Form::Full | Form::Short => gate_block(&set, &grid, &word, assessment.gate.state),
        },
        width: set.width(Face::SemiBold, 10.5, &word) + 30.0,
    });
    // The layout is no longer needed once drawn: for a long wing it is most of the memory.
    drop(laid);
    writer::write(drawing, &set, stamp, &assessment.wing, &[mark], standard)
}
