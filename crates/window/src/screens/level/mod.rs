//! Levelling a post: how far off, which foot, which way, how many turns. It takes the whole screen, because one hand
//! is on a screw.

mod advice;
mod scale;

use super::measure::{self, Plate, take_button};
use super::{Cx, Screen, halves, undo_button};
use crate::action::Action;
use crate::draw::arrows;
use crate::draw::button::Button;
use crate::draw::text::{Hand, name, put, row, say, width};
use crate::model::Wing;
use crate::pages::TypeFor;
use crate::state::{Nav, Told};
use crate::words;
use bench::{Key, LevelView, Phase, PortView, Seat, Site};
use egui::{Align, Rangef, Rect, Stroke, Ui, pos2, vec2};
use quantity::shown;
use record::point::Arrow;
use record::{Facing, Point, PointKind};

/// A jig without posts.
pub fn none(ui: &mut Ui, cx: &mut Cx<'_>) {
    super::title(ui, cx, cx.g.body(), "No posts in the plan", ["", ""]);
    let middle = cx.g.middle(cx.g.body());
    let line = middle.with_max_y(middle.top() + 60.0);
    let text = "A jig without posts is levelled by other means.";
    say(ui, line, Align::Min, cx.note(24.0, 30.0), "no posts", text);
}

/// All tilts, post by post, fore and aft before along the span.
fn tilts(wing: &Wing) -> Vec<Point> {
    let of =
        |post: &record::plan::Post| [PointKind::Cross, PointKind::Level].map(|k| Point::at(k, &post.name));
    wing.plan.posts.iter().flat_map(of).collect()
}

const fn is_tilt(p: &Point) -> bool {
    matches!(p.kind(), PointKind::Level | PointKind::Cross)
}

pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let all = tilts(wing);
    // A move that was started is finished or dropped where it was started.
    let under_way = wing.live.level.as_ref().filter(|level| level.under_way() && level.site != Site::Spars);
    let started = under_way.and_then(|level| level.point.clone());
    let here = cx.s.measuring.point.clone().filter(|p| is_tilt(p) && all.contains(p));
    let Some(point) = started.clone().or(here).or_else(|| first(wing, cx, &all)) else { return };
    if cx.s.measuring.point.as_ref() != Some(&point) {
        cx.s.choose(point.clone());
    }
    let at = all.iter().position(|p| *p == point).unwrap_or(0);
    match cx.s.nav {
        _ if started.is_some() => {}
        Some(Nav::Right | Nav::Down | Nav::PageDown) => choose(cx, all.get(at + 1)),
        Some(Nav::Left | Nav::Up | Nav::PageUp) => choose(cx, at.checked_sub(1).and_then(|i| all.get(i))),
        _ => {}
    }
    tell(wing, cx, Some(&point));
    let levelling = wing.live.level.as_ref().filter(|l| l.point.as_ref() == Some(&point));
    let (kind, count) = (words::kind_words(point.kind()), format!("tilt {} of {}", at + 1, all.len()));
    if title(ui, wing, cx, Some(&point), [point.place(), kind, &count]) {
        return leave(cx);
    }
    value(ui, wing, cx, &point, levelling);
    advice::show(ui, wing, cx, &point, levelling);
    scale::show(ui, wing, cx, &point, levelling);
    let next = all.get(at + 1).or(all.first()).filter(|p| **p != point);
    buttons(ui, wing, cx, &point, levelling, next);
}

/// The measuring of moves under the spars, if it is going on.
pub fn under_spars(wing: &Wing) -> Option<&LevelView> {
    wing.live.level.as_ref().filter(|l| l.site == Site::Spars)
}

/// A screw under a spar is turned while the level stays on a station.
pub fn spars(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    tell(wing, cx, None);
    let Some(l) = under_spars(wing) else { return };
    let (turn, point) = (l.turn.as_ref(), l.point.clone());
    let on = point.as_ref().map_or(String::new(), |p| format!("level on {}", p.place()));
    let count = format!("{} to make", shown::counted(l.left, "move", "moves"));
    // Without a live value the next screw is not named.
    let next = if l.left == 0 { "Nothing left to turn" } else { "The next screw" };
    if title(ui, wing, cx, point.as_ref(), [turn.map_or(next, |t| t.foot.as_str()), &on, &count]) {
        return leave(cx);
    }
    if let Some(point) = &point {
        value(ui, wing, cx, point, Some(l));
        advice::show(ui, wing, cx, point, Some(l));
        scale::show(ui, wing, cx, point, Some(l));
    } else {
        let middle = cx.g.middle(cx.g.whole());
        super::lines(ui, middle, cx.heavy(30.0, 40.0).least(20.0), "words", &l.reasons.join("; "), 4);
    }
    let [undo, count, main] = cx.g.split(bar(cx), cx.g.gap(), [116.0, 132.0, 496.0]);
    undo_button(ui, cx, undo);
    if advice::moved(wing).is_some() {
        another_button(ui, cx, count);
    } else {
        count_button(ui, wing, cx, count, turn.map(|t| t.foot.clone()));
    }
    if point.is_some() {
        move_button(ui, wing, cx, main, Some(l));
    } else if Button::new(main, "Measure", cx.g.pick(28.0, 36.0)).main().show(ui) {
        leave(cx);
        cx.s.go(Screen::Measure);
    }
    face_button(ui, wing, cx, point.as_ref());
}

/// Tells the bench, as far as it does not know, which tilt is being moved and how the level lies.
fn tell(wing: &Wing, cx: &mut Cx<'_>, tilt: Option<&Point>) {
    // Between the start and the end of a move the bench's facing counts: a reading taken meanwhile does not turn the
    // level.
    if let Some(level) = wing.live.level.as_ref().filter(|level| level.under_way()) {
        cx.s.measuring.facing = level.facing;
    }
    let now = Told { tilt: tilt.cloned(), facing: cx.s.measuring.facing };
    let before = cx.s.moving.told.clone();
    if !matches!(wing.live.port, PortView::Open(_)) || before.as_ref() == Some(&now) {
        return;
    }
    let site = tilt.map_or(Site::Spars, |point| Site::Post(point.place().to_owned()));
    let anew = before.is_none() || wing.live.level.as_ref().is_none_or(|l| l.site != site);
    let mut keys = Vec::new();
    let arrow = tilt.map_or(bench::Arrow::ForeAndAft, |point| match point.kind().row().arrow {
        Arrow::AlongSpan => bench::Arrow::AlongSpan,
        _ => bench::Arrow::ForeAndAft,
    });
    if wing.live.seat.arrow != arrow {
        keys.push(Key::Seat(Seat { arrow, ..wing.live.seat }));
    }
    // First where it lies: a level already on a post is not laid anew because somebody looks at the screen.
    match site {
        _ if !anew => {}
        Site::Post(post) => keys.push(Key::Level(post)),
        Site::Spars => keys.push(Key::Moves),
    }
    keys.push(if anew { Key::Lies(now.facing) } else { Key::Face(now.facing) });
    keys.into_iter().for_each(|key| cx.ask(Action::Bench(key)));
    cx.s.moving.told = Some(now);
}

/// The first tilt that is still wanted.
fn first(wing: &Wing, cx: &Cx<'_>, all: &[Point]) -> Option<Point> {
    let index = cx.index();
    let open = |p: &&Point| index.mark(wing, p) != crate::draw::marks::Mark::Of(assess::Verdict::Within);
    all.iter().find(open).or(all.first()).cloned()
}

fn choose(cx: &mut Cx<'_>, to: Option<&Point>) {
    if let Some(point) = to {
        cx.s.choose(point.clone());
    }
}

fn leave(cx: &mut Cx<'_>) {
    cx.s.moving.told = None;
    cx.ask(Action::Bench(Key::LeaveLevel));
    if cx.s.screen == Screen::Level {
        cx.s.go(Screen::Measure);
    }
}

/// The title row; true if the person leaves.
fn title(ui: &Ui, wing: &Wing, cx: &Cx<'_>, point: Option<&Point>, [place, kind, count]: [&str; 3]) -> bool {
    let bar = cx.g.title(cx.g.whole());
    let painter = ui.painter();
    let back =
        Rect::from_min_size(bar.min, vec2(cx.g.pick(80.0, 136.0), bar.height().min(cx.g.pick(60.0, 80.0))));
    let second = cx.if_roomy("Esc");
    let leaves = Button::new(back, "Leave", cx.g.pick(20.0, 26.0)).second(second).show(ui);
    let facing = cx.s.measuring.facing;
    let words = format!("facing {}", point.map_or(facing.word(), |p| p.kind().toward(facing)));
    let hand = cx.heavy(43.0, 68.0).least(24.0);
    let arrow = cx.g.pick(32.0, 50.0);
    let wide = width(painter, &hand, &words) + arrow + 14.0;
    let right = bar.with_min_x(bar.right() - wide);
    put(painter, right.with_max_x(right.right() - arrow - 12.0), Align::Min, hand, &words);
    let upright = if facing == Facing::Forward { arrows::UP } else { arrows::DOWN };
    let along = point.map_or(upright, |p| measure::toward(wing, cx, p, facing));
    arrows::straight(painter, pos2(right.right() - arrow * 0.42, bar.center().y), arrow, along, cx.p.ink);
    name(ui, right, "facing", &words);
    let left =
        Rect::from_min_max(pos2(back.right() + 18.0, bar.top()), pos2(right.left() - 14.0, bar.bottom()));
    let (a, b) = (cx.heavy(24.0, 32.0).least(16.0), cx.note(20.0, 26.0).least(15.0));
    let aside = width(painter, &a, kind).max(width(painter, &b, count));
    let room = left.with_max_x(left.right() - aside - 16.0);
    let post = put(painter, room, Align::Min, cx.heavy(56.0, 88.0).least(30.0), place);
    name(ui, post, "place", place);
    let rest = Rect::from_min_max(pos2(post.right() + 16.0, bar.top()), pos2(left.right(), bar.bottom()));
    let [above, below] = halves(rest, 0.28, 0.72);
    say(ui, above, Align::Min, a, "kind", kind);
    say(ui, below, Align::Min, b, "tilt", count);
    leaves
}

/// The plate: the tilt without facing and zero if the zero is known, otherwise what the level shows.
fn value(ui: &Ui, wing: &Wing, cx: &Cx<'_>, point: &Point, levelling: Option<&LevelView>) {
    let Rangef { min: left, max: right } = cx.g.whole();
    let top = cx.g.pick(76.0, 120.0);
    let rect = cx.g.rect(left..=right, top..=top + cx.g.pick(152.0, 264.0) + cx.g.spare());
    let aside = cx.g.pick(134.0, 412.0);
    let roomy = cx.g.roomy();
    let plate_rect = if roomy { rect.with_max_x(rect.right() - aside) } else { rect };
    let inner = if roomy { plate_rect } else { rect.with_max_x(rect.right() - aside) };
    let mut plate = Plate::of(wing, cx, point);
    let taken = cx.s.measuring.taken.is_some();
    let on_post = levelling.filter(|l| l.site != Site::Spars);
    let tilt = on_post.and_then(LevelView::tilt).filter(|_| !taken && plate.figures());
    if let Some(tilt) = tilt {
        let scale = words::on_display(&wing.plan, quantity::Kind::Angle);
        let text = words::minus(&scale.signed(tilt.value, words::step_decimals(scale, wing.live.step())));
        plate = plate.with_figures(text, Some(quantity::Unit::Degree));
    }
    plate.frame_only(ui, cx, plate_rect);
    // On a low plate the figures shrink for the note under them.
    let note = if roomy { ((264.0 - rect.height()) * 0.5).max(0.0) } else { 0.0 };
    plate.fill(ui, cx, inner.with_max_y(inner.bottom() - note), plate.ink(cx));
    name(ui, inner, "plate", &plate.words());
    if roomy {
        let note = row(inner.left(), inner.right() - 36.0, inner.bottom() - 22.0, 14.0);
        let hand = cx.note(18.0, 21.0);
        let hand = if taken { Hand { colour: plate.ink(cx), ..hand } } else { hand };
        put(ui.painter(), note, Align::Max, hand, value_note(wing, levelling));
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

/// What was taken out of the value shown; empty if nothing was.
pub fn value_note(wing: &Wing, levelling: Option<&LevelView>) -> &'static str {
    if wing.live.live.shown().is_none() {
        return "";
    }
    match levelling.filter(|l| l.site != Site::Spars).and_then(LevelView::tilt) {
        Some(place) if place.zero_out => "facing and zero taken out",
        Some(_) => "facing taken out, zero not known",
        None => "as the level shows it",
    }
}

fn buttons(
    ui: &Ui,
    wing: &Wing,
    cx: &mut Cx<'_>,
    point: &Point,
    levelling: Option<&LevelView>,
    next: Option<&Point>,
) {
    let cell = cx.g.split(bar(cx), cx.g.gap(), [116.0, 132.0, 190.0, 110.0, 200.0]);
    undo_button(ui, cx, cell[0]);
    let size = cx.g.pick(22.0, 28.0);
    let told = levelling.and_then(|l| l.turn.as_ref()).map(|t| t.foot.clone());
    let foot = advice::moved(wing).map(|m| m.foot.clone()).or(told);
    count_button(ui, wing, cx, cell[1], foot.or_else(|| first_foot(wing, point)));
    // Without a level there is no move to record, and the person types the reading.
    if levelling.is_none() {
        type_button(ui, wing, cx, cell[2], point);
    } else {
        move_button(ui, wing, cx, cell[2], levelling);
    }
    if advice::moved(wing).is_some() {
        another_button(ui, cx, cell[3]);
        take_button(ui, wing, cx, cell[4]);
        return;
    }
    let under_way = levelling.is_some_and(LevelView::under_way).then_some("finish the move");
    let why = under_way.or(next.is_none().then_some("only one"));
    if Button::new(cell[3], "Next tilt", size).second(cx.if_roomy("Ctrl+N")).unless(why).show(ui) {
        choose(cx, next);
    }
    take_button(ui, wing, cx, cell[4]);
    face_button(ui, wing, cx, Some(point));
}

/// The row of buttons, a little lower than elsewhere on a small panel.
fn bar(cx: &Cx<'_>) -> Rect {
    let bottom = cx.g.buttons_y().max;
    cx.g.rect(cx.g.whole(), bottom - cx.g.pick(64.0, 80.0)..=bottom)
}

/// For a screw other than the one told.
fn another_button(ui: &Ui, cx: &mut Cx<'_>, rect: Rect) {
    if Button::new(rect, "Another screw", cx.g.pick(22.0, 28.0)).show(ui) {
        cx.ask(Action::Bench(Key::Answer(bench::Answer::Other(usize::MAX))));
    }
}

/// Counts the turns by hand.
fn count_button(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, rect: Rect, foot: Option<String>) {
    let why = if wing.read_only { Some("read only") } else { foot.is_none().then_some("nothing to turn") };
    let count = Button::new(rect, "Count turns", cx.g.pick(22.0, 28.0));
    let pressed = count.second(cx.if_roomy("without the level")).unless(why).show(ui);
    if let Some(foot) = foot.filter(|_| pressed) {
        cx.s.number(TypeFor::Move(foot));
    }
}

/// Types the tilt.
fn type_button(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, rect: Rect, point: &Point) {
    let second = cx.if_roomy("Ctrl+T");
    let why = wing.read_only.then_some("read only");
    if Button::new(rect, "Type it", cx.g.pick(22.0, 28.0)).second(second).unless(why).show(ui) {
        cx.s.number(TypeFor::Reading(point.clone()));
    }
}

/// A tap on the facing turns it.
fn face_button(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, point: Option<&Point>) {
    let bar = cx.g.title(cx.g.whole());
    let target = bar.with_min_x(bar.right() - cx.g.pick(250.0, 400.0));
    let other = cx.s.measuring.facing.turned();
    let named = format!("Face {}", point.map_or(other.word(), |p| p.kind().toward(other)));
    if Button::new(target, "", 20.0).named(&named).target(ui).clicked() {
        measure::turn(cx.s, wing);
    }
}

/// Starts a move, or records what moved, or says why it can do neither.
fn move_button(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, rect: Rect, levelling: Option<&LevelView>) {
    let size = cx.g.pick(22.0, 28.0);
    // Somebody with one hand on a screw has the other for one key.
    let enter = if cx.g.roomy() { ", Enter" } else { "" };
    let phase = levelling.map(|l| l.phase);
    let read_only = wing.read_only.then_some("read only");
    match (phase, advice::moved(wing)) {
        (Some(_), Some(m)) => {
            let turns = m.turns.and_then(|t| words::turns(t, 8));
            let moved = turns.unwrap_or_else(|| words::signed_unit(wing.lengths(), m.mm, 1));
            let second = format!("{moved}{enter}");
            let record = Button::new(rect, "Record the move", size).second(&second).by_enter();
            if record.answering((&m.foot, m.mm.to_bits())).unless(read_only).show(ui) {
                cx.ask(Action::Bench(Key::Answer(bench::Answer::Yes)));
            }
        }
        (Some(Phase::AtRest), _) => {
            let why = match wing.live.main {
                bench::Main::Start => read_only,
                bench::Main::TakeBothWays => Some("take it both ways first"),
                bench::Main::Count => Some("count the turns"),
                _ => Some("nothing to turn"),
            };
            let second = format!("from this rest{enter}");
            if Button::new(rect, "Start a move", size).second(&second).by_enter().unless(why).show(ui) {
                cx.ask(Action::Bench(Key::Main));
            }
        }
        // It is at rest after the start and nothing moved: the bench says so, and writes nothing.
        (Some(Phase::Turning { .. }), _) if at_rest(wing) => {
            let nothing = Button::new(rect, "Nothing was turned", size).second("drop the start");
            if nothing.unless(read_only).show(ui) {
                cx.ask(Action::Bench(Key::Main));
            }
        }
        _ => {
            let turning = matches!(phase, Some(Phase::Turning { .. }));
            let text = if turning { "Record the move" } else { "Start a move" };
            let _ = Button::new(rect, text, size).unless(Some("hold still first")).show(ui);
        }
    }
}

fn at_rest(wing: &Wing) -> bool {
    matches!(wing.live.live, bench::Live::Settled { .. } | bench::Live::Taken { .. })
}

fn first_foot(wing: &Wing, point: &Point) -> Option<String> {
    let post = wing.plan.posts.iter().find(|p| p.name == point.place())?;
    post.feet.first().map(|foot| foot.name.clone())
}
