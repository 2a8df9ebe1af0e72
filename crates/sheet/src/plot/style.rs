//! How a plot for the screen looks.

/// Size and colours of a plot. Lengths in points; an SVG viewer reads them as pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlotStyle {
    pub width_pt: f64,
    pub height_pt: f64,
    pub text_pt: f64,
    /// White on black.
    pub dark: bool,
}

impl Default for PlotStyle {
    fn default() -> Self {
        Self { width_pt: 900.0, height_pt: 420.0, text_pt: 12.0, dark: false }
    }
}

/// Size of the text of a plot on paper.
pub(super) const PAPER_TEXT: f64 = 7.5;

impl PlotStyle {
    /// How much larger than on paper everything is drawn.
    pub(crate) const fn scale(&self) -> f64 {
        self.text_pt.max(1.0) / PAPER_TEXT
    }
}
