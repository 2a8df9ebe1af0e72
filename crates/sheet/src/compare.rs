//! The comparison sheet: two stages of one wing, or left and right.

mod layout;
mod view;

pub use view::{CompareRow, CompareSide, CompareView};

use crate::pdf::{self as writer, Standard};
use crate::plot::{Frame, difference};
use crate::text::Typesetter;
use crate::{PlotStyle, SheetError, Stamp};

/// The comparison sheet as PDF/A-2b. The stamp is that of the log of side A; if side B is another log, both fingerprints
/// stand on every page and in the metadata.
///
/// # Errors
/// If the stamp or a fingerprint is not well formed, or the PDF cannot be written.
pub fn compare_pdf(view: &CompareView, stamp: &Stamp) -> Result<Vec<u8>, SheetError> {
    let set = Typesetter::new()?;
    let mut mark = stamp.mark()?;
    let mut marks = vec![mark.clone()];
    if let Some(other) = &view.other_log
        && *other != mark.fingerprint
    {
        mark.fingerprint = other.clone();
        marks.push(mark);
    }
    let logs: Vec<_> = marks.iter().map(|m| m.fingerprint.clone()).collect();
    let drawing = layout::draw(view, stamp, &logs, &set);
    let subject = format!("{} against {}", view.a.name, view.b.name);
    writer::write(&drawing, &set, stamp, &subject, &marks, Standard::A2b)
}

/// The differences along the span as an SVG picture.
///
/// # Errors
/// Only if the font that belongs to the program cannot be read.
pub fn compare_svg(view: &CompareView, style: &PlotStyle) -> Result<String, SheetError> {
    let set = Typesetter::new()?;
    let picture = difference(&set, view, &Frame::whole(style));
    let title = format!("{} less {}", view.b.name, view.a.name);
    let inks = if style.dark { crate::svg::dark } else { crate::svg::light };
    Ok(crate::svg::document(style.width_pt, style.height_pt, &title, &picture.about, &picture.shapes, inks))
}
