//! Levelling a post: how far off, which foot, which way, how many turns. The whole screen; one hand is on a screw.

mod advice;
mod scale;

use super::measure::{self, Plate, quantity_of, take_button};
use super::{Cx, Screen, halves, notice, undo_button};
use crate::action::Action;
use crate::draw::arrows;
use crate::draw::button::Button;
use crate::draw::text::{name, put, row, say, width};
use crate::model::Wing;
use crate::model::live::{Levelling, Phase};
use crate::pages::{Page, TypeFor, Typing};
use crate::state::Nav;
use crate::words;
use egui::{Align, Rect, Stroke, Ui, pos2, vec2};
use record::{Facing, Point, PointKind};

/// A jig without posts.
pub fn none(ui: &mut Ui, cx: &mut Cx<'_>) {
    super::title(ui, cx, cx.g.body(), "No posts in the plan", ("", ""));
    let middle = cx.g.middle(cx.g.body());
    let line = middle.with_max_y(middle.top() + 60.0);
    say(
        ui,
        line,
        Align::Min,
        cx.note(24.0, 30.0),
        "no posts",
        "A jig without posts is levelled by other means.",
    );
}

/// The tilts there are, post by post, fore and aft before along the span.
fn tilts(wing: &Wing) -> Vec<Point> {
    let of =
        |post: &record::plan::Post| [PointKind::Cross, PointKind::Level].map(|k| Point::at(k, &post.name));
    wing.plan.posts.iter().flat_map(of).collect()
}

const fn is_tilt(p: &Point) -> bool {
    matches!(p.kind(), PointKind::Level | PointKind::Cross)
}

/// The screen.
pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let all = tilts(wing);
    let here = cx.s.measuring.point.clone().filter(|p| is_tilt(p) && all.contains(p));
    let Some(point) = here.or_else(|| first(wing, cx, &all)) else { return };
    if cx.s.measuring.point.as_ref() != Some(&point) {
        cx.s.choose(point.clone());
    }
    let at = all.iter().position(|p| *p == point).unwrap_or(0);
    match cx.s.nav {
        Some(Nav::Right | Nav::Down | Nav::PageDown) => choose(cx, all.get(at + 1)),
        Some(Nav::Left | Nav::Up | Nav::PageUp) => choose(cx, at.checked_sub(1).and_then(|i| all.get(i))),
        _ => {}
    }
    let now = (point.clone(), cx.s.measuring.facing);
    if wing.live.port.is_some() && cx.s.moving.told.as_ref() != Some(&now) {
        cx.ask(Action::Sit { point: point.clone(), facing: now.1 });
        cx.ask(Action::Level(Some(point.place().to_owned())));
        cx.s.moving.told = Some(now);
    }
    let levelling = wing.live.levelling.as_ref().filter(|l| l.point == point);
    title(ui, cx, &point, (at + 1, all.len()));
    value(ui, wing, cx, &point, levelling);
    advice::show(ui, wing, cx, &point, levelling);
    scale::show(ui, wing, cx, &point, levelling);
    buttons(ui, wing, cx, &point, levelling, &all, at);
}

/// The first tilt that is still wanted.
fn first(wing: &Wing, cx: &Cx<'_>, all: &[Point]) -> Option<Point> {
    let index = cx.index()?;
    let open = |p: &&Point| index.mark(wing, p) != crate::draw::marks::Mark::Met;
    all.iter().find(open).or(all.first()).cloned()
}

fn choose(cx: &mut Cx<'_>, to: Option<&Point>) {
    if let Some(point) = to {
        cx.s.choose(point.clone());
    }
}

/// Leaves the screen, and the loop with it.
pub fn leave(cx: &mut Cx<'_>) {
    cx.s.moving.told = None;
    cx.ask(Action::Level(None));
    cx.s.go(Screen::Measure);
}

fn title(ui: &Ui, cx: &mut Cx<'_>, point: &Point, (n, of): (usize, usize)) {
    let bar = cx.g.title(cx.g.whole());
    let painter = ui.painter();
    let back =
        Rect::from_min_size(bar.min, vec2(cx.g.pick(80.0, 136.0), bar.height().min(cx.g.pick(60.0, 80.0))));
    let second = if cx.g.roomy() { "Esc" } else { "" };
    if Button::new(back, "Leave", cx.g.pick(20.0, 26.0)).second(second).show(ui) {
        return leave(cx);
    }
    let facing = cx.s.measuring.facing;
    let words = format!("facing {}", facing.word());
    let hand = cx.heavy(43.0, 68.0).least(24.0);
    let arrow = cx.g.pick(32.0, 50.0);
    let wide = width(painter, &hand, &words) + arrow + 14.0;
    let right = bar.with_min_x(bar.right() - wide);
    put(painter, right.with_max_x(right.right() - arrow - 12.0), Align::Min, hand, &words);
    let along = if facing == Facing::Forward { arrows::UP } else { arrows::DOWN };
    arrows::straight(painter, pos2(right.right() - arrow * 0.42, bar.center().y), arrow, along, cx.p.ink);
    name(ui, right, "facing", &words);
    let left =
        Rect::from_min_max(pos2(back.right() + 18.0, bar.top()), pos2(right.left() - 14.0, bar.bottom()));
    let (kind, count) = (words::kind_words(point.kind()), format!("tilt {n} of {of}"));
    let (a, b) = (cx.heavy(24.0, 32.0).least(16.0), cx.note(20.0, 26.0).least(15.0));
    let aside = width(painter, &a, kind).max(width(painter, &b, &count));
    let post = put(
        painter,
        left.with_max_x(left.right() - aside - 16.0),
        Align::Min,
        cx.heavy(56.0, 88.0).least(30.0),
        point.place(),
    );
    name(ui, post, "place", point.place());
    let rest = Rect::from_min_max(pos2(post.right() + 16.0, bar.top()), pos2(left.right(), bar.bottom()));
    let (above, below) = halves(rest, 0.28, 0.72);
    say(ui, above, Align::Min, a, "kind", kind);
    say(ui, below, Align::Min, b, "tilt", &count);
}

/// The plate: the tilt with facing and zero taken out where a zero is known, else what the level shows.
fn value(ui: &Ui, wing: &Wing, cx: &Cx<'_>, point: &Point, levelling: Option<&Levelling>) {
    let (left, right) = cx.g.whole();
    let top = cx.g.pick(76.0, 120.0);
    let rect = cx.g.rect((left, right), (top, top + cx.g.pick(152.0, 264.0) + cx.g.spare()));
    let aside = cx.g.pick(134.0, 412.0);
    let roomy = cx.g.roomy();
    let plate_rect = if roomy { rect.with_max_x(rect.right() - aside) } else { rect };
    let inner = if roomy { plate_rect } else { rect.with_max_x(rect.right() - aside) };
    let mut plate = Plate::of(wing, cx, point);
    let taken = cx.s.measuring.taken.is_some();
    let tilt = levelling.and_then(|l| l.tilt).filter(|_| !taken && plate.figures());
    if let Some(tilt) = tilt {
        plate = plate
            .with_figures(words::signed(tilt, words::decimals(wing.live.step)), quantity_of(wing, point));
    }
    plate.frame_only(ui, cx, plate_rect);
    plate.fill(ui, cx, inner, plate.ink(cx));
    name(ui, inner, "plate", &plate.words());
    if roomy {
        let note = row(inner.left(), inner.right() - 36.0, inner.bottom() - 22.0, 14.0);
        put(ui.painter(), note, Align::Max, cx.note(18.0, 21.0), value_note(levelling));
        let beside = rect.with_min_x(plate_rect.right() + cx.g.edge());
        crate::draw::shape::frame(ui.painter(), beside, cx.p.sheet, Stroke::new(1.5, cx.p.rule));
        advice::picture(ui, wing, cx, beside.shrink(20.0), point, levelling);
    } else {
        let x = inner.right();
        ui.painter().vline(x, rect.top() + 12.0..=rect.bottom() - 12.0, Stroke::new(1.5, cx.p.rule));
        let beside = Rect::from_min_max(
            pos2(x + 12.0, rect.top() + 8.0),
            pos2(rect.right() - 10.0, rect.bottom() - 8.0),
        );
        advice::picture(ui, wing, cx, beside, point, levelling);
    }
}

/// What was taken out of the value shown.
pub fn value_note(levelling: Option<&Levelling>) -> &'static str {
    match levelling {
        Some(l) if l.tilt.is_some() && l.zero_out => "facing and zero taken out",
        Some(l) if l.tilt.is_some() => "facing taken out, zero not known",
        _ => "as the level shows it",
    }
}

fn buttons(
    ui: &Ui,
    wing: &Wing,
    cx: &mut Cx<'_>,
    point: &Point,
    levelling: Option<&Levelling>,
    all: &[Point],
    at: usize,
) {
    let (_, bottom) = cx.g.buttons_y();
    let x = cx.g.whole();
    let bar = cx.g.rect(x, (bottom - cx.g.pick(64.0, 80.0), bottom));
    let cells = cx.g.cells(bar, cx.g.gap(), &[116.0, 132.0, 190.0, 110.0, 200.0]);
    let cell = |i: usize| cells.get(i).copied().unwrap_or(Rect::NOTHING);
    undo_button(ui, cx, cell(0));
    let roomy = cx.g.roomy();
    let size = cx.g.pick(22.0, 28.0);
    let foot = levelling
        .and_then(|l| l.moved.as_ref().map(|m| m.foot.clone()).or(l.turn.as_ref().map(|t| t.foot.clone())));
    let foot = foot.or_else(|| feet(wing, point).first().cloned());
    let why =
        if wing.read_only { Some("read only") } else { foot.is_none().then_some("no foot in the plan") };
    if Button::new(cell(1), "Count turns", size)
        .second(if roomy { "without the level" } else { "" })
        .unless(why)
        .show(ui)
        && let Some(foot) = foot
    {
        cx.s.open(Page::Keypad(Typing::new(TypeFor::Move(foot), "")));
    }
    move_button(ui, wing, cx, cell(2), levelling);
    let next = all.get(at + 1).or(all.first()).filter(|p| *p != point).cloned();
    if Button::new(cell(3), "Next tilt", size)
        .second(if roomy { "Ctrl+N" } else { "" })
        .unless(next.is_none().then_some("only one"))
        .show(ui)
        && let Some(next) = next
    {
        cx.s.choose(next);
    }
    take_button(ui, wing, cx, cell(4));
    if measure_facing(ui, cx) {
        measure::turn(cx.s, wing, cx.ask);
    }
}

/// The facing is turned by a tap on it.
fn measure_facing(ui: &Ui, cx: &Cx<'_>) -> bool {
    let bar = cx.g.title(cx.g.whole());
    let target = bar.with_min_x(bar.right() - cx.g.pick(250.0, 400.0));
    let named = format!("Face {}", cx.s.measuring.facing.turned().word());
    Button::new(target, "", 20.0).named(&named).target(ui).clicked()
}

/// Start, or record what moved, or why neither.
fn move_button(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, rect: Rect, levelling: Option<&Levelling>) {
    let size = cx.g.pick(22.0, 28.0);
    let phase = levelling.map(|l| l.phase);
    let moved = levelling.and_then(|l| l.moved.clone());
    let read_only = wing.read_only.then_some("read only");
    match (phase, moved) {
        (Some(Phase::Ended), Some(m)) => {
            let second =
                m.turns.and_then(|t| words::turns(t, 8)).unwrap_or_else(|| words::signed_unit(m.mm, "mm", 1));
            if Button::new(rect, "Record the move", size).second(&second).unless(read_only).show(ui) {
                cx.ask(Action::RecordMove);
            }
        }
        (Some(Phase::AtRest), _) => {
            if Button::new(rect, "Start a move", size).second("from this rest").unless(read_only).show(ui) {
                cx.ask(Action::Start);
            }
        }
        _ => {
            let why = if levelling.is_some() { "hold still first" } else { "no level on a port" };
            let _ = Button::new(rect, "Record the move", size).unless(Some(why)).show(ui);
        }
    }
}

/// The feet of a post.
pub fn feet(wing: &Wing, point: &Point) -> Vec<String> {
    let post = wing.plan.posts.iter().find(|p| p.name == point.place());
    post.map(|p| p.feet.iter().map(|f| f.name.clone()).collect()).unwrap_or_default()
}

/// What went wrong, in the rows of the advice.
fn wrong(ui: &Ui, cx: &mut Cx<'_>, rows: Rect) -> bool {
    notice(ui, cx, rows)
}
