//! Taking readings: the value as large as it goes, what it should be, which way to go, what comes next.

use super::{Cx, card, field, split};
use crate::face::{instruments, quantity_of};
use crate::live::{self, Heading};
use crate::model::Wing;
use crate::paint::big::{self, Big};
use crate::paint::marks::{self, Mark};
use crate::theme::palette;
use crate::words;
use assess::view::{PointState, PointView};
use egui::{Key, RichText, Role, Sense, Ui, vec2};
use record::Point;

/// The screen.
pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let high = ui.available_height();
    split(
        ui,
        0.66,
        620.0,
        cx,
        |ui, cx| {
            card(ui, |ui| value_card(ui, wing, cx, (high - 190.0).clamp(110.0, 900.0)));
        },
        |ui, cx| {
            card(ui, |ui| facts(ui, wing, cx));
            card(ui, |ui| wanted(ui, wing, cx));
        },
    );
}

/// The view of the chosen point.
pub fn chosen<'a>(wing: &'a Wing, cx: &Cx<'_>) -> Option<(Point, &'a PointView)> {
    let point = cx.state.point.clone()?;
    let name = point.to_string();
    wing.assessment.points.iter().find(|v| v.point == name).map(|v| (point, v))
}

fn value_card(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>, height: f32) {
    find(ui, wing, cx);
    let Some((point, view)) = chosen(wing, cx) else {
        ui.label("The plan has no point to measure.");
        return;
    };
    big_value(ui, wing, cx, &point, view, height);
    controls(ui, wing, cx, &point);
    typed(ui, wing, cx, &point);
}

fn find(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let Some((point, _)) = chosen(wing, cx) else { return };
    ui.horizontal_wrapped(|ui| {
        ui.heading(words::point(&point));
        let label = ui.label("find");
        let hint = point.to_string();
        let mut text = std::mem::take(&mut cx.state.find);
        let edit = egui::TextEdit::singleline(&mut text).desired_width(170.0).hint_text(hint);
        let response = ui.add(edit).labelled_by(label.id);
        take_keyboard(ui, &response, &mut cx.state.focus_find, text.chars().count());
        let hits = matching(wing, &text);
        if response.lost_focus() {
            if ui.input(|i| i.key_pressed(Key::Enter))
                && let Some(p) = hits.first()
            {
                cx.state.choose(p.clone());
            }
            text.clear();
        } else if response.has_focus() && !text.is_empty() {
            for p in hits.iter().take(6) {
                if ui.button(p.to_string()).clicked() {
                    cx.state.choose(p.clone());
                    text.clear();
                }
            }
            if hits.is_empty() {
                ui.label(RichText::new("no point has that in its name").color(palette(ui).outside));
            }
        }
        cx.state.find = text;
    });
}

/// Points whose name holds the text, those of the chosen place first.
fn matching(wing: &Wing, text: &str) -> Vec<Point> {
    let text = text.trim().to_lowercase();
    if text.is_empty() {
        return Vec::new();
    }
    let all = wing.assessment.points.iter().filter_map(|v| v.point.parse::<Point>().ok());
    let mut hits: Vec<Point> = all.filter(|p| p.to_string().to_lowercase().contains(&text)).collect();
    hits.sort_by_key(|p| p.place().to_lowercase() != text);
    hits
}

/// Gives a field the keyboard, with the cursor after what stands in it.
fn take_keyboard(ui: &Ui, response: &egui::Response, wanted: &mut bool, chars: usize) {
    if !std::mem::take(wanted) {
        return;
    }
    response.request_focus();
    let mut state = egui::text_edit::TextEditState::load(ui.ctx(), response.id).unwrap_or_default();
    let end = egui::text::CCursor::new(chars);
    state.cursor.set_char_range(Some(egui::text::CCursorRange::one(end)));
    state.store(ui.ctx(), response.id);
}

/// What the big figures say.
pub struct Showing {
    /// The figures.
    pub text: String,
    /// Their unit.
    pub unit: String,
    /// The line below.
    pub under: String,
    /// Which way.
    pub heading: Option<Heading>,
    /// The ring.
    pub ring: Option<f32>,
}

/// Works out what to show at a point: the live value if one stands on the port, else the last reading.
pub fn showing(wing: &Wing, point: &Point, view: &PointView, facing: record::Facing) -> Showing {
    let kind = quantity_of(wing, point);
    let live = wing.live.value.filter(|v| Some(v.kind) == kind);
    let last_step = last_resolution(wing, point);
    let (value, step, ring) = match live {
        Some(v) => {
            (Some(live::meant(&wing.plan, point, v.shown, Some(facing))), v.resolution, Some(v.settled))
        }
        None => (view.value, last_step, None),
    };
    let places = if live.is_some() { words::decimals(step) } else { words::usual_decimals(view.unit) };
    let text = value.map_or_else(|| "–".to_owned(), |v| words::number(v, places));
    let unit = value.map_or_else(String::new, |_| words::unit_sign(view.unit).to_owned());
    let deviation = value.zip(view.design).map(|(v, d)| v - d);
    let heading = deviation.and_then(|d| live::heading(&wing.plan, point, d, step));
    let under = match (value, deviation, heading) {
        (None, _, _) => view.design.map_or_else(
            || "not measured yet".to_owned(),
            |d| {
                format!(
                    "not measured yet; should be {}",
                    words::with_unit(d, view.unit, words::usual_decimals(view.unit))
                )
            },
        ),
        (Some(_), Some(d), Some(_)) if live.is_none() && view.verdict == Some(assess::Verdict::Within) => {
            format!("{}: within", words::signed_unit(d, view.unit, places.max(1)))
        }
        (Some(_), Some(d), Some(h)) => {
            format!("{}: {}", words::signed_unit(d, view.unit, places.max(1)), h.words)
        }
        (Some(_), Some(_), None) => "as designed".to_owned(),
        (Some(_), None, _) => limits_words(view),
    };
    let settled_within = live.is_none() && view.verdict == Some(assess::Verdict::Within);
    let heading = heading.filter(|_| !settled_within);
    Showing { text, unit, under, heading, ring }
}

fn limits_words(view: &PointView) -> String {
    match (view.lower, view.upper) {
        (None, None) => words::standing(view).to_owned(),
        (l, u) => words::limits(l, u, view.unit),
    }
}

fn last_resolution(wing: &Wing, point: &Point) -> f64 {
    let step = wing.entries.iter().rev().find_map(|e| match &e.what {
        record::What::Reading(r) if r.point == *point => Some(r.resolution),
        _ => None,
    });
    step.unwrap_or(0.01)
}

/// The mark of a point.
pub fn mark(view: &PointView) -> Mark {
    crate::paint::planform::mark_of(view)
}

fn big_value(ui: &mut Ui, wing: &Wing, cx: &Cx<'_>, point: &Point, view: &PointView, height: f32) {
    let p = palette(ui);
    let shows = showing(wing, point, view, cx.state.facing);
    let typing = !cx.state.typed.is_empty();
    let (text, unit) =
        if typing { (cx.state.typed.clone(), String::new()) } else { (shows.text, shows.unit) };
    let under = if typing { "Enter takes it, Esc drops it".to_owned() } else { shows.under };
    let ready = wing.live.value.is_some_and(|v| v.ready);
    let colour = match (shows.ring, ready) {
        (Some(_), true) => p.within,
        _ => p.ink,
    };
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    let arrow = if typing { None } else { shows.heading.and_then(|h| h.arrow) };
    let ring = if typing { None } else { shows.ring };
    big::draw(
        &ui.painter_at(rect),
        &p,
        rect,
        &Big { text: &text, unit: &unit, under: &under, arrow, ring, colour },
    );
    let space = if unit.starts_with('°') || unit.is_empty() { "" } else { " " };
    let settled = match (ring, ready) {
        (None, _) => "",
        (Some(_), true) => ", settled",
        (Some(_), false) => ", settling",
    };
    marks::name(&response, Role::Label, None, &format!("{point}: {text}{space}{unit}, {under}{settled}"));
}

fn controls(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>, point: &Point) {
    let p = palette(ui);
    ui.horizontal_wrapped(|ui| {
        let live = wing.live.value;
        let can = cx.state.live_fits(wing) && !wing.read_only;
        if ui.add_enabled(can, egui::Button::new("Take  (Space)")).clicked() {
            let ready = live.is_some_and(|v| v.ready);
            if ready {
                cx.state.take_live(wing, false, cx.actions);
            }
        }
        if point.kind().reverses() {
            let text = format!("Facing {}  (R)", cx.state.facing.word());
            if ui.button(text).on_hover_text(facing_words(point)).clicked() {
                cx.state.facing = cx.state.facing.turned();
            }
        }
        if ui.selectable_label(cx.state.hands.free, "Hands free  (H)").clicked() {
            cx.state.hands.toggle();
        }
        if cx.state.hands.free {
            ui.label(
                RichText::new("each settled value is taken; move the instrument between readings")
                    .color(p.chosen),
            );
        }
        if ui.button("Withdraw the last  (Backspace)").clicked() {
            crate::keys::withdraw_last(cx.state, cx.model);
        }
    });
}

fn facing_words(point: &Point) -> &'static str {
    match point.kind() {
        record::PointKind::Level | record::PointKind::Walk => {
            "forward: the instrument's arrow toward the tip; aft: toward the root"
        }
        _ => "forward: the instrument's arrow toward the leading edge; aft: toward the trailing edge",
    }
}

fn typed(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>, point: &Point) {
    let p = palette(ui);
    let kind = quantity_of(wing, point);
    ui.horizontal_wrapped(|ui| {
        let label = ui.label("Typed reading");
        let hint = match kind {
            Some(quantity::Kind::Angle) => "0.35 or 0°21'",
            Some(quantity::Kind::Length) => "3.2 mm or 5/64 in",
            Some(quantity::Kind::Torque) => "6.8 N·m or 60 in-lb",
            _ => "21 °C",
        };
        let mut text = std::mem::take(&mut cx.state.typed);
        let response = ui
            .add(egui::TextEdit::singleline(&mut text).desired_width(150.0).hint_text(hint))
            .labelled_by(label.id);
        take_keyboard(ui, &response, &mut cx.state.focus_typed, text.chars().count());
        let (enter, escape) = ui.input(|i| (i.key_pressed(Key::Enter), i.key_pressed(Key::Escape)));
        if escape {
            text.clear();
        }
        cx.state.typed = text;
        let reads =
            |text: &str, kind| (!text.trim().is_empty()).then(|| quantity::typed(text, kind).err()).flatten();
        let wrong = kind.and_then(|k| reads(&cx.state.typed, k));
        let wrong_part = reads(&cx.state.temperature, quantity::Kind::Temperature);
        let sound = wrong.is_none() && wrong_part.is_none();
        let can = !cx.state.typed.trim().is_empty() && sound && !wing.read_only;
        let clicked = ui.add_enabled(can, egui::Button::new("Take it  (Enter)")).clicked();
        if can && (clicked || (response.lost_focus() && enter)) {
            cx.state.take_typed(wing, cx.actions);
        } else if response.lost_focus() && enter {
            response.request_focus();
        }
        if let Some(e) = wrong {
            ui.label(RichText::new(e.to_string()).color(p.outside));
        }
        if let Some(e) = wrong_part {
            ui.label(RichText::new(format!("the part's temperature: {e}")).color(p.outside));
        }
    });
    extras(ui, wing, cx, kind);
}

fn extras(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>, kind: Option<quantity::Kind>) {
    ui.horizontal_wrapped(|ui| {
        let list = instruments(wing);
        let fitting = list.iter().filter(|i| kind.is_none_or(|k| i.kind.quantity().is_none_or(|q| q == k)));
        ui.label("with");
        let none = "no instrument stated";
        for name in fitting.map(|i| i.name.as_str()) {
            let on = cx.state.instrument.as_deref() == Some(name);
            if ui.selectable_label(on, name).clicked() {
                cx.state.instrument = Some(name.to_owned());
            }
        }
        if ui.selectable_label(cx.state.instrument.is_none(), none).clicked() {
            cx.state.instrument = None;
        }
        let mut text = std::mem::take(&mut cx.state.temperature);
        field(ui, "part at", &mut text, 80.0, "21 °C");
        cx.state.temperature = text;
        ui.checkbox(&mut cx.state.new_round, "begin a new round");
    });
}

fn facts(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let p = palette(ui);
    let Some((point, view)) = chosen(wing, cx) else { return };
    let places = words::usual_decimals(view.unit);
    ui.spacing_mut().interact_size.y = 20.0;
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(&view.point).strong());
        marks::label(ui, &p, mark(view), words::standing(view));
    });
    let mut line = |name: &str, text: String| {
        ui.horizontal_wrapped(|ui| {
            ui.label(RichText::new(name).color(p.pale));
            ui.label(text);
        });
    };
    if let Some(d) = view.design {
        line("design", words::with_unit(d, view.unit, places));
    }
    if let Some(v) = view.value {
        let text = match view.u {
            Some(u) => format!(
                "{} ± {}",
                words::with_unit(v, view.unit, places),
                words::with_unit(2.0 * u, view.unit, places)
            ),
            None => words::with_unit(v, view.unit, places),
        };
        line("measured", text);
        let pair = if view.reversed { ", reversed" } else { "" };
        line("from", format!("{}{pair}", words::count(view.readings, "reading", "readings")));
    }
    if view.lower.is_some() || view.upper.is_some() {
        line("limits", words::limits(view.lower, view.upper, view.unit));
    }
    if let Some(by) = &view.judged_by {
        line("judged by", by.clone());
    }
    if let Some(pr) = view.probability {
        line("conforms with probability", format!("{:.1} %", pr * 100.0));
    }
    if let Some(why) = &view.stale_because {
        line("stale because", why.clone());
    }
    if let Some(decide) = &view.decide {
        line("to decide it", decide.clone());
    }
    if let Some(f) = view.facing_wanted {
        line("for a pair", format!("take it facing {} too", f.word()));
        if cx.state.facing != f && ui.button(format!("Turn to facing {}", f.word())).clicked() {
            cx.state.facing = f;
        }
    }
    if view.state != PointState::Missing && ui.button("History  (F5)").clicked() {
        cx.state.choose(point);
        cx.state.screen = super::Screen::Point;
    }
}

fn wanted(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let p = palette(ui);
    let list = &wing.assessment.wanted;
    if list.is_empty() {
        let text = match wing.assessment.stage {
            Some(_) => "Nothing is wanted at this stage.",
            None => "No stage has begun. Begin the first with S.",
        };
        ui.label(text);
        if wing.assessment.stage.is_none() && ui.button("Stages  (S)").clicked() {
            cx.state.dialog = Some(super::dialogs::Dialog::Stages);
        }
        return;
    }
    ui.label(format!("Still wanted: {}", list.len()));
    ui.horizontal_wrapped(|ui| {
        for name in list {
            let Some(view) = wing.assessment.points.iter().find(|v| v.point == *name) else { continue };
            let here = cx.state.point.as_ref().is_some_and(|x| x.to_string() == *name);
            let response = ui.selectable_label(here, format!("      {name}"));
            let at = response.rect.left_center() + vec2(18.0, 0.0);
            marks::draw(ui.painter(), &p, at, 5.0, mark(view));
            marks::name(&response, Role::Button, Some(here), &format!("wanted: {name}"));
            if response.clicked()
                && let Ok(point) = name.parse()
            {
                cx.state.choose(point);
            }
        }
    });
    if ui.button("Next  (N)").clicked() {
        cx.state.advance(wing);
    }
}
