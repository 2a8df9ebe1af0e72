//! Taking readings: at which point, which way the instrument faces, whether the value may be taken, what is left.

mod evidence;
mod instruct;
mod plate;
mod strip;
mod summary;
mod take;

pub use plate::Plate;
pub use strip::{grows, tip_left};
pub use take::instruments;
pub(crate) use take::{
    by_itself, follow_by_itself, follow_reading, next, refused, take_settled, take_typed, turn,
};

use super::{Cx, undo_button};
use crate::draw::arrows;
use crate::draw::button::Button;
use crate::draw::text::{Hand, name, put, row, say, width};
use crate::model::Wing;
use crate::pages::{Page, TypeFor};
use crate::reads::index::Progress;
use bench::Live;
use egui::{Align, Rect, Ui, Vec2, pos2, vec2};
use record::point::Arrow;
use record::{Facing, Point};

pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let Some(point) = cx.s.measuring.point.clone() else {
        super::title(ui, cx, cx.g.body(), "No point to measure", ["", ""]);
        return;
    };
    if wing.assessment.stage.is_none() {
        summary::begin(ui, wing, cx);
        return;
    }
    if summary::due(cx.s) {
        summary::show(ui, wing, cx);
        return;
    }
    title(ui, wing, cx, &point);
    let plate = Plate::of(wing, cx, &point);
    plate.show(ui, cx, cx.g.plate());
    evidence::show(ui, wing, cx, &point);
    instruct::show(ui, wing, cx, &point, &plate);
    strip::show(ui, wing, cx, &point);
    instruct::readings(ui, wing, cx);
    buttons(ui, wing, cx, &point);
}

/// The point of the title and the plate: that of the reading just taken, until the plate turns back.
fn spoken<'a>(cx: &'a Cx<'_>, point: &'a Point) -> (&'a Point, Facing) {
    match &cx.s.measuring.taken {
        Some(t) => (&t.point, t.facing.unwrap_or(cx.s.measuring.facing)),
        None => (point, cx.s.measuring.facing),
    }
}

fn title(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, point: &Point) {
    let x = cx.g.body();
    let bar = cx.g.title(x);
    let Progress { done, all } = cx.index().progress(wing, point);
    let painter = ui.painter();
    let first = cx.heavy(26.0, 32.0).least(20.0);
    let second = cx.note(17.0, 22.0);
    let progress = if all > 0 { format!("{done} of {all} done") } else { "not asked for".to_owned() };
    let stage = crate::reads::stage::words(wing);
    // A post has two tilts, and its name does not say which.
    let tilt = spoken(cx, point).0.kind();
    let (progress, stage) = if tilt.row().place == record::point::Place::Post {
        (crate::words::kind_words(tilt).to_owned(), format!("{progress}; {stage}"))
    } else {
        (progress, stage)
    };
    let notes = width(painter, &first, &progress).max(width(painter, &second, &stage)).min(bar.width() * 0.4);
    let right = Rect::from_min_max(pos2(bar.right() - notes - 1.0, bar.top()), bar.max);
    let [above, below] = super::halves(right, cx.g.pick(0.28, 0.24), cx.g.pick(0.75, 0.69));
    say(ui, above, Align::Max, first, "progress", &progress);
    say(ui, below, Align::Max, second, "stage", &stage);
    let left = bar.with_max_x(bar.right() - notes - 16.0);
    let (spoken, facing) = spoken(cx, point);
    place(ui, wing, cx, left, spoken, facing);
    let target = left.with_max_x(left.left() + left.width().min(cx.g.pick(260.0, 420.0)));
    let named = format!("Find another point than {}", spoken.place());
    if Button::new(target, "", 20.0).named(&named).target(ui).clicked() {
        cx.s.open(Page::Find { text: String::new(), from: 0 });
    }
}

/// The place, and which way the instrument faces or what is measured there.
fn place(ui: &Ui, wing: &Wing, cx: &Cx<'_>, bar: Rect, point: &Point, facing: Facing) {
    let painter = ui.painter();
    let station = cx.heavy(62.0, 88.0).least(cx.g.pick(30.0, 48.0));
    let reverses = point.kind().reverses();
    let what =
        if reverses { format!("facing {}", point.kind().toward(facing)) } else { crate::words::what(point) };
    let (arrow, gap) = (cx.g.pick(40.0, 66.0), cx.g.pick(18.0, 24.0));
    let hand = cx.heavy(56.0, 88.0).least(24.0);
    let after = if reverses { arrow + gap } else { 0.0 };
    let free = bar.width() - gap - after;
    // The facing is kept in full; the name of a place is shortened first.
    let need = width(painter, &hand, &what).min(free * 0.62);
    let at = put(painter, bar.with_max_x(bar.left() + free - need), Align::Min, station, point.place());
    let rest = bar.with_min_x(at.right() + gap).with_max_x(bar.right() - after);
    let end = put(painter, rest, Align::Min, hand, &what);
    if reverses {
        let along = toward(wing, cx, point, facing);
        let middle = pos2(end.right() + gap + arrow * 0.4, bar.center().y);
        arrows::straight(painter, middle, arrow, along, cx.p.ink);
    }
    name(ui, bar, "place", &format!("{} {what}", point.place()));
}

/// Where the instrument's arrow points on the screen, with the wing as it lies before you.
pub fn toward(wing: &Wing, cx: &Cx<'_>, point: &Point, facing: Facing) -> Vec2 {
    let forward = match point.kind().row().arrow {
        Arrow::AlongSpan if strip::tip_left(wing, cx) => arrows::LEFT,
        Arrow::AlongSpan | Arrow::AcrossFuselage => arrows::RIGHT,
        Arrow::None | Arrow::AcrossSpan | Arrow::AlongFuselage => arrows::UP,
    };
    forward * facing.sign() as f32
}

fn buttons(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, point: &Point) {
    let all = cx.g.buttons(cx.g.body());
    let gap = cx.g.gap();
    let weights: &[f32] =
        if cx.g.roomy() { &[200.0, 152.0, 152.0, 216.0, 336.0] } else { &[124.0, 96.0, 180.0, 260.0] };
    let mut cells = cx.g.cells(all, gap, weights).into_iter();
    let mut cell = || cells.next().unwrap_or(Rect::NOTHING);
    let size = cx.g.pick(24.0, 30.0);
    let roomy = cx.g.roomy();
    undo_button(ui, cx, cell());
    let read_only = wing.read_only.then_some("read only");
    let text = if roomy { "Type it" } else { "Type" };
    let type_it = Button::new(cell(), text, size).second(cx.if_roomy("Ctrl+T")).unless(read_only);
    if type_it.named("Type it").show(ui) {
        cx.s.number(TypeFor::Reading(point.clone()));
    }
    if roomy && Button::new(cell(), "Find", size).second("any letter").show(ui) {
        cx.s.open(Page::Find { text: String::new(), from: 0 });
    }
    face_button(ui, wing, cx, cell(), point);
    take_button(ui, wing, cx, cell());
}

/// Turns the instrument's facing, or goes to the next point if nothing reverses.
fn face_button(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, rect: Rect, point: &Point) {
    let size = cx.g.pick(24.0, 30.0);
    if !point.kind().reverses() {
        if Button::new(rect, "Next wanted", size).second(cx.if_roomy("Ctrl+N")).show(ui) {
            next(cx.s);
        }
        return;
    }
    let text = format!("Face {}", point.kind().toward(cx.s.measuring.facing.turned()));
    if Button::new(rect, &text, size).second(cx.if_roomy("Ctrl+R")).show(ui) {
        turn(cx.s, wing);
    }
}

pub fn take_button(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, rect: Rect) {
    let fits = take::fits(cx.s, wing);
    let why = if wing.read_only {
        Some("read only")
    } else if cx.model.who.name.is_empty() {
        Some("say who is at the bench")
    } else {
        match &wing.live.live {
            Live::Settled { .. } if wing.live.question.is_some() => Some("answer the question first"),
            Live::Settled { .. } if fits => None,
            Live::Settled { .. } => Some("another instrument is needed"),
            Live::Taken { .. } => Some("move the level first"),
            Live::Moving { .. } | Live::Settling { .. } => Some("hold still first"),
            Live::None if wing.live.port_name().is_none() => Some("no instrument"),
            Live::None | Live::Waiting { .. } => Some("waiting for a value"),
            live @ (Live::Lost { .. } | Live::Wrong { .. }) => crate::words::unreadable(live),
        }
    };
    let second = match (wing.live.hands_free, cx.g.roomy()) {
        (bench::HandsFree::On, _) => "hands free",
        (bench::HandsFree::Off, true) => "Space",
        (bench::HandsFree::Off, false) => "",
    };
    let size = cx.g.pick(34.0, 40.0);
    let size = if why.is_some() { size * 0.8 } else { size };
    if Button::new(rect, "Take", size).second(second).main().unless(why).show(ui) {
        take_settled(cx.s, wing, cx.ask);
    }
}

/// A row of two texts, one at the left and one at the right.
pub fn pair(ui: &Ui, cx: &Cx<'_>, at: Rect, left: &str, right: &str) {
    let body = Hand::medium(cx.g.pick(20.0, 22.0), cx.p.pale);
    let painter = ui.painter();
    let wide = width(painter, &body, left).min(at.width() * 0.5);
    put(painter, at.with_max_x(at.left() + wide), Align::Min, body, left);
    let rest = row(at.left() + wide + 10.0, at.right(), at.center().y, at.height());
    put(painter, rest, Align::Max, Hand::heavy(body.size, cx.p.ink), right);
    name(ui, at.expand2(vec2(0.0, 4.0)), left, &format!("{left}: {right}"));
}
