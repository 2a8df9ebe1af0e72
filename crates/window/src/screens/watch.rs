//! The drift watch: an instrument left on the jig.

use super::chart::{At, Chart, Column, Grows, Span};
use super::{Cx, lines, list, more, notice};
use crate::action::Action;
use crate::draw::button::Button;
use crate::draw::shape::frame;
use crate::draw::text::name;
use crate::model::Wing;
use crate::trace::Trace;
use crate::words;
use egui::{Color32, Rect, Stroke, Ui};
use quantity::shown::{self, Scale};
use record::{Point, What};

/// Width of a column of a thinned trace, in points of the screen; narrower ones could hardly be told apart.
const COLUMN: f32 = 2.0;

pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let x = cx.g.body();
    let point = wing.trace.as_ref().and_then(|t| t.point.clone()).or_else(|| cx.s.measuring.point.clone());
    let area = cx.g.middle(x);
    match &wing.trace {
        Some(trace) => {
            let scale = scale_of(wing, point.as_ref());
            let last = trace
                .last()
                .map_or(String::new(), |v| scale.map_or(String::new(), |s| words::signed_unit(s, v, 3)));
            let title = format!("{} {last}", point.as_ref().map_or("", Point::place));
            let samples = shown::counted(trace.samples(), "sample", "samples");
            super::title(ui, cx, x, &title, [&duration(trace.span_s()), &samples]);
            watched(ui, wing, cx, area, trace, scale);
        }
        None => {
            super::title(ui, cx, x, "Watch for drift", ["", ""]);
            recorded(ui, wing, cx, area);
        }
    }
    foot(ui, wing, cx, point);
}

fn scale_of(wing: &Wing, point: Option<&Point>) -> Option<Scale> {
    point.and_then(|p| wing.plan.quantity_of(p)).map(|kind| wing.scale(kind))
}

fn part_scale(wing: &Wing) -> Scale {
    wing.scale(quantity::Kind::Temperature)
}

/// What the watch has seen, thinned to the columns of the screen.
fn watched(ui: &Ui, wing: &Wing, cx: &Cx<'_>, area: Rect, trace: &Trace, scale: Option<Scale>) {
    let scale = scale.unwrap_or(wing.angles());
    let shifts = trace.shifts.len().min(2) as f32;
    let rect = area.with_min_x(area.left() + 60.0).with_max_y(area.bottom() - 30.0 * (shifts + 1.0));
    frame(ui.painter(), rect, cx.p.sheet, Stroke::new(1.5, cx.p.rule));
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "columns of a screen")]
    let places = (rect.width() / COLUMN).max(10.0) as usize;
    let columns = trace.columns(places);
    let values = columns.iter().flat_map(|c| [c.least, c.most]);
    let chart =
        Chart::around(rect, Span { from: 0.0, to: trace.span_s().max(1.0) }, values, Grows::Right, scale);
    let painter = ui.painter_at(rect.expand2(egui::vec2(60.0, 0.0)));
    chart.lines(&painter, cx, &[]);
    if trace.samples() * 2 <= places {
        let line = Stroke::new(1.5, cx.p.control);
        chart.curve(&painter, columns.iter().map(|c| At { x: c.seconds, y: c.least }), line);
    } else {
        let spread = columns.iter().map(|c| Column { x: c.seconds, low: c.least, high: c.most });
        chart.spread(&painter, spread, cx.p.control);
    }
    frame(ui.painter(), rect, Color32::TRANSPARENT, Stroke::new(1.5, cx.p.rule));
    name(ui, rect, "trace", &shown::counted(trace.samples(), "sample", "samples"));
    let mut notes: Vec<String> = trace
        .shifts
        .iter()
        .rev()
        .take(2)
        .map(|shift| {
            let by = words::signed_unit(scale, shift.size, 3);
            format!("{}: shifted by {by}. The level moved and stayed.", duration(shift.seconds))
        })
        .collect();
    if let (Some(first), Some(last)) = (trace.temperature.first(), trace.temperature.last()) {
        let [then, now] = [first, last].map(|t| words::with_unit(part_scale(wing), t.celsius, 1));
        notes.push(format!("Temperature {then} at the start, {now} now."));
    }
    for (i, text) in notes.iter().enumerate() {
        let top = rect.bottom() + 4.0 + 28.0 * i as f32;
        let at = Rect::from_min_max(egui::pos2(area.left(), top), egui::pos2(area.right(), top + 26.0));
        lines(ui, at, cx.note(19.0, 22.0).least(15.0), &format!("note {i}"), text, 1);
    }
}

fn duration(seconds: f64) -> String {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a length of time")]
    let s = seconds.max(0.0).round() as u64;
    match s {
        0..=119 => format!("{s} s"),
        120..=7199 => format!("{} min", s / 60),
        _ => format!("{} h {} min", s / 3600, s % 3600 / 60),
    }
}

fn recorded(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, area: Rect) {
    let rows: Vec<list::Row> = wing
        .entries
        .iter()
        .rev()
        .filter_map(|e| match &e.what {
            What::Drift { point, mean, least, most, samples, seconds, temperature, shift } => {
                let scale = scale_of(wing, Some(point)).unwrap_or(wing.angles());
                let bare = |v| words::minus(&scale.fixed(v, scale.decimals(3)));
                let title = format!("{} {}", point.place(), words::signed_unit(scale, *mean, 3));
                let range = format!("{} to {}", bare(*least), bare(*most));
                let warm = |t: quantity::Celsius| words::with_unit(part_scale(wing), t.value(), 1);
                let part = temperature.map_or(String::new(), |t| format!(", {}", warm(t)));
                let note = format!("{}, {range}, {samples} in {seconds} s{part}", words::written(e));
                let shift = shift.map_or(String::new(), |shift| {
                    format!("shift of {}", words::signed_unit(scale, shift.size, 3))
                });
                Some(list::Row::new(title, note).right(shift, ""))
            }
            _ => None,
        })
        .take(200)
        .collect();
    if rows.is_empty() {
        let text = "Leave an instrument on the jig over an hour or a night: what moves, and when, goes into the log.";
        lines(ui, area, cx.heavy(30.0, 38.0).least(20.0), "empty", text, 3);
    } else {
        list::show(ui, cx, area, &rows, cx.s.top, None);
    }
}

fn foot(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, point: Option<Point>) {
    let bar = cx.g.buttons(cx.g.body());
    let [a, b] = cx.g.split(bar, cx.g.gap(), [1.0, 2.0]);
    if notice(ui, cx, bar) {
        return;
    }
    let size = cx.g.pick(24.0, 30.0);
    if Button::new(a, "Port", size).second(wing.live.port_name().unwrap_or("none open")).show(ui) {
        more::open_port(wing, cx);
    }
    if wing.trace.is_some() {
        if Button::new(b, "End the watch", cx.g.pick(28.0, 36.0)).main().show(ui) {
            cx.ask(Action::Watch(None));
        }
        return;
    }
    let text = point.as_ref().map_or("Watch".to_owned(), |p| format!("Watch {}", p.place()));
    let why = match (&point, wing.live.port_name()) {
        (None, _) => Some("no point is chosen"),
        (_, None) => Some("open a port first"),
        _ => wing.read_only.then_some("read only"),
    };
    if Button::new(b, &text, cx.g.pick(28.0, 36.0)).named("Begin the watch").main().unless(why).show(ui) {
        cx.ask(Action::Watch(point));
    }
}
