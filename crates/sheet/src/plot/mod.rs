//! Pictures: dots by place with their 95 % bars against limits, strips, marks. Drawn by the same code for paper and
//! screen.

mod difference;
mod dots;
mod legend;
mod marker;
mod profile;
mod scale;
mod strip;
mod style;

pub(crate) use difference::{difference, difference_picture, units};
pub(crate) use dots::{Band, Dot, Dots, Ticks};
pub(crate) use legend::{Legend, Sample, legend, legend_height, twist_legend};
pub(crate) use marker::mark;
pub(crate) use profile::{Picture, twist_dots, words as profile_words};
pub(crate) use strip::strip;
pub use style::PlotStyle;

use crate::SheetError;
use crate::text::Typesetter;
use assess::Assessment;

/// The twist profile as an SVG picture: stations with their 95 %, curve and band, the area beyond the limits hatched,
/// the stage before. Without a profile the picture says so.
///
/// # Errors
/// Only if the program's own font cannot be read.
pub fn profile_svg(assessment: &Assessment, style: &PlotStyle) -> Result<String, SheetError> {
    let set = Typesetter::new()?;
    let picture = profile::profile(&set, assessment, style);
    let title = format!("Twist profile of {}", assessment.wing);
    Ok(crate::svg::picture(&set, style, &title, &picture))
}
