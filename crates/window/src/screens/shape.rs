//! The rest of the geometry, one thing at a time: spars, spacing, bays, the shaft in its bushes, rows of holes;
//! values by
//! place, each with its 95 % bar, and the limit.

use super::chart::{At, Chart, Column, Span};
use super::measure::grows;
use super::{Cx, Screen, lines, notice};
use crate::draw::button::Button;
use crate::draw::marks::{self, Mark};
use crate::draw::shape::frame;
use crate::draw::text::{Hand, name, put, row};
use crate::model::Wing;
use crate::state::Nav;
use crate::words;
use assess::view::Judged;
use egui::{Align, Color32, Rangef, Rect, Stroke, Ui, pos2};
use quantity::Kind;
use quantity::shown::{K95, Scale};

struct Value {
    place: String,
    x: f64,
    y: f64,
    u: f64,
    mark: Mark,
}

struct Subject {
    name: String,
    words: String,
    mark: Mark,
    values: Vec<Value>,
    limits: [Option<f64>; 2],
    kind: Kind,
}

fn mark(j: &Judged) -> Mark {
    Mark::of(j.verdict)
}

fn said(wing: &Wing, j: &Judged) -> String {
    let scale = wing.scale(j.unit);
    format!(
        "{}, {}",
        words::judged(scale, j.value, j.u, [j.lower, j.upper]),
        words::limit(scale, j.lower, j.upper)
    )
}

impl Value {
    fn judged(place: &str, x: f64, j: &Judged) -> Self {
        Self { place: place.to_owned(), x, y: j.value, u: j.u, mark: mark(j) }
    }

    /// Its 95 % interval.
    fn column(&self) -> Column {
        Column { x: self.x, low: self.y - K95 * self.u, high: self.y + K95 * self.u }
    }

    /// One without a verdict of its own.
    fn bare(place: String, x: f64, y: f64, u: f64) -> Self {
        Self { place, x, y, u, mark: Mark::Unasked }
    }
}

impl Subject {
    /// One judged value that `values` show.
    fn of(name: &str, words: String, j: &Judged, values: Vec<Value>) -> Self {
        let limits = [j.lower, j.upper];
        Self { name: name.to_owned(), words, mark: mark(j), values, limits, kind: j.unit }
    }

    /// Values judged one by one; the worst speaks for them.
    fn of_each(wing: &Wing, name: &str, all: &[(&str, f64, &Judged)]) -> Option<Self> {
        let (place, _, worst) = all.iter().rev().max_by_key(|(.., j)| mark(j))?;
        let (.., first) = all.first()?;
        Some(Self {
            mark: mark(worst),
            values: all.iter().map(|(place, x, j)| Value::judged(place, *x, j)).collect(),
            ..Self::of(name, format!("{place}: {}", said(wing, worst)), first, Vec::new())
        })
    }
}

/// The rigged aeroplane: left beside right, then what stands alone.
fn rigged(wing: &Wing, out: &mut Vec<Subject>) {
    let a = &wing.assessment;
    let mut paired: Vec<&str> = Vec::new();
    for pair in &a.rig_pairs {
        let (Some(left), Some(right)) = (&pair.left, &pair.right) else { continue };
        paired.extend([left.what.as_str(), right.what.as_str()]);
        let difference = pair.difference.as_ref();
        let worst = mark(left).max(mark(right));
        let less = difference.map_or(String::new(), |d| format!("left less right {}", said(wing, d)));
        let values = vec![Value::judged("left", 0.0, left), Value::judged("right", 1.0, right)];
        let judged = difference.filter(|d| d.verdict.is_some());
        let mark = judged.map_or(worst, |d| worst.max(mark(d)));
        out.push(Subject { mark, ..Subject::of(&pair.name, less, left, values) });
    }
    for r in a.rigging.iter().filter(|r| !paired.contains(&r.name.as_str())) {
        let values = vec![Value::judged("", 0.0, &r.judged)];
        out.push(Subject::of(&r.name, said(wing, &r.judged), &r.judged, values));
    }
}

fn subjects(wing: &Wing) -> Vec<Subject> {
    let a = &wing.assessment;
    let mut out = Vec::new();
    for s in &a.spars {
        let zone = &s.minimum_zone;
        let offsets =
            s.offsets.iter().map(|o| Value::bare(o.station.clone(), o.span_mm, o.offset_mm, o.u_mm));
        let words = format!("minimum zone {}", said(wing, zone));
        // The zone lies evenly about the line from which the offsets are shown.
        out.push(Subject {
            limits: [zone.upper.map(|most| -most / 2.0), zone.upper.map(|most| most / 2.0)],
            ..Subject::of(&format!("{} spar", s.spar), words, zone, offsets.collect())
        });
    }
    let spacing: Vec<_> = a.spacing.iter().map(|s| (s.station.as_str(), s.design_mm, &s.deviation)).collect();
    out.extend(Subject::of_each(wing, "spacing", &spacing));
    let bays = a.bays.iter().enumerate().map(|(i, b)| (b.bay.as_str(), i as f64, &b.out_of_square));
    out.extend(Subject::of_each(wing, "bays", &bays.collect::<Vec<_>>()));
    if let Some(line) = &a.bore_line {
        let c = &line.clearance;
        let bushes = line.bushes.iter().map(|b| Value::bare(b.bush.clone(), b.span_mm, b.clearance_mm, c.u));
        let advice = line.advice.first().map_or(String::new(), |w| format!("; {w}"));
        let words = format!("least clearance {}{advice}", said(wing, c));
        out.push(Subject::of(&line.shaft, words, c, bushes.collect()));
    }
    rigged(wing, &mut out);
    for r in &a.rows {
        let (scale, places) = (wing.scale(r.unit), words::usual_decimals(r.unit));
        let [mean, spread] = [r.mean, r.spread].map(|v| words::with_unit(scale, v, places));
        let holes =
            r.values.iter().map(|v| Value::bare(v.place.to_string(), f64::from(v.place), v.value, 0.0));
        out.push(Subject {
            name: r.row.clone(),
            words: format!("mean {mean}, spread {spread}"),
            mark: Mark::Unasked,
            values: holes.collect(),
            limits: [None, None],
            kind: r.unit,
        });
    }
    out
}

pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let x = cx.g.body();
    let all = subjects(wing);
    if all.is_empty() {
        super::title(ui, cx, x, "Nothing measured yet", ["", ""]);
        let text = "Straightness, spacing, squareness, the shaft in its bushes and rows of holes appear here once they are measured.";
        lines(ui, cx.g.middle(x), cx.heavy(30.0, 38.0).least(20.0), "empty", text, 3);
    } else {
        subject(ui, wing, cx, &all);
    }
    let bar = cx.g.buttons(x);
    let main = bar.with_min_x(bar.right() - cx.g.pick(216.0, 336.0));
    if Button::new(main, "Gate", cx.g.pick(28.0, 36.0)).named("Go to the gate").main().show(ui) {
        cx.s.go(Screen::Gate);
    }
}

fn subject(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, all: &[Subject]) {
    let x = cx.g.body();
    let last = all.len() - 1;
    match cx.s.nav {
        Some(Nav::Right | Nav::Down | Nav::PageDown) => cx.s.top += 1,
        Some(Nav::Left | Nav::Up | Nav::PageUp) => cx.s.top = cx.s.top.saturating_sub(1),
        _ => {}
    }
    cx.s.top = cx.s.top.min(last);
    let Some(s) = all.get(cx.s.top) else { return };
    let bar = cx.g.title(x);
    let size = cx.g.pick(40.0, 56.0);
    marks::draw(ui.painter(), &cx.p, pos2(bar.left() + size / 2.0, bar.center().y), size, s.mark);
    let count = format!("{} of {}", cx.s.top + 1, all.len());
    super::title(ui, cx, Rangef::new(x.min + size + 16.0, x.max), &s.name, [s.mark.word(), &count]);
    let middle = cx.g.middle(x);
    chart(ui, wing, cx, middle, s);
    let buttons = cx.g.buttons(x);
    let wide = cx.g.pick(120.0, 150.0);
    let [a, b] = cx.g.split(buttons.with_max_x(buttons.left() + 2.0 * wide + 8.0), 8.0, [1.0, 1.0]);
    let size = cx.g.pick(24.0, 30.0);
    if Button::new(a, "Previous", size).unless((cx.s.top == 0).then_some("first")).show(ui) {
        cx.s.top -= 1;
    }
    if Button::new(b, "Next", size).unless((cx.s.top == last).then_some("last")).show(ui) {
        cx.s.top += 1;
    }
}

/// What the numbers, the bars and the dashed lines are.
fn key(s: &Subject, scale: Scale) -> String {
    let bars = if s.values.iter().any(|v| v.u > 0.0) { ", bars 95 %" } else { "" };
    let limits = if s.limits == [None, None] { "" } else { ", dashed: limit" };
    format!("in {}{bars}{limits}", scale.unit().symbol())
}

fn chart(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, middle: Rect, s: &Subject) {
    let line = Rect::from_min_max(middle.min, pos2(middle.right(), middle.top() + cx.g.pick(44.0, 60.0)));
    if !notice(ui, cx, line) {
        lines(ui, line, Hand::medium(cx.g.pick(20.0, 24.0), cx.p.ink).least(15.0), "words", &s.words, 2);
    }
    let rect = Rect::from_min_max(
        pos2(middle.left() + 60.0, line.bottom() + 6.0),
        pos2(middle.right(), middle.bottom() - cx.g.pick(56.0, 66.0)),
    );
    frame(ui.painter(), rect, cx.p.sheet, Stroke::new(1.5, cx.p.rule));
    if s.values.is_empty() {
        return;
    }
    let scale = wing.scale(s.kind);
    let xs = s.values.iter().map(|v| v.x);
    let Span { from, to } = Span::over(xs);
    let span = if to > from { Span { from, to } } else { Span { from: from - 1.0, to: from + 1.0 } };
    let limits: Vec<f64> = s.limits.into_iter().flatten().collect();
    let ys = s.values.iter().flat_map(|v| [v.column().low, v.column().high]).chain(limits.iter().copied());
    let mut chart = Chart::around(rect, span, ys, grows(wing, cx), scale);
    chart.leave_a_row();
    let painter = ui.painter();
    chart.lines(painter, cx, &[]);
    for limit in &limits {
        chart.limit(painter, cx, *limit);
    }
    // A line is drawn if the values together are one shape, not if each is judged by itself.
    let shape = s.values.iter().all(|v| v.mark == Mark::Unasked);
    if shape && s.values.len() <= 60 && s.mark != Mark::Unasked {
        chart.curve(painter, s.values.iter().map(|v| At { x: v.x, y: v.y }), Stroke::new(1.5, cx.p.control));
    }
    let mut last: Option<f32> = None;
    let places = scale.decimals(words::usual_decimals(s.kind));
    let shown = |y: f64| words::minus(&scale.signed(y, places));
    for v in &s.values {
        let at = chart.at(v.x, v.y);
        if v.u > 0.0 {
            chart.bar(painter, v.column(), cx.p.ink);
        }
        match v.mark {
            Mark::Unasked => {
                painter.circle_filled(at, 5.0, cx.p.ink);
            }
            mark => marks::draw(painter, &cx.p, at, 17.0, mark),
        }
        if last.is_some_and(|l| (l - at.x).abs() < 54.0) {
            continue;
        }
        last = Some(at.x);
        let line =
            |n: f32| row(at.x - 27.0, at.x + 27.0, rect.bottom() + 16.0 + cx.g.pick(24.0, 28.0) * n, 14.0);
        let hand = Hand::heavy(cx.g.pick(18.0, 20.0), cx.p.ink).least(15.0);
        put(painter, line(0.0), Align::Center, hand, &v.place);
        let hand = Hand::medium(cx.g.pick(17.0, 19.0), cx.p.ink).least(15.0);
        put(painter, line(1.0), Align::Center, hand, &shown(v.y));
    }
    frame(painter, rect, Color32::TRANSPARENT, Stroke::new(1.5, cx.p.rule));
    let key = key(s, scale);
    let at = row(rect.left() + 8.0, rect.right() - 8.0, rect.top() + 15.0, 12.0);
    put(painter, at, Align::Max, Hand::medium(cx.g.pick(16.0, 18.0), cx.p.ink), &key);
    let all: Vec<String> = s.values.iter().take(60).map(|v| format!("{} {}", v.place, shown(v.y))).collect();
    name(ui, rect, "chart", &all.join(", "));
}
