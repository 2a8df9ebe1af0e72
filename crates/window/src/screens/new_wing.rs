//! The form that describes a new wing, with the drawing growing as it is filled in.

use super::table::{self, Row};
use super::{Cx, Screen, card, field, split};
use crate::action::Action;
use crate::draft::{Draft, PostDraft, SparDraft, StageDraft, StationDraft};
use crate::paint::marks;
use crate::paint::planform;
use crate::theme::palette;
use egui::{Button, RichText, Role, Sense, Ui, vec2};
use record::plan::{Attitude, Side};

/// The screen.
pub fn show(ui: &mut Ui, cx: &mut Cx<'_>) {
    let mut draft = std::mem::take(&mut cx.state.draft);
    drawing(ui, &draft);
    split(
        ui,
        0.5,
        760.0,
        cx,
        |ui, cx| {
            card(ui, |ui| wing(ui, &mut draft));
            card(ui, |ui| stations(ui, &mut draft));
            cx.state.draft = std::mem::take(&mut draft);
        },
        |ui, cx| {
            let mut draft = std::mem::take(&mut cx.state.draft);
            card(ui, |ui| structure(ui, &mut draft));
            card(ui, |ui| tolerances(ui, &mut draft));
            card(ui, |ui| stages(ui, &mut draft));
            card(ui, |ui| finish(ui, &mut draft, cx));
            cx.state.draft = draft;
        },
    );
}

fn drawing(ui: &mut Ui, draft: &Draft) {
    let p = palette(ui);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), 170.0), Sense::hover());
    let painter = ui.painter_at(rect);
    let words = match draft.sketch() {
        Some(plan) => {
            planform::draw(&painter, &p, &plan, &planform::Frame::fit(&plan, rect));
            format!("drawing of the wing, {} stations", plan.stations.len())
        }
        None => {
            let words = "The drawing begins with two stations that have a span and a chord.";
            let font = egui::FontId::proportional(15.0);
            let galley = painter.layout(words.to_owned(), font, p.pale, rect.width());
            painter.galley(rect.center() - galley.size() / 2.0, galley, p.pale);
            words.to_owned()
        }
    };
    marks::name(&response, Role::Image, None, &words);
}

fn wing(ui: &mut Ui, d: &mut Draft) {
    ui.heading("The wing");
    field(ui, "Name", &mut d.name, 260.0, "as it stands on the drawings");
    ui.horizontal_wrapped(|ui| {
        ui.label("Side");
        for (side, name) in [(Side::Left, "left"), (Side::Right, "right")] {
            if ui.selectable_label(d.side == side, name).clicked() {
                d.side = side;
            }
        }
    });
    ui.horizontal_wrapped(|ui| {
        ui.label("In the jig");
        for (attitude, name) in [
            (Attitude::ChordLevel, "chord level"),
            (Attitude::LeadingEdgeDown, "leading edge down"),
            (Attitude::LeadingEdgeUp, "leading edge up"),
        ] {
            if ui.selectable_label(d.attitude == attitude, name).clicked() {
                d.attitude = attitude;
            }
        }
    });
}

/// A small field named for what it holds and of what.
fn small(ui: &mut Ui, name: &str, hint: &'static str, text: &mut String, width: f32) {
    let edit = egui::TextEdit::singleline(text).desired_width(width).hint_text(hint);
    let response = ui.add(edit);
    let value = text.clone();
    response.widget_info(|| egui::WidgetInfo::text_edit(true, "", &value, ""));
    response.ctx.accesskit_node_builder(response.id, |node| node.set_label(name));
}

fn stations(ui: &mut Ui, d: &mut Draft) {
    ui.heading("Stations");
    ui.label(
        "From the root outboard: name, span, chord, design incidence. Plain numbers are mm and degrees.",
    );
    let mut gone = None;
    for (i, s) in d.stations.iter_mut().enumerate() {
        ui.horizontal_wrapped(|ui| {
            small(ui, &format!("name of station {}", i + 1), "name", &mut s.name, 54.0);
            small(ui, &format!("span of station {}", i + 1), "span", &mut s.span, 74.0);
            small(ui, &format!("chord of station {}", i + 1), "chord", &mut s.chord, 74.0);
            small(ui, &format!("incidence of station {}", i + 1), "incidence", &mut s.incidence, 84.0);
            if ui.button(format!("Drop {}", s.name)).clicked() {
                gone = Some(i);
            }
        });
    }
    if let Some(i) = gone {
        d.stations.remove(i);
    }
    ui.horizontal_wrapped(|ui| {
        if ui.button("Add a station").clicked() {
            let name = format!("S{}", d.stations.len() + 1);
            d.stations.push(StationDraft { name, ..StationDraft::default() });
        }
        let ready = d.sketch().is_some_and(|p| p.stations.len() >= 2);
        for n in [5, 7, 9, 12] {
            if ui.add_enabled(ready, Button::new(format!("{n} evenly"))).clicked() {
                d.fill_evenly(n);
            }
        }
    });
}

fn structure(ui: &mut Ui, d: &mut Draft) {
    ui.heading("Spars and posts");
    ui.label("Spars: name, how far aft at the root and at the tip.");
    let mut gone = None;
    for (i, s) in d.spars.iter_mut().enumerate() {
        ui.horizontal_wrapped(|ui| {
            small(ui, &format!("name of spar {}", i + 1), "name", &mut s.name, 80.0);
            small(ui, &format!("aft at the root of spar {}", i + 1), "at root", &mut s.aft_root, 74.0);
            small(ui, &format!("aft at the tip of spar {}", i + 1), "at tip", &mut s.aft_tip, 74.0);
            if ui.button(format!("Drop {} spar", s.name)).clicked() {
                gone = Some(i);
            }
        });
    }
    if let Some(i) = gone.take() {
        d.spars.remove(i);
    }
    if ui.button("Add a spar").clicked() {
        d.spars.push(SparDraft {
            name: if d.spars.len() == 1 { "rear".to_owned() } else { String::new() },
            ..SparDraft::default()
        });
    }
    ui.label("Posts: name, span, half the distance between the fore and aft foot.");
    for (i, s) in d.posts.iter_mut().enumerate() {
        ui.horizontal_wrapped(|ui| {
            small(ui, &format!("name of post {}", i + 1), "name", &mut s.name, 100.0);
            small(ui, &format!("span of post {}", i + 1), "span", &mut s.span, 74.0);
            small(ui, &format!("half foot of post {}", i + 1), "half", &mut s.half_foot, 74.0);
            if ui.button(format!("Drop {}", s.name)).clicked() {
                gone = Some(i);
            }
        });
    }
    if let Some(i) = gone {
        d.posts.remove(i);
    }
    if ui.button("Add a post").clicked() {
        d.posts.push(PostDraft { name: format!("post-{}", d.posts.len() + 1), ..PostDraft::default() });
    }
    if !d.posts.is_empty() {
        ui.label("Screws at feet and supports (clockwise raises):");
        field(ui, "travel a turn", &mut d.screw_per_turn, 90.0, "1.5 mm");
        field(ui, "travel either way", &mut d.travel, 90.0, "10 mm");
    }
}

fn tolerances(ui: &mut Ui, d: &mut Draft) {
    ui.heading("Tolerances");
    ui.label("From the kit maker's data, either way from the design. What is left empty gets no verdict.");
    for (_, words, text) in &mut d.tolerances {
        field(ui, words, text, 90.0, "none");
    }
    ui.heading("The level");
    field(ui, "name", &mut d.instrument.0, 150.0, "beam level");
    field(ui, "step of its display", &mut d.instrument.1, 90.0, "0.1°");
    field(ui, "accuracy its maker states", &mut d.instrument.2, 90.0, "0.1°");
}

fn stages(ui: &mut Ui, d: &mut Draft) {
    ui.heading("Stages of the build");
    let mut gone = None;
    for (i, s) in d.stages.iter_mut().enumerate() {
        ui.horizontal_wrapped(|ui| {
            small(ui, &format!("name of stage {}", i + 1), "name", &mut s.name, 130.0);
            for (on, name) in [
                (&mut s.level, "jig level"),
                (&mut s.incidence, "incidence"),
                (&mut s.disturbs, "disturbs the incidence"),
            ] {
                let response = ui.checkbox(on, name);
                let _ = response;
            }
            if ui.button(format!("Drop {}", s.name)).clicked() {
                gone = Some(i);
            }
        });
    }
    if let Some(i) = gone {
        d.stages.remove(i);
    }
    if ui.button("Add a stage").clicked() {
        d.stages.push(StageDraft::default());
    }
}

fn finish(ui: &mut Ui, d: &mut Draft, cx: &mut Cx<'_>) {
    let p = palette(ui);
    let wrong = d.wrong();
    field(ui, "Folder", &mut d.folder, 260.0, "where plan and log go");
    let folder =
        if d.folder.trim().is_empty() { cx.model.folder.clone() } else { d.folder.trim().to_owned() };
    ui.label(RichText::new(format!("{folder}: {0}.toml and {0}.jigtrue", d.file_name())).color(p.pale));
    ui.horizontal_wrapped(|ui| {
        if ui.add_enabled(wrong.is_empty(), Button::new("Write the plan and open the log")).clicked() {
            let (plan, name) = (d.plan_text(), d.file_name());
            cx.ask(Action::NewLog { plan, folder, name });
        }
        if ui.button("Back to the start").clicked() {
            cx.state.screen = Screen::Start;
        }
    });
    if !wrong.is_empty() {
        ui.label("Still to do:");
        let rows: Vec<Row> = wrong.iter().take(6).map(|w| Row::new(vec![w.as_str().into()])).collect();
        table::show(ui, "wrong", &[""], &rows, false);
        if wrong.len() > 6 {
            ui.label(format!("and {} more", wrong.len() - 6));
        }
    }
    ui.label("More can be said in the plan itself: lines, bays, bushes, spot checks. It is a text file.");
}
