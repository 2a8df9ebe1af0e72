//! What every plot needs: axes, error bars, marks with the shape of their verdict.

use crate::paint::marks::Mark;
use crate::theme::Palette;
use assess::Verdict;
use egui::{Color32, Stroke};
use egui_plot::{
    AxisHints, HPlacement, HoverPosition, Line, MarkerShape, Plot, PlotPoints, PlotUi, Points, VPlacement,
};

/// A value with its uncertainty at a place.
#[derive(Clone, Debug)]
pub struct Bar {
    /// Place along the axis.
    pub x: f64,
    /// The value.
    pub y: f64,
    /// Its standard uncertainty; 0 for none drawn.
    pub u: f64,
    /// Its mark.
    pub mark: Mark,
    /// Its name.
    pub name: String,
}

/// A plot along the span; outboard lies as it does in the drawing of the wing.
pub fn along_span<'a>(
    id: &str,
    height: f32,
    mirrored: bool,
    x_name: &'a str,
    y_name: &'a str,
    hover: Hover,
    p: &Palette,
) -> Plot<'a> {
    let grid = p.ghost;
    Plot::new(id.to_owned())
        .height(height)
        .invert_x(mirrored)
        .allow_scroll(false)
        .allow_zoom(false)
        .allow_drag(false)
        .allow_boxed_zoom(false)
        .allow_double_click_reset(false)
        .show_background(false)
        .show_crosshair(false)
        .grid_color(grid)
        .clamp_grid(true)
        .set_margin_fraction(egui::vec2(0.05, 0.12))
        .custom_x_axes(vec![AxisHints::new_x().label(x_name).placement(VPlacement::Bottom)])
        .custom_y_axes(vec![
            AxisHints::new_y()
                .label(y_name)
                .placement(HPlacement::Left)
                .min_thickness(46.0)
                .label_spacing(14.0..=26.0),
        ])
        .label_formatter(move |at| hover.words(at))
}

/// The sentences shown when the pointer is near a value.
#[derive(Clone, Debug, Default)]
pub struct Hover(pub Vec<(f64, String)>);

impl Hover {
    fn words(&self, at: &HoverPosition<'_>) -> Option<String> {
        let HoverPosition::NearDataPoint { position, .. } = at else { return None };
        let near = self.0.iter().min_by(|a, b| (a.0 - position.x).abs().total_cmp(&(b.0 - position.x).abs()));
        near.map(|(_, words)| words.clone())
    }
}

const fn shape(mark: Mark) -> MarkerShape {
    match mark {
        Mark::Of(Verdict::Within) => MarkerShape::Circle,
        Mark::Of(Verdict::Outside) => MarkerShape::Up,
        Mark::Of(Verdict::Undecided) => MarkerShape::Diamond,
        Mark::Of(Verdict::Doubtful) => MarkerShape::Down,
        Mark::Of(Verdict::CannotJudge) => MarkerShape::Plus,
        Mark::Of(Verdict::Stale) => MarkerShape::Cross,
        Mark::Of(Verdict::Missing) | Mark::Plain | Mark::Unasked => MarkerShape::Square,
    }
}

/// Error bars of twice the standard uncertainty, and a mark at each value.
pub fn bars(plot: &mut PlotUi<'_>, p: &Palette, group: &str, bars: &[Bar], cap: f64) {
    for (i, bar) in bars.iter().enumerate() {
        if bar.u > 0.0 {
            let (low, high) = (bar.y - 2.0 * bar.u, bar.y + 2.0 * bar.u);
            for (k, part) in [
                [[bar.x, low], [bar.x, high]],
                [[bar.x - cap, low], [bar.x + cap, low]],
                [[bar.x - cap, high], [bar.x + cap, high]],
            ]
            .into_iter()
            .enumerate()
            {
                let id = egui::Id::unique((group, "bar", i, k));
                let line =
                    Line::new("", part.to_vec()).id(id).stroke(Stroke::new(1.5, p.ink)).allow_hover(false);
                plot.line(line);
            }
        }
    }
    for (i, bar) in bars.iter().enumerate() {
        let colour = match bar.mark {
            Mark::Of(v) => p.verdict(Some(v)),
            Mark::Plain | Mark::Unasked => p.ink,
        };
        let points = Points::new(bar.name.clone(), vec![[bar.x, bar.y]])
            .id(egui::Id::unique((group, "mark", i)))
            .shape(shape(bar.mark))
            .filled(!matches!(bar.mark, Mark::Of(Verdict::Missing)))
            .radius(6.0)
            .color(colour);
        plot.points(points);
    }
}

/// A line through places.
pub fn line(
    plot: &mut PlotUi<'_>,
    name: &str,
    points: Vec<[f64; 2]>,
    colour: Color32,
    width: f32,
    dashed: bool,
) {
    let mut line = Line::new(name, PlotPoints::from(points)).color(colour).width(width).allow_hover(false);
    if dashed {
        line = line.style(egui_plot::LineStyle::dashed_dense());
    }
    plot.line(line);
}

/// Rings about places: what stands out.
pub fn rings(plot: &mut PlotUi<'_>, places: Vec<[f64; 2]>, colour: Color32) {
    if !places.is_empty() {
        let rings =
            Points::new("stands out", PlotPoints::from(places)).filled(false).radius(13.0).color(colour);
        plot.points(rings.allow_hover(false));
    }
}
