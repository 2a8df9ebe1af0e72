//! The twist profile.

use super::legend::{legend, twist_legend};
use super::style::{PAPER_TEXT, PlotStyle};
use super::{Band, Dot, Dots, Ticks};
use crate::draw::{Anchor, Pen, Shape};
use crate::flow::Area;
use crate::text::{Face, Typesetter};
use assess::view::{PreviousTwist, StationView, Twist};
use assess::{Assessment, Verdict};
use quantity::Kind;
use quantity::shown::Scale;
use record::plan::Side;

/// A plot: its shapes, and a text that describes them.
pub(crate) struct Picture {
    pub shapes: Vec<Shape>,
    pub about: String,
}

/// The stations with the curve and the stage before.
pub(crate) fn twist_dots(
    a: &Assessment,
    twist: &Twist,
    previous: Option<&PreviousTwist>,
    ticks: Ticks,
) -> Dots {
    let mut before = previous.iter().flat_map(|p| &p.stations).peekable();
    let dot = |s: &StationView| {
        while before.next_if(|b| b.span_mm < s.span_mm).is_some() {}
        let was = before.next_if(|b| (b.span_mm - s.span_mm).abs() < 1e-9);
        let value = s.twist_error_deg.filter(|v| v.is_finite());
        Dot {
            x: s.span_mm,
            name: s.name.clone(),
            value,
            ends: s.lower95_deg.zip(s.upper95_deg).map(|(low, high)| [low, high]),
            before: was.map(|b| b.twist_error_deg),
            state: s.verdict.or(value.is_none().then_some(Verdict::Missing)),
            ringed: s.stands_out,
            ..Dot::default()
        }
    };
    Dots {
        dots: twist.stations.iter().map(dot).collect(),
        limits: [twist.lower_deg, twist.upper_deg],
        band: twist
            .band
            .iter()
            .filter(|b| b.fit_deg.is_finite() && b.simultaneous_deg.is_finite())
            .map(|b| Band { x: b.span_mm, value: b.fit_deg, half: b.simultaneous_deg })
            .collect(),
        ticks,
        signed: true,
        reversed: a.side == Side::Left,
        reach: vec![twist.root_mm, twist.tip_mm],
        ..Dots::default()
    }
    .in_unit(a.units.scale(Kind::Angle))
}

/// The area of a picture for the screen, and that of its legend.
pub(super) fn areas(style: &PlotStyle) -> [Area; 2] {
    let pad = PAPER_TEXT * 0.8;
    let (width, height) =
        (style.width_pt / style.scale() - 2.0 * pad, style.height_pt / style.scale() - 2.0 * pad);
    let below = 14.0_f64.min(height / 3.0);
    let plot = Area { x: pad, y: pad, width, height: height - below };
    [plot, Area { x: pad, y: plot.bottom() + 2.0, width, height: below }]
}

/// The twist profile for the screen.
pub(crate) fn profile(set: &Typesetter, a: &Assessment, style: &PlotStyle) -> Picture {
    let [plot, below] = areas(style);
    let Some(twist) = &a.twist else {
        let about = "No twist profile: fewer than two stations have a usable reading.".to_owned();
        let (x, y) = (plot.x + plot.width / 2.0, plot.y + plot.height / 2.0);
        let words = Shape::text(x, y, 9.0, Face::Medium, about.as_str()).anchored(Anchor::Middle);
        let frame = Shape::rect(plot.x, plot.y, plot.width, plot.height, None, Some(Pen::ROW));
        return Picture { shapes: vec![frame, words], about };
    };
    let previous = a.previous.as_ref();
    let mut shapes = twist_dots(a, twist, previous, Ticks::Round).draw(set, plot);
    shapes.extend(legend(set, below, &twist_legend(twist, previous)));
    Picture { shapes, about: words(twist, a.units.scale(Kind::Angle)) }
}

/// The profile as text, for people who cannot see it.
pub(crate) fn words(twist: &Twist, angle: Scale) -> String {
    let errors = || twist.stations.iter().filter_map(|s| s.twist_error_deg).filter(|v| v.is_finite());
    let least = errors().fold(f64::INFINITY, f64::min);
    let most = errors().fold(f64::NEG_INFINITY, f64::max);
    let mut out = format!("Twist error along the span at {} stations", twist.stations.len());
    if least <= most {
        out.push_str(&format!(
            "; it goes from {} to {}",
            angle.fixed_with(least, 3),
            angle.fixed_with(most, 3)
        ));
    }
    if let Some(washout) = twist.washout_error.judged() {
        out.push_str(&format!("; washout error {}", washout.shown()));
    }
    for verdict in Verdict::WORST_FIRST {
        let count = twist.stations.iter().filter(|s| s.verdict == Some(verdict)).count();
        if count > 0 {
            out.push_str(&format!("; {count} {}", verdict.word()));
        }
    }
    out.push('.');
    out
}
