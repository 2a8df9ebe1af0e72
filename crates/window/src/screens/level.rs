//! Levelling a post: the bubble in two axes, and the turns still to go on each screw.

use super::{Cx, card, split};
use crate::action::Action;
use crate::live;
use crate::model::Wing;
use crate::paint::big;
use crate::paint::bubble::{self, Bubble};
use crate::paint::marks;
use crate::theme::palette;
use crate::words;
use assess::advice::foot_advice;
use assess::view::PointView;
use egui::{FontFamily, FontId, RichText, Role, Sense, Ui, vec2};
use record::plan::{Adjust, Post};
use record::point::Place;
use record::{Limits, Point, PointKind};

/// The screen.
pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let posts = &wing.plan.posts;
    if posts.is_empty() {
        ui.label("The plan names no posts; a jig without them is levelled by other means.");
        return;
    }
    cx.state.post = cx.state.post.min(posts.len() - 1);
    ui.horizontal_wrapped(|ui| {
        for (i, post) in posts.iter().enumerate() {
            if ui.selectable_label(cx.state.post == i, &post.name).clicked() {
                cx.state.post = i;
                choose(cx, PointKind::Level, post);
            }
        }
    });
    let Some(post) = posts.get(cx.state.post) else { return };
    let here = cx.state.point.clone();
    let on_this = here.as_ref().is_some_and(|p| is_tilt(p) && p.place() == post.name);
    if !on_this {
        match here.filter(is_tilt).and_then(|p| posts.iter().position(|x| x.name == p.place())) {
            Some(other) => cx.state.post = other,
            None => choose(cx, PointKind::Level, post),
        }
    }
    let Some(post) = posts.get(cx.state.post) else { return };
    let tilts = Tilts::of(wing, cx, post);
    let high = ui.available_height();
    split(
        ui,
        0.5,
        560.0,
        cx,
        |ui, _| card(ui, |ui| bubble_card(ui, wing, &tilts, (high - 40.0).clamp(150.0, 700.0))),
        |ui, cx| card(ui, |ui| turns_card(ui, wing, cx, post, &tilts)),
    );
}

fn is_tilt(p: &Point) -> bool {
    p.kind().row().place == Place::Post
}

fn choose(cx: &mut Cx<'_>, kind: PointKind, post: &Post) {
    cx.state.choose(Point::at(kind, &post.name));
}

/// The two tilts of a post, as live as they are.
struct Tilts {
    level: Tilt,
    cross: Tilt,
}

struct Tilt {
    point: Point,
    value: Option<f64>,
    live: bool,
    step: f64,
    view: Option<PointView>,
}

impl Tilts {
    fn of(wing: &Wing, cx: &Cx<'_>, post: &Post) -> Self {
        let chosen = cx.state.point.as_ref();
        let one = |kind| {
            let point = Point::at(kind, &post.name);
            let view = wing.assessment.points.iter().find(|v| v.point == point).cloned();
            let value = wing.live.value.filter(|v| v.kind == quantity::Kind::Angle);
            let other = chosen.is_some_and(|c| is_tilt(c) && c.place() == post.name && *c != point);
            let shown = match value {
                Some(v) if chosen == Some(&point) => Some((v.shown, v.resolution)),
                Some(v) if other => v.cross_shown.map(|x| (x, v.resolution)),
                _ => None,
            };
            match shown {
                Some((shown, step)) => {
                    let value =
                        live::meant(&wing.plan, &point, shown, Some(cx.state.facing_now(wing, &point)));
                    Tilt { point, value: Some(value), live: true, step, view }
                }
                None => {
                    Tilt { point, value: view.as_ref().and_then(|v| v.value), live: false, step: 0.01, view }
                }
            }
        };
        Self { level: one(PointKind::Level), cross: one(PointKind::Cross) }
    }
}

fn half_width(limits: Option<Limits<quantity::Degrees>>) -> f64 {
    limits.and_then(|l| l.upper.or(l.lower)).map_or(0.1, |v| v.value().abs())
}

fn bubble_card(ui: &mut Ui, wing: &Wing, tilts: &Tilts, height: f32) {
    let p = palette(ui);
    let live = tilts.level.live || tilts.cross.live;
    let ready = wing.live.value.is_some_and(|v| v.ready);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    let colour = match (live, ready) {
        (true, true) => p.within,
        (true, false) => p.chosen,
        _ => p.ghost,
    };
    let bubble = Bubble {
        level_deg: tilts.level.value,
        cross_deg: tilts.cross.value,
        tolerance_deg: (half_width(wing.plan.tolerances.level), half_width(wing.plan.tolerances.cross)),
        mirrored: wing.plan.wing.side == record::plan::Side::Left,
        colour,
    };
    bubble::draw(&ui.painter_at(rect), &p, rect, &bubble);
    let say = |t: &Tilt, what: &str| {
        t.value.map_or_else(|| format!("{what} not measured"), |v| format!("{what} {v:.2} degrees"))
    };
    let words =
        format!("bubble: {}, {}", say(&tilts.level, "along the span"), say(&tilts.cross, "fore and aft"));
    marks::name(&response, Role::Label, None, &words);
    if wing.live.value.is_none() {
        ui.label(RichText::new("No instrument on a port: the bubble shows the last readings.").color(p.pale));
    }
}

fn turns_card(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>, post: &Post, tilts: &Tilts) {
    let p = palette(ui);
    for (t, what) in [(&tilts.level, "along the span"), (&tilts.cross, "fore and aft")] {
        tilt_line(ui, wing, cx, t, what);
    }
    ui.separator();
    let (level, cross) = (tilts.level.value.unwrap_or(0.0), tilts.cross.value.unwrap_or(0.0));
    if tilts.level.value.is_none() && tilts.cross.value.is_none() {
        ui.label("Measure a tilt and the turns on each screw stand here.");
        return;
    }
    let left = after_moves(wing, post);
    let advice = foot_advice(&left, level, cross);
    let judged = [&tilts.level, &tilts.cross].map(|t| t.view.as_ref().and_then(|v| v.verdict));
    if judged == [Some(assess::Verdict::Within); 2] && wing.live.value.is_none() {
        ui.label(
            RichText::new("Both tilts are within: it may be left as it stands.").size(22.0).color(p.within),
        );
    }
    for foot in &post.feet {
        let step = advice.moves.iter().find(|m| m.foot == foot.name);
        let text = match (step, &foot.adjust) {
            (Some(m), Adjust::Screw { .. }) => words::turns(m.signed()),
            (Some(m), _) => words::signed_unit(m.mm, "mm", 2),
            (None, _) => "leave it".to_owned(),
        };
        foot_line(ui, &foot.name, &text, step.map(|m| m.mm));
        if let Some(m) = step {
            ui.horizontal_wrapped(|ui| {
                ui.label(RichText::new(&m.words).color(p.pale));
                if ui
                    .add_enabled(!wing.read_only, egui::Button::new(format!("Done: {}", foot.name)))
                    .clicked()
                {
                    cx.ask(Action::Move { support: foot.name.clone(), text: text.clone() });
                }
            });
        }
    }
    for reason in &advice.reasons {
        ui.label(RichText::new(reason).color(p.outside));
    }
    if !advice.moves.is_empty() {
        let left = format!(
            "should then stand at {} along the span, {} fore and aft",
            words::signed_unit(advice.level_left_deg, "deg", 2),
            words::signed_unit(advice.cross_left_deg, "deg", 2)
        );
        ui.label(left);
        ui.label(
            RichText::new("Turn a little at a time, from foot to foot; a jig under load can roll.")
                .color(p.pale),
        );
    }
}

/// The post with what is left of each foot's travel after the moves recorded.
fn after_moves(wing: &Wing, post: &Post) -> Post {
    let mut post = post.clone();
    for foot in &mut post.feet {
        let moved: f64 =
            wing.assessment.moves.iter().filter(|m| m.support == foot.name).map(|m| m.amount_mm).sum();
        let (minus, plus) = assess::advice::steps::travel_left(foot.travel, moved);
        foot.travel.minus = quantity::Millimetres::new(minus);
        foot.travel.plus = quantity::Millimetres::new(plus);
    }
    post
}

fn tilt_line(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>, t: &Tilt, what: &str) {
    let p = palette(ui);
    let on = cx.state.point.as_ref() == Some(&t.point);
    ui.horizontal_wrapped(|ui| {
        if ui.selectable_label(on, what).clicked() {
            cx.state.choose(t.point.clone());
        }
        let places = if t.live { words::decimals(t.step).max(1) } else { 2 };
        let text = t.value.map_or_else(|| "–".to_owned(), |v| words::signed_unit(v, "deg", places));
        ui.label(RichText::new(text).size(26.0).strong());
        if t.live {
            ui.label(RichText::new("live").color(p.chosen));
        }
        if let Some(v) = &t.view {
            let mark = super::measure::mark(v);
            marks::label(ui, &p, mark, words::standing(v));
        }
        if let Some(h) = t.value.and_then(|v| live::heading(&wing.plan, &t.point, v, t.step)) {
            ui.label(h.words);
        }
    });
}

/// A foot and its turns, as large as the width allows.
fn foot_line(ui: &mut Ui, foot: &str, text: &str, mm: Option<f64>) {
    let p = palette(ui);
    ui.label(RichText::new(foot).color(p.pale));
    let width = ui.available_width();
    let room = vec2(width * 0.82, 54.0);
    let size = big::fitting(ui.painter(), text, &FontFamily::Proportional, room).min(40.0);
    let (rect, response) = ui.allocate_exact_size(vec2(width, size * 1.35), Sense::hover());
    let painter = ui.painter_at(rect);
    let icon = egui::pos2(rect.left() + size * 0.6, rect.center().y);
    if let Some(mm) = mm {
        let arrow = if mm > 0.0 { live::Arrow::Up } else { live::Arrow::Down };
        big::pointing(&painter, icon, size * 0.5, arrow, p.chosen);
    } else {
        painter.circle_filled(icon, size * 0.2, p.within);
    }
    let galley = painter.layout_no_wrap(text.to_owned(), FontId::proportional(size), p.ink);
    painter.galley(
        egui::pos2(rect.left() + size * 1.3, rect.center().y - galley.size().y / 2.0),
        galley,
        p.ink,
    );
    marks::name(&response, Role::Label, None, &format!("{foot}: {text}"));
}
