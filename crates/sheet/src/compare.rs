//! The comparison sheet: two stages of one wing, or left and right.

mod layout;

use crate::fingerprint::{DocumentKind, Fingerprint};
use crate::pdf::{self as writer, Standard};
use crate::plot::difference_picture;
use crate::text::Typesetter;
use crate::{PlotStyle, SheetError, Stamp};
use assess::view::Comparison;

/// The comparison sheet as PDF/A-2b. The stamp is that of the first log; if the second is another log (left and
/// right), pass its fingerprint too: then both are on every page and in the metadata. It cannot be taken for an
/// inspection sheet.
///
/// # Errors
/// If the stamp is not well formed, or the PDF cannot be written.
pub fn compare_pdf(
    comparison: &Comparison,
    stamp: &Stamp,
    other_log: Option<&Fingerprint>,
) -> Result<Vec<u8>, SheetError> {
    let set = Typesetter::new()?;
    let first = stamp.mark(DocumentKind::Comparison)?;
    let mut marks = vec![first.clone()];
    if let Some(other) = other_log.filter(|other| **other != first.fingerprint) {
        let mut second = first;
        second.fingerprint = other.clone();
        marks.push(second);
    }
    let logs: Vec<_> = marks.iter().map(|m| m.fingerprint.clone()).collect();
    let drawing = layout::draw(comparison, stamp, &logs, &set);
    let subject = format!("{} and {}", comparison.first, comparison.second);
    writer::write(drawing, &set, stamp, &subject, &marks, Standard::A2b)
}

/// The differences along the span as an SVG picture.
///
/// # Errors
/// Only if the program's own font cannot be read.
pub fn compare_svg(comparison: &Comparison, style: &PlotStyle) -> Result<String, SheetError> {
    let set = Typesetter::new()?;
    let picture = difference_picture(&set, comparison, style);
    let title = format!("{} less {}", comparison.first, comparison.second);
    Ok(crate::svg::picture(&set, style, &title, &picture))
}
