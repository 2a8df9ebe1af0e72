//! The twist by its stations: each by its own readings with its 95 % bar; the curve and its band only show the shape.

use super::chart::{At, Chart, Column, Span};
use super::measure::{grows, tip_left};
use super::{Cx, Screen, notice};
use crate::draw::button::Button;
use crate::draw::marks::{self, Mark};
use crate::draw::shape::frame;
use crate::draw::text::{Hand, LEAST, Weight, name, put, row, say, width};
use crate::model::Wing;
use crate::reads::index::{Count, Tally};
use crate::state::Nav;
use crate::words;
use assess::view::{Finding, StationView, Twist, Verdict};
use egui::{Align, Color32, Rangef, Rect, Stroke, Ui, pos2, vec2};
use quantity::shown::Scale;

pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let x = cx.g.body();
    let Some(twist) = &wing.assessment.twist else {
        super::title(ui, cx, x, "Nothing to show before two stations are measured", ["", ""]);
        let main = cx.g.buttons(x);
        if Button::new(main, "Measure", cx.g.pick(28.0, 36.0)).named("Go and measure").main().show(ui) {
            cx.s.go(Screen::Measure);
        }
        return;
    };
    let shown: Vec<&StationView> = twist.stations.iter().filter(|s| s.twist_error_deg.is_some()).collect();
    follow(wing, cx, shown.len());
    head(ui, wing, cx, twist);
    chart(ui, wing, cx, twist, &shown);
    foot(ui, wing, cx, twist, &shown);
}

fn follow(wing: &Wing, cx: &mut Cx<'_>, count: usize) {
    cx.s.station = cx.s.station.min(count.saturating_sub(1));
    if let Some(nav @ (Nav::Left | Nav::Right)) = cx.s.nav {
        go(wing, cx, nav, count);
    }
}

/// Goes to the station beside the one chosen, as the wing lies before you.
fn go(wing: &Wing, cx: &mut Cx<'_>, to: Nav, count: usize) {
    let outboard = (to == Nav::Left) == tip_left(wing, cx);
    let next = if outboard { cx.s.station + 1 } else { cx.s.station.saturating_sub(1) };
    cx.s.station = next.min(count.saturating_sub(1));
}

fn head(ui: &Ui, wing: &Wing, cx: &Cx<'_>, twist: &Twist) {
    let bar = cx.g.title(cx.g.body());
    let hand = Hand::medium(20.0, cx.p.ink).least(15.0);
    let pale = Hand { colour: cx.p.pale, ..hand };
    // Where there is room: the two values of the whole wing.
    let ([first, second], below, most) = if cx.g.roomy() {
        let whole = [("washout error", &twist.washout_error), ("setting", &twist.setting)];
        (whole.map(|(name, found)| of_the_wing(wing, name, found)), hand, 0.4)
    } else {
        let limits = words::limit(wing.angles(), twist.lower_deg, twist.upper_deg);
        (["twist error by station".to_owned(), limits], pale, 0.34)
    };
    let wide = |hand: &Hand, text: &str| width(ui.painter(), hand, text);
    let aside = wide(&hand, &first).max(wide(&below, &second)).min(bar.width() * most);
    let right = Rect::from_min_max(pos2(bar.right() - aside - 1.0, bar.top()), bar.max);
    let [a, b] = super::halves(right, 0.26, 0.64);
    say(ui, a, Align::Max, hand, "title", &first);
    say(ui, b, Align::Max, below, "limits", &second);
    counts(ui, cx, bar.with_max_x(right.left() - 12.0), &cx.index().profile);
}

/// `washout error −0.38 ± 0.05°, limit ±0.25°`; instead of the limit, why the value proves nothing.
fn of_the_wing(wing: &Wing, name: &str, found: &Finding) -> String {
    let j = match found {
        Finding::Judged(j) => j,
        Finding::Not(_) => return format!("{name} not known"),
    };
    let value = words::judged(wing.angles(), j.value, j.u, [j.lower, j.upper]);
    match j.verdict {
        Some(proven @ (Verdict::Stale | Verdict::Doubtful | Verdict::Missing | Verdict::CannotJudge)) => {
            format!("{name} {value}, {}", proven.word())
        }
        _ => format!("{name} {value}, {}", words::limit(wing.angles(), j.lower, j.upper)),
    }
}

/// How many of each, the worst first.
fn counts(ui: &Ui, cx: &Cx<'_>, bar: Rect, tally: &Tally) {
    let middle = bar.top() + bar.height() * 0.42;
    let mut x = bar.left();
    let share = bar.width() / tally.of.len().max(1) as f32;
    let mut hand = cx.heavy(32.0, 44.0).least(16.0);
    let (full, largest) = (hand.size, cx.g.pick(25.0, 34.0));
    // A mark and the gaps beside it shrink with its words.
    let mark_size = |hand: &Hand| largest * hand.size / full;
    let need =
        |hand: &Hand, text: &str| width(ui.painter(), hand, text) + mark_size(hand) + 28.0 * hand.size / full;
    let whole = |hand: &Hand| -> f32 {
        tally.of.iter().map(|c| need(hand, &format!("{} {}", c.n, c.mark.word()))).sum()
    };
    // If they do not fit side by side all are written smaller, and all equally.
    while whole(&hand) > bar.width() && hand.size > hand.least {
        hand.size -= 1.0;
    }
    let (fits, size, shrunk) = (whole(&hand) <= bar.width(), mark_size(&hand), hand.size / full);
    for Count { mark, n } in &tally.of {
        marks::draw(ui.painter(), &cx.p, pos2(x + size / 2.0, middle), size, *mark);
        let text = format!("{n} {}", mark.word());
        let wide = if fits { need(&hand, &text) } else { share };
        let at = row(x + size + 8.0 * shrunk, x + wide - 10.0 * shrunk, middle, 24.0);
        say(ui, at, Align::Min, hand, mark.word(), &text);
        x += wide;
    }
}

fn chart(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, twist: &Twist, shown: &[&StationView]) {
    let Rangef { min: left, max: right } = cx.g.body();
    let y = cx.g.pick(68.0, 120.0)..=cx.g.buttons_y().min - cx.g.pick(90.0, 110.0);
    let rect = cx.g.rect(left + 48.0..=right, y);
    let (lower, upper) = (twist.lower_deg, twist.upper_deg);
    let values =
        shown.iter().flat_map(|s| [column(s).low, column(s).high]).chain(lower).chain(upper).chain([0.0]);
    let spans = twist.stations.iter().map(|s| s.span_mm);
    let span = Span::over(spans);
    let mut chart = Chart::around(rect, span, values, grows(wing, cx), wing.angles());
    chart.leave_a_row();
    let painter = ui.painter_at(rect);
    painter.rect_filled(rect, 6.0, cx.p.well);
    let edge = |limit: Option<f64>, or: f32| limit.map_or(or, |v| chart.at(span.from, v).y);
    let inside = rect.with_min_y(edge(upper, rect.top())).with_max_y(edge(lower, rect.bottom()));
    painter.rect_filled(inside, 0.0, cx.p.sheet);
    let limits: Vec<f64> = [lower, upper].into_iter().flatten().collect();
    let taken: Vec<f64> = limits.iter().copied().chain([0.0]).collect();
    chart.lines(ui.painter(), cx, &taken);
    for v in &taken {
        chart.label(ui.painter(), cx, chart.scale.number(*v), chart.scale.decimals(2), Weight::Heavy);
    }
    let band = twist.band.iter().map(|b| {
        let (low, high) = (b.fit_deg - b.simultaneous_deg, b.fit_deg + b.simultaneous_deg);
        Column { x: b.span_mm, low, high }
    });
    chart.band(&painter, band, cx.p.soft);
    painter.hline(rect.x_range(), chart.at(span.from, 0.0).y, Stroke::new(2.0, cx.p.ink));
    let curve = twist.band.iter().map(|b| At { x: b.span_mm, y: b.fit_deg });
    chart.curve(&painter, curve, Stroke::new(3.0, cx.p.control));
    for limit in &limits {
        chart.limit(&painter, cx, *limit);
    }
    for s in shown {
        let v = s.twist_error_deg.unwrap_or(0.0);
        chart.bar(&painter, column(s), cx.p.ink);
        marks::draw(&painter, &cx.p, chart.at(s.span_mm, v), 17.0, Mark::of(s.verdict));
    }
    frame(ui.painter(), rect, Color32::TRANSPARENT, Stroke::new(1.5, cx.p.rule));
    legend(ui, cx, rect);
    numbers(ui, cx, &chart, shown, rect.bottom(), wing.angles());
    unmeasured(ui, wing, cx, &chart, twist, rect.bottom());
    name(ui, rect, "chart", "twist error by station, each by its own readings");
}

/// A station's 95 % interval.
fn column(s: &StationView) -> Column {
    let v = s.twist_error_deg.unwrap_or(0.0);
    Column { x: s.span_mm, low: s.lower95_deg.unwrap_or(v), high: s.upper95_deg.unwrap_or(v) }
}

fn legend(ui: &Ui, cx: &Cx<'_>, rect: Rect) {
    let hand = Hand::medium(cx.g.pick(16.0, 18.0), cx.p.ink);
    let middle = rect.top() + 15.0;
    let painter = ui.painter();
    let mut right = rect.right() - 8.0;
    let bars = "own readings, 95 %";
    put(painter, row(rect.left(), right, middle, 12.0), Align::Max, hand, bars);
    right -= width(painter, &hand, bars) + 14.0;
    painter.vline(right, middle - 7.0..=middle + 7.0, Stroke::new(2.5, cx.p.ink));
    for y in [middle - 7.0, middle + 7.0] {
        painter.hline(right - 6.0..=right + 6.0, y, Stroke::new(2.5, cx.p.ink));
    }
    right -= 22.0;
    let curve = "fitted shape, 95 %";
    put(painter, row(rect.left(), right, middle, 12.0), Align::Max, hand, curve);
    right -= width(painter, &hand, curve) + 8.0;
    painter.hline(right - 30.0..=right, middle, Stroke::new(3.0, cx.p.control));
}

/// Names and numbers under their stations, all of one size; if stations are too close together some are left out, and
/// the foot shows them.
fn numbers(ui: &Ui, cx: &mut Cx<'_>, chart: &Chart, shown: &[&StationView], below: f32, angles: Scale) {
    let high = cx.g.pick(64.0, 76.0);
    let top = below + 3.0;
    let size = cx.g.pick(18.0, 21.0);
    let places: Vec<f32> = shown.iter().map(|s| chart.at(s.span_mm, 0.0).x).collect();
    let text =
        |s: &StationView| words::minus(&angles.signed(s.twist_error_deg.unwrap_or(0.0), angles.decimals(2)));
    let small = Hand::medium(LEAST, cx.p.ink);
    let least = shown.iter().map(|s| width(ui.painter(), &small, &text(s))).fold(34.0, f32::max) + 6.0;
    let written = spread(&places, cx.s.station, least);
    let room = written.windows(2).filter_map(|w| Some((places.get(w[0])? - places.get(w[1])?).abs()));
    let room = room.fold(200.0, f32::min);
    let size = size.min(LEAST * (room - 6.0) / (least - 6.0)).max(LEAST);
    for i in written {
        let (Some(s), Some(x)) = (shown.get(i), places.get(i)) else { continue };
        // A name has the room up to its neighbours', and the window ends after the last one.
        let free = (room / 2.0 - 4.0).min(ui.ctx().content_rect().right() - 6.0 - x);
        let of = |hand: Hand, text: &str| width(ui.painter(), &hand, text);
        let own = of(Hand::medium(size, cx.p.ink), &text(s));
        let own = own.max(of(Hand::heavy(size, cx.p.ink), &s.name).min(2.0 * free)) + 10.0;
        let half = room.clamp(38.0, 64.0).max(own) / 2.0 - 1.0;
        let rect = Rect::from_min_max(pos2(x - half, top), pos2(x + half, top + high));
        if i == cx.s.station {
            Button::new(rect, "", size).chosen_if(true).face(ui);
        }
        let line = |free: f32, share: f32| row(x - free, x + free, top + high * share, 14.0);
        let hand = Hand::heavy(size, cx.p.ink).least(LEAST);
        put(ui.painter(), line(free, 0.32), Align::Center, hand, &s.name);
        let hand = Hand::medium(size, cx.p.ink).least(LEAST);
        put(ui.painter(), line(room / 2.0, 0.70), Align::Center, hand, &text(s));
    }
    // Stations may be close together: they share one target, and the nearest to the finger is chosen.
    let all = Rect::from_min_max(pos2(chart.rect.left(), top), pos2(chart.rect.right(), top + high));
    let response = Button::new(all, "Stations", size).target(ui);
    if let Some(at) = response.interact_pointer_pos().filter(|_| response.clicked()) {
        let near = |(_, x): &(usize, &f32)| (*x - at.x).abs();
        let nearest = places.iter().enumerate().min_by(|a, b| near(a).total_cmp(&near(b)));
        cx.s.station = nearest.map_or(cx.s.station, |(i, _)| i);
    }
}

/// Which of these places are labelled: the chosen one, and as many others as are that far apart.
fn spread(places: &[f32], chosen: usize, least: f32) -> Vec<usize> {
    let here = places.get(chosen).copied();
    let mut last: Option<f32> = None;
    let mut out = Vec::new();
    for (i, x) in places.iter().enumerate() {
        let near = |other: Option<f32>| other.is_some_and(|other| (other - x).abs() < least);
        if i == chosen || !(near(last) || near(here)) {
            last = Some(*x);
            out.push(i);
        }
    }
    out
}

/// The stations that no value is of, each with the mark that says why.
fn unmeasured(ui: &Ui, wing: &Wing, cx: &Cx<'_>, chart: &Chart, twist: &Twist, below: f32) {
    let index = cx.index();
    let high = cx.g.pick(64.0, 76.0);
    let size = cx.g.pick(18.0, 21.0);
    let mut last = f32::NEG_INFINITY;
    for s in twist.stations.iter().filter(|s| s.twist_error_deg.is_none()) {
        let x = chart.at(s.span_mm, 0.0).x;
        if (x - last).abs() < 40.0 {
            continue;
        }
        last = x;
        let own = |p: &&record::Point| {
            p.place() == s.name && p.kind().row().design == record::point::Design::Incidence
        };
        let mark = index.points.iter().find(own).map_or(Mark::Of(Verdict::Missing), |p| index.mark(wing, p));
        let at = row(x - 26.0, x + 26.0, below + 3.0 + high * 0.32, 14.0);
        put(ui.painter(), at, Align::Center, Hand::heavy(size, cx.p.pale).least(15.0), &s.name);
        marks::draw(ui.painter(), &cx.p, pos2(x, below + 3.0 + high * 0.70), 17.0, mark);
    }
}

fn foot(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, twist: &Twist, shown: &[&StationView]) {
    let bar = cx.g.buttons(cx.g.body());
    let wide = cx.g.pick(56.0, 80.0);
    let left = bar.with_max_x(bar.left() + wide);
    if Button::new(left, "‹", 34.0).named("Station left").show(ui) {
        go(wing, cx, Nav::Left, shown.len());
    }
    let right = left.translate(vec2(wide + 8.0, 0.0));
    if Button::new(right, "›", 34.0).named("Station right").show(ui) {
        go(wing, cx, Nav::Right, shown.len());
    }
    let main = bar.with_min_x(bar.right() - cx.g.pick(216.0, 336.0));
    if Button::new(main, "What to turn", cx.g.pick(28.0, 36.0)).main().show(ui) {
        cx.s.go(Screen::Moves);
    }
    let middle = bar.with_min_x(right.right() + 14.0).with_max_x(main.left() - 12.0);
    if notice(ui, cx, middle) {
        return;
    }
    let Some(s) = shown.get(cx.s.station) else { return };
    let [a, b] = super::halves(middle, 0.3, 0.74);
    let mark = Mark::of(s.verdict);
    marks::draw(ui.painter(), &cx.p, pos2(a.left() + 11.0, a.center().y), 22.0, mark);
    let (lower, upper) = (twist.lower_deg, twist.upper_deg);
    let value = words::judged(
        wing.angles(),
        s.twist_error_deg.unwrap_or(0.0),
        s.u_deg.unwrap_or(0.0),
        [lower, upper],
    );
    let text = format!("{} {value}, {}", s.name, words::limit(wing.angles(), lower, upper));
    name(ui, a, "station", &format!("{text}: {}", mark.word()));
    put(ui.painter(), a.with_min_x(a.left() + 30.0), Align::Min, cx.heavy(22.0, 26.0).least(15.0), &text);
    let how = if s.reversed { "both facings" } else { "one facing" };
    let measured = s
        .measured_deg
        .map_or(String::new(), |m| format!(", measured {}", words::signed_unit(wing.angles(), m, 2)));
    let decide = s.decide.as_ref().map_or(String::new(), |d| format!("; {d}"));
    let note =
        format!("{how}{measured}, design {}{decide}", words::signed_unit(wing.angles(), s.design_deg, 2));
    say(ui, b, Align::Min, cx.note(18.0, 21.0).least(15.0), "station note", &note);
}
