//! The inspection sheet as a whole: which parts in which order.

use crate::draw::Drawing;
use crate::flow::Flow;
use crate::part::{self, foot};
use crate::pdf::{self as writer, Standard};
use crate::text::Typesetter;
use crate::{DocumentKind, SheetError, Stamp};
use assess::Assessment;

/// The inspection sheet as PDF/A-2b (ISO 19005-2): tagged, fonts embedded, the fingerprint in words on every page and in
/// the metadata. The same assessment and stamp give the same bytes.
///
/// # Errors
/// If the stamp's fingerprints or time are not well formed, or the PDF cannot be written.
pub fn pdf(assessment: &Assessment, stamp: &Stamp) -> Result<Vec<u8>, SheetError> {
    made(assessment, stamp, Standard::A2b)
}

/// The same sheet as PDF/A-1b (ISO 19005-1), without tags and bookmarks: for validators that know only the first part.
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
    let drawing = draw(assessment, stamp, &set)?;
    writer::write(&drawing, &set, stamp, &assessment.wing, &[mark], standard)
}

fn draw(assessment: &Assessment, stamp: &Stamp, set: &Typesetter) -> Result<Drawing, SheetError> {
    let fingerprint = stamp.fingerprint()?;
    let mut flow = Flow::new(set, stamp.paper);
    let all_reasons_shown = part::front(&mut flow, assessment, stamp);
    flow.new_page();
    if !all_reasons_shown {
        part::reasons(&mut flow, &assessment.gate);
    }
    part::doubts(&mut flow, &assessment.doubts);
    if let Some(twist) = &assessment.twist {
        part::twist(&mut flow, twist);
    }
    if let Some(changes) = &assessment.changes {
        part::changes(&mut flow, changes, assessment.previous.as_ref());
    }
    part::geometry(&mut flow, assessment);
    part::points(&mut flow, assessment);
    part::trust(&mut flow, assessment);
    part::rule(&mut flow, assessment);
    part::cautions(&mut flow);
    part::spelled(&mut flow);
    let running = part::running_head(set, assessment);
    let program = stamp.program.as_str();
    Ok(flow.finish(|set, index, pages, width, height| {
        let mut shapes =
            foot::foot(set, std::slice::from_ref(&fingerprint), program, (index, pages), width, height);
        if index > 0 {
            shapes.extend(foot::head(set, &running, width));
        }
        shapes
    }))
}
