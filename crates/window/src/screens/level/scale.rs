//! The live tilt on a scale between its limits, without a verdict.

use crate::draw::shape::frame;
use crate::draw::text::{Hand, name, put, row, width};
use crate::model::Wing;
use crate::screens::Cx;
use crate::words;
use bench::LevelView;
use egui::{Align, Rect, Shape, Stroke, Ui, pos2};
use quantity::shown;
use record::{Point, PointKind};

pub fn show(ui: &Ui, wing: &Wing, cx: &Cx<'_>, point: &Point, levelling: Option<&LevelView>) {
    let top = cx.g.pick(344.0, 580.0) + cx.g.spare();
    let rect = cx.g.rect(cx.g.whole(), top..=top + cx.g.pick(56.0, 104.0));
    frame(ui.painter(), rect, cx.p.sheet, Stroke::new(1.5, cx.p.rule));
    let painter = ui.painter();
    let angles = wing.angles();
    let (low, high) = match point.kind() {
        PointKind::Level => ("outboard low", "outboard high"),
        _ => ("nose low", "nose high"),
    };
    let hand = Hand::medium(cx.g.pick(19.0, 23.0), cx.p.ink).least(15.0);
    let (a, b) = (width(painter, &hand, low), width(painter, &hand, high));
    let inner = rect.shrink2(egui::vec2(12.0, 4.0));
    let middle = rect.top() + rect.height() * 0.5;
    put(painter, row(inner.left(), inner.left() + a + 2.0, middle, 14.0), Align::Min, hand, low);
    put(painter, row(inner.right() - b - 2.0, inner.right(), middle, 14.0), Align::Max, hand, high);
    let (from, to) = (inner.left() + a + 22.0, inner.right() - b - 22.0);
    let view = cx.index().view(wing, point);
    // The scale is centred on what the tilt should be: level for a post, the design for a station.
    let live = levelling.and_then(LevelView::tilt);
    let (lower, upper) = match (live, view) {
        (Some(place), _) if place.lower.is_some() || place.upper.is_some() => (place.lower, place.upper),
        // Without a live value the plan's limits are shown too.
        (_, v) => match bench::tilt_limits(&wing.plan, point) {
            Some(of) => (of.lower, of.upper),
            None => v.map_or((None, None), |v| (v.lower, v.upper)),
        },
    };
    let design = live.and_then(|place| place.design).or(view.and_then(|v| v.design)).unwrap_or(0.0);
    let limits: Vec<f64> = [lower, upper].into_iter().flatten().map(|l| l - design).collect();
    let widest = limits.iter().map(|l| l.abs()).fold(0.1_f64, f64::max);
    let tilt = live.map(|place| place.value - design);
    let start = levelling.and_then(|l| l.start).map(|start| start - design);
    let furthest = [tilt, start].into_iter().flatten().map(f64::abs).fold(widest * 2.5, f64::max);
    let reach = if furthest > widest * 3.3 { furthest * 1.1 } else { widest * 3.3 };
    #[expect(clippy::cast_possible_truncation, reason = "a place on the screen")]
    let at = |v: f64| from + (to - from) * (0.5 + 0.5 * (v / reach).clamp(-1.0, 1.0) as f32);
    let tall = rect.height() * 0.22;
    if let [l, u] = limits.as_slice() {
        let band = Rect::from_min_max(pos2(at(*l), middle - tall * 0.9), pos2(at(*u), middle + tall * 0.9));
        painter.rect_filled(band, 0.0, cx.p.soft);
    }
    painter.hline(from..=to, middle, Stroke::new(3.0, cx.p.edge));
    for n in -5_i8..=5 {
        let x = from + (to - from) * (0.5 + f32::from(n) * 0.1);
        painter.vline(x, middle - 7.0..=middle + 7.0, Stroke::new(2.0, cx.p.edge));
    }
    painter.vline(at(0.0), middle - tall..=middle + tall, Stroke::new(4.0, cx.p.ink));
    let small = Hand::medium(cx.g.pick(15.0, 19.0), cx.p.pale);
    let below = |x: f32, text: &str| {
        let wide = width(painter, &small, text);
        let below =
            row(x - wide / 2.0 - 1.0, x + wide / 2.0 + 1.0, rect.bottom() - cx.g.pick(9.0, 13.0), 10.0);
        put(painter, below, Align::Center, small, text);
    };
    let clear = |x: f32| start.is_none_or(|start| (at(start) - x).abs() > 150.0);
    if cx.g.roomy() && limits.is_empty() && clear(at(0.0)) {
        let text = match point.kind() {
            PointKind::Level | PointKind::Cross => "no limit in the plan".to_owned(),
            _ => format!("design {}", words::signed_unit(angles, design, 2)),
        };
        below(at(0.0), &text);
    }
    for limit in &limits {
        painter.vline(at(*limit), middle - tall..=middle + tall, Stroke::new(3.0, cx.p.control));
        if cx.g.roomy() {
            below(at(*limit), &words::signed_unit(angles, design + *limit, 2));
        }
    }
    if let Some(start) = start {
        painter.circle(pos2(at(start), middle), cx.g.pick(8.0, 13.0), cx.p.sheet, Stroke::new(3.0, cx.p.ink));
        let clear = limits.iter().all(|l| (at(*l) - at(start)).abs() > 80.0) || !cx.g.roomy();
        if clear {
            let value = words::signed_unit(angles, design + start, shown::step_decimals(wing.live.step()));
            below(at(start), &if cx.g.roomy() { format!("start {value}") } else { "start".to_owned() });
        }
    }
    if let Some(tilt) = tilt {
        let (x, r) = (at(tilt), cx.g.pick(11.0, 18.0));
        let tip = pos2(x, middle - 2.0);
        let points = vec![tip, tip + egui::vec2(-r, -1.75 * r), tip + egui::vec2(r, -1.75 * r)];
        painter.add(Shape::convex_polygon(points, cx.p.ink, Stroke::NONE));
    }
    let said = tilt.map_or_else(|| "nothing live".to_owned(), |t| words::signed_unit(angles, design + t, 2));
    // A station's tilt has no limits of its own: it is judged with the whole wing.
    let limits = match (lower, upper) {
        (None, None) => "no limits of its own".to_owned(),
        _ => words::limit(angles, lower, upper),
    };
    name(ui, rect, "scale", &format!("{said}, {limits}"));
}
