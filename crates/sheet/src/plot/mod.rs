//! Plots along the span, drawn once for paper and screen.

mod axes;
mod difference;
mod legend;
mod marker;
mod profile;
mod style;

pub(crate) use difference::difference;
pub(crate) use marker::verdict_mark;
pub(crate) use profile::{Frame, Picture, profile};
pub(crate) use style::PAPER_TEXT;
pub use style::PlotStyle;

use crate::SheetError;
use crate::text::Typesetter;
use assess::Assessment;

/// The twist profile as an SVG picture: readings with their uncertainty, fit, bands, tolerance, the stage before.
/// Without a profile the picture says so.
///
/// # Errors
/// Only if the font that belongs to the program cannot be read.
pub fn profile_svg(assessment: &Assessment, style: &PlotStyle) -> Result<String, SheetError> {
    let set = Typesetter::new()?;
    let picture = profile(&set, assessment, &Frame::whole(style));
    let title = format!("Twist profile of {}", assessment.wing);
    Ok(crate::svg::picture(&set, style, &title, &picture))
}
