//! The evidence behind one obligation.

use crate::draw::button::Button;
use crate::draw::marks;
use crate::draw::shape::frame;
use crate::draw::text::{Hand, name, put, row};
use crate::model::Wing;
use crate::pages::{Ask, FilesFor, Page, Then, WordsFor};
use crate::reads::board::{Item, Part};
use crate::reads::evidence::{self, Line, OnScale};
use crate::screens::chart::Span;
use crate::screens::{Cx, Screen, pair_row};
use crate::state::Nav;
use crate::words;
use assess::view::WingView;
use egui::{Align, Rangef, Rect, Shape, Stroke, Ui, pos2};

pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>, item: &Item, count: usize) {
    let x = cx.g.body();
    let bar = cx.g.title(x);
    let size = cx.g.pick(46.0, 64.0);
    marks::draw(
        ui.painter(),
        &cx.p,
        pos2(bar.left() + size / 2.0, bar.center().y),
        size,
        item.of.state.into(),
    );
    let word = item.of.state.obligation_word();
    let title_x = Rangef::new(x.min + size + 18.0, x.max);
    let of = format!("{} of {count}", cx.s.gate.row + 1);
    crate::screens::title(ui, cx, title_x, &item.title(), [word, &of]);
    let middle = cx.g.middle(x);
    let mut top = middle.top();
    if let Some(value) = evidence::value(wing, item) {
        let rect =
            Rect::from_min_max(pos2(middle.left(), top), pos2(middle.right(), top + cx.g.pick(96.0, 150.0)));
        scale(ui, wing, cx, rect, item, &value);
        top = rect.bottom() + cx.g.pick(8.0, 20.0);
    }
    let wings = cx.index().part(cx.s.gate.part) == Part::Wings;
    let of_wing = wing.assessment.wings.iter().find(|w| wings && w.name == item.of.about);
    let lines = of_wing.map_or_else(|| evidence::lines(wing, item), |w| evidence::of_wing(wing, w));
    let area = crate::screens::notice_below(ui, cx, middle.with_min_y(top));
    table(ui, cx, area, &lines);
    buttons(ui, wing, cx, item, of_wing, count);
}

/// The lines, a page at a time if they do not fit.
fn table(ui: &Ui, cx: &mut Cx<'_>, area: Rect, lines: &[Line]) {
    let pitch = cx.g.pick(36.0, 44.0);
    let fit = |height: f32| crate::grid::fit(height, pitch, 0.0);
    let all = lines.len() <= fit(area.height());
    let most = if all { lines.len() } else { fit(area.height() - 56.0) };
    if cx.s.gate.line >= lines.len() {
        cx.s.gate.line = 0;
    }
    for (i, line) in lines.iter().skip(cx.s.gate.line).take(most).enumerate() {
        let at = row(area.left(), area.right(), area.top() + pitch * (i as f32 + 0.5), 24.0);
        pair_row(ui, cx, at, &line.left, &line.right);
    }
    if all {
        return;
    }
    let rect =
        Rect::from_min_max(pos2(area.right() - cx.g.pick(220.0, 280.0), area.bottom() - 50.0), area.max);
    let last = (cx.s.gate.line + most).min(lines.len());
    let second = format!("{} to {last} of {}", cx.s.gate.line + 1, lines.len());
    let text = if last < lines.len() { "More lines" } else { "First lines" };
    let on = Button::new(rect, text, cx.g.pick(20.0, 24.0)).second(&second).named("More lines").show(ui);
    match cx.s.nav {
        Some(Nav::PageDown) if last < lines.len() => cx.s.gate.line = last,
        Some(Nav::PageUp) => cx.s.gate.line = cx.s.gate.line.saturating_sub(most),
        _ if on => cx.s.gate.line = if last < lines.len() { last } else { 0 },
        _ => {}
    }
}

/// The value with its 95 % bar against its limits; what lies beyond them is drawn in the well's colour.
fn scale(ui: &Ui, wing: &Wing, cx: &Cx<'_>, rect: Rect, item: &Item, v: &OnScale) {
    let painter = ui.painter();
    let p = cx.p;
    let limits: Vec<f64> = [v.lower, v.upper].into_iter().flatten().collect();
    let Span { from: low, to: high } = Span::over(v.ends.into_iter().chain([0.0]).chain(limits.clone()));
    let room = (high - low).max(1e-6) * 0.15;
    let (low, high) = (low - room, high + room);
    let inner = rect.shrink(4.0);
    #[expect(clippy::cast_possible_truncation, reason = "a place on the screen")]
    let at = |value: f64| inner.left() + inner.width() * ((value - low) / (high - low)) as f32;
    frame(painter, rect, p.well, Stroke::NONE);
    let from = v.lower.map_or(inner.left(), at);
    let to = v.upper.map_or(inner.right(), at);
    painter.rect_filled(Rect::from_min_max(pos2(from, rect.top()), pos2(to, rect.bottom())), 0.0, p.sheet);
    frame(painter, rect, egui::Color32::TRANSPARENT, Stroke::new(1.5, p.rule));
    let y = rect.top() + rect.height() * 0.5;
    painter.hline(inner.left() + 10.0..=inner.right() - 10.0, y, Stroke::new(2.0, p.edge));
    for limit in &limits {
        let x = at(*limit);
        painter.extend(Shape::dashed_line(
            &[pos2(x, rect.top() + 2.0), pos2(x, rect.bottom() - 2.0)],
            Stroke::new(3.0, p.ink),
            8.0,
            5.0,
        ));
    }
    let bar = Stroke::new(4.0, p.ink);
    painter.hline(at(v.ends[0])..=at(v.ends[1]), y, bar);
    for end in v.ends {
        painter.vline(at(end), y - 11.0..=y + 11.0, bar);
    }
    marks::draw(painter, &p, pos2(at(v.value), y), cx.g.pick(22.0, 28.0), item.of.state.into());
    let text = words::judged(wing.scale(v.kind), v.value, v.u, [v.lower, v.upper]);
    let hand = Hand::heavy(cx.g.pick(19.0, 24.0), p.ink);
    let wide = crate::draw::text::width(painter, &hand, &text);
    let left = (at(v.value) - wide / 2.0)
        .clamp(rect.left() + 8.0, (rect.right() - wide - 8.0).max(rect.left() + 8.0));
    put(painter, row(left, rect.right() - 4.0, rect.bottom() - 14.0, 12.0), Align::Min, hand, &text);
    let limit = words::limit(wing.scale(v.kind), v.lower, v.upper);
    let above = row(rect.left() + 12.0, rect.right() - 12.0, rect.top() + 15.0, 12.0);
    put(painter, above, Align::Max, Hand::medium(cx.g.pick(19.0, 22.0), p.ink), &limit);
    name(ui, rect, "scale", &format!("{text}, {limit}"));
}

fn buttons(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, item: &Item, of_wing: Option<&WingView>, count: usize) {
    let cell = cx.g.split(cx.g.buttons(cx.g.body()), cx.g.gap(), [92.0, 108.0, 84.0, 128.0, 236.0]);
    let size = cx.g.pick(24.0, 30.0);
    if Button::new(cell[0], "Back", size).show(ui) {
        cx.s.gate.evidence = false;
    }
    let first = (cx.s.gate.row == 0).then_some("first");
    if Button::new(cell[1], "Previous", size).unless(first).show(ui) {
        (cx.s.gate.row, cx.s.gate.line) = (cx.s.gate.row - 1, 0);
    }
    let last = (cx.s.gate.row + 1 >= count).then_some("last");
    if Button::new(cell[2], "Next", size).unless(last).show(ui) {
        (cx.s.gate.row, cx.s.gate.line) = (cx.s.gate.row + 1, 0);
    }
    if let Some(of) = of_wing {
        return take_up(ui, wing, cx, Rect::from_min_max(cell[3].min, cell[4].max), of);
    }
    let point = point_of(wing, cx, item);
    let why = if wing.read_only { Some("read only") } else { point.is_none().then_some("no point") };
    if Button::new(cell[3], "Reworked…", size).named("Reworked").unless(why).show(ui)
        && let Some(point) = point
    {
        return cx.s.write(WordsFor::Rework(point), "");
    }
    do_about(ui, wing, cx, cell[4], item);
}

/// Takes up the log of a wing built in a jig, or takes it up again.
fn take_up(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, rect: Rect, of: &WingView) {
    let text = if of.taken.is_some() { "Take up its log again" } else { "Take up its log" };
    let why = cx.unwritable();
    let at = wing.plan.rigging.wings.iter().position(|w| w.name == of.name);
    if Button::new(rect, text, cx.g.pick(26.0, 34.0)).named("Take up its log").main().unless(why).show(ui)
        && let Some(at) = at
    {
        crate::screens::more::open_files(cx, FilesFor::Wing(at));
    }
}

/// What can be done about it: measure again, or close the open item.
fn do_about(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, main: Rect, item: &Item) {
    use assess::view::ObligationKind as Kind;
    let size = cx.g.pick(26.0, 34.0);
    if item.of.kind == Kind::OpenItem {
        let why = wing.read_only.then_some("read only");
        if Button::new(main, "Close it, or carry it", size).main().unless(why).show(ui) {
            let about = &item.of.about;
            let why = |action| Then::Type(WordsFor::ItemReason(about.clone(), action));
            let words =
                "Closed: it was done. Carried past: it stays open on purpose; page 1 of the sheet says why.";
            let answers = [
                ("Leave it", Then::Nothing),
                ("Carry it past…", why(record::OpenAction::Carried)),
                ("It is closed…", why(record::OpenAction::Closed)),
            ];
            cx.s.open(Page::Ask(Ask::new(about, words, answers)));
        }
        return;
    }
    if item.of.kind == Kind::Record {
        if Button::new(main, "Compare with paper", size).main().show(ui) {
            cx.s.write(WordsFor::OnPaper, "");
        }
        return;
    }
    let point = point_of(wing, cx, item);
    let why = point.is_none().then_some("no point to measure");
    if Button::new(main, "Measure it again", size).main().unless(why).show(ui)
        && let Some(point) = point
    {
        cx.s.go(Screen::Measure);
        cx.s.turn_back(point);
    }
}

/// A point behind it: that of one of its readings, otherwise the point of that name.
fn point_of(wing: &Wing, cx: &Cx<'_>, item: &Item) -> Option<record::Point> {
    let entry = |seq: &u64| record::Entry::find(&wing.entries, *seq);
    let read = item.of.evidence.iter().rev().filter_map(entry).find_map(|e| e.what.reading());
    let read = read.map(|reading| reading.point.clone());
    let index = cx.index();
    read.or_else(|| item.of.about.parse().ok())
        .or_else(|| index.points.iter().find(|p| p.place() == item.of.about).cloned())
        .filter(|p| index.view(wing, p).is_some())
}
