//! May the skins go on? Every reason against it, every required point, what was left open, and the sign-off.

use super::table::{self, Row, marked};
use super::{Cx, card, field, split};
use crate::action::Action;
use crate::model::{Chain, Wing};
use crate::paint::marks::{self, Mark};
use crate::theme::palette;
use crate::words;
use assess::Verdict;
use assess::view::PointView;
use egui::{RichText, Role, Sense, Ui, vec2};
use record::{GateState, OpenAction};

/// What stands in the form for the sign-off.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SignForm {
    /// In what capacity.
    pub capacity: String,
    /// What is stated.
    pub statement: String,
    /// True to sign although the gate holds.
    pub as_seen: bool,
    /// A key file, if one is to be signed with.
    pub key: String,
}

/// The screen.
pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    answer(ui, wing);
    split(
        ui,
        0.55,
        700.0,
        cx,
        |ui, cx| {
            card(ui, |ui| reasons(ui, wing, cx));
            card(ui, |ui| required(ui, wing, cx));
        },
        |ui, cx| {
            card(ui, |ui| open_items(ui, wing, cx));
            card(ui, |ui| trust(ui, wing, cx));
            card(ui, |ui| sign(ui, wing, cx));
        },
    );
}

fn answer(ui: &mut Ui, wing: &Wing) {
    let p = palette(ui);
    let gate = &wing.assessment.gate;
    let (mark, colour, text) = match gate.state {
        GateState::Clear => (
            Mark::Of(Verdict::Within),
            p.within,
            "Clear: nothing recorded stands against closing the skins.".to_owned(),
        ),
        GateState::Hold => {
            let n = words::count(gate.reasons.len(), "reason", "reasons");
            (Mark::Of(Verdict::Outside), p.outside, format!("Hold: {n} against closing the skins."))
        }
    };
    ui.horizontal_wrapped(|ui| {
        let (rect, response) = ui.allocate_exact_size(vec2(40.0, 40.0), Sense::hover());
        marks::draw(ui.painter(), &p, rect.center(), 15.0, mark);
        marks::name(&response, Role::Image, None, gate.state.word());
        ui.label(RichText::new(text).size(24.0).color(colour));
    });
    ui.label(RichText::new(&wing.assessment.rule.words).color(p.pale));
    ui.label(
        RichText::new(
            "The kit maker's data, the local authority and a licensed person stand above this answer.",
        )
        .color(p.pale),
    );
}

fn reasons(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let p = palette(ui);
    let list = &wing.assessment.gate.reasons;
    ui.label(RichText::new("What stands against it, the weightiest first").strong());
    if list.is_empty() {
        ui.label("Nothing.");
    }
    for reason in list {
        ui.horizontal_wrapped(|ui| {
            marks::icon(ui, &p, reason_mark(reason.kind));
            ui.label(&reason.words);
            let point = reason.about.as_deref().and_then(|a| a.parse::<record::Point>().ok());
            if let Some(point) = point
                && ui.button(format!("Go to {point}")).clicked()
            {
                cx.state.choose(point);
                cx.state.screen = super::Screen::Measure;
            }
        });
    }
}

fn reason_mark(kind: assess::view::ReasonKind) -> Mark {
    use assess::view::ReasonKind as K;
    match kind {
        K::Outside | K::Chain => Mark::Of(Verdict::Outside),
        K::CannotJudge => Mark::Of(Verdict::CannotJudge),
        K::Doubtful => Mark::Of(Verdict::Doubtful),
        K::Missing => Mark::Of(Verdict::Missing),
        K::Stale => Mark::Of(Verdict::Stale),
        K::Undecided | K::Remeasure => Mark::Of(Verdict::Undecided),
        K::Stage | K::Open => Mark::Plain,
    }
}

fn required(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let list: Vec<&PointView> = wing.assessment.points.iter().filter(|v| v.required).collect();
    ui.label(RichText::new("Points required").strong());
    if list.is_empty() {
        ui.label("The stage requires none.");
        return;
    }
    let rows: Vec<Row> = list
        .iter()
        .map(|v| {
            let value = match (v.value, v.u) {
                (Some(x), Some(u)) => {
                    let places = words::usual_decimals(v.unit.base_symbol());
                    format!(
                        "{} ± {}",
                        words::with_unit(x, v.unit.base_symbol(), places),
                        words::with_unit(2.0 * u, v.unit.base_symbol(), places)
                    )
                }
                (Some(x), None) => {
                    words::with_unit(x, v.unit.base_symbol(), words::usual_decimals(v.unit.base_symbol()))
                }
                _ => "–".to_owned(),
            };
            let why = v
                .stale_because
                .clone()
                .or_else(|| v.decide.clone())
                .or_else(|| v.judged_by.as_ref().map(ToString::to_string));
            Row {
                cells: vec![
                    v.point.to_string().into(),
                    value.into(),
                    marked(super::measure::mark(v), words::standing(v)),
                    why.unwrap_or_default().into(),
                ],
                chosen: cx.state.point.as_ref().is_some_and(|p| *p == v.point),
            }
        })
        .collect();
    if let Some(i) = table::show(ui, "required", &["point", "value ± U", "state", "why"], &rows, true)
        && let Some(point) = list.get(i).map(|v| v.point.clone())
    {
        cx.state.choose(point);
    }
}

fn open_items(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let p = palette(ui);
    ui.label(RichText::new("Left open on purpose").strong());
    let list = &wing.assessment.open_items;
    if list.is_empty() {
        ui.label("Nothing.");
    }
    let mut reason = std::mem::take(&mut cx.state.item_reason);
    for item in list {
        ui.horizontal_wrapped(|ui| {
            let (mark, word) = match item.action {
                OpenAction::Opened => (Mark::Of(Verdict::Missing), "open"),
                OpenAction::Closed => (Mark::Of(Verdict::Within), "closed"),
                OpenAction::Carried => (Mark::Of(Verdict::Undecided), "carried past"),
            };
            marks::label(ui, &p, mark, word);
            ui.label(&item.item);
            if let Some(why) = &item.reason {
                ui.label(RichText::new(why).color(p.pale));
            }
            if item.action == OpenAction::Opened && !wing.read_only {
                let given = Some(reason.trim().to_owned()).filter(|r| !r.is_empty());
                if ui.button(format!("Close: {}", item.item)).clicked() {
                    cx.ask(Action::OpenItem {
                        item: item.item.clone(),
                        action: OpenAction::Closed,
                        reason: given.clone(),
                    });
                }
                let carry =
                    ui.add_enabled(given.is_some(), egui::Button::new(format!("Carry past: {}", item.item)));
                if carry.on_disabled_hover_text("Write the reason below first.").clicked() {
                    cx.ask(Action::OpenItem {
                        item: item.item.clone(),
                        action: OpenAction::Carried,
                        reason: given,
                    });
                }
            }
        });
    }
    if list.iter().any(|i| i.action == OpenAction::Opened) {
        field(ui, "Reason", &mut reason, 260.0, "how closed, or why carried");
    }
    cx.state.item_reason = reason;
    let mut text = std::mem::take(&mut cx.state.open_item);
    field(ui, "Leave open", &mut text, 260.0, "what is not to be done yet");
    let given = !text.trim().is_empty() && !wing.read_only;
    if ui.add_enabled(given, egui::Button::new("Add to what is left open")).clicked() {
        cx.ask(Action::OpenItem { item: text.trim().to_owned(), action: OpenAction::Opened, reason: None });
        text.clear();
    }
    cx.state.open_item = text;
}

fn trust(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let p = palette(ui);
    let a = &wing.assessment;
    ui.label(RichText::new("The log").strong());
    ui.horizontal_wrapped(|ui| {
        let (mark, text) = match &wing.chain {
            Chain::NotWalked => (Mark::Of(Verdict::Undecided), "the chain was not walked yet".to_owned()),
            Chain::Whole(n) => (Mark::Of(Verdict::Within), format!("the chain is whole: {n} entries")),
            Chain::Broken(why) => (Mark::Of(Verdict::Outside), why.clone()),
        };
        marks::icon(ui, &p, mark);
        ui.label(text);
        if ui.button("Walk the chain").clicked() {
            cx.ask(Action::WalkChain);
        }
    });
    for doubt in &a.doubts {
        ui.label(&doubt.words);
    }
    for i in a.instruments.iter().filter(|i| i.readings > 0) {
        let due =
            i.due.as_ref().map_or_else(|| "no check date".to_owned(), |d| format!("check runs out {d}"));
        let late = if i.past_due > 0 {
            format!(", {} taken after", words::count(i.past_due, "reading", "readings"))
        } else {
            String::new()
        };
        ui.label(format!("{}: {}, {due}{late}", i.name, words::count(i.readings, "reading", "readings")));
    }
    for z in &a.zeros {
        let moved = if z.moved { ", it moved within the round" } else { "" };
        let zero = words::signed_unit(z.zero_deg, "deg", 3);
        ui.label(format!(
            "{} round {}: zero {zero} from {}{moved}",
            z.instrument,
            z.round,
            words::count(z.pairs, "pair", "pairs")
        ));
    }
    for w in &a.withdrawn {
        ui.label(
            RichText::new(format!("entry {} withdrawn by {}: {} ({})", w.entry, w.by, w.reason, w.what))
                .color(p.pale),
        );
    }
}

fn sign(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let p = palette(ui);
    ui.label(RichText::new("Sign").strong());
    for s in &wing.assessment.signatures {
        ui.label(format!(
            "{} signed as {} on {}, gate {}: {}; {}; {}",
            s.who,
            s.capacity,
            s.when,
            s.gate.word(),
            s.statement,
            s.since_words(),
            s.seal_words()
        ));
    }
    let mut form = std::mem::take(&mut cx.state.sign);
    let who = if cx.model.who.is_empty() { "nobody named" } else { cx.model.who.as_str() };
    ui.label(format!("Signing: {who}"));
    field(ui, "As", &mut form.capacity, 220.0, "builder, inspector");
    field(ui, "I state", &mut form.statement, 320.0, "what you have seen");
    field(ui, "Key file", &mut form.key, 260.0, "none; or an Ed25519 key file");
    let key = form.key.trim().to_owned();
    if !key.is_empty()
        && ui
            .button("Make this key file")
            .on_hover_text("It is made new, for you alone to read; one that is there is never written over.")
            .clicked()
    {
        cx.ask(Action::MakeKey(key));
    }
    let holds = wing.assessment.gate.state == GateState::Hold;
    if holds {
        ui.checkbox(&mut form.as_seen, "the gate holds; sign for what was seen, not for closing");
    }
    let given =
        !form.capacity.trim().is_empty() && !form.statement.trim().is_empty() && !cx.model.who.is_empty();
    let can = given && (!holds || form.as_seen) && !wing.read_only;
    ui.horizontal_wrapped(|ui| {
        if ui.add_enabled(can, egui::Button::new("Sign it")).clicked() {
            cx.ask(Action::Sign {
                capacity: form.capacity.trim().to_owned(),
                statement: form.statement.trim().to_owned(),
                as_seen: form.as_seen,
                key: Some(form.key.trim().to_owned()).filter(|k| !k.is_empty()),
            });
            form = SignForm { key: form.key.clone(), ..SignForm::default() };
        }
        if ui.button("Write the sheet").clicked() {
            cx.ask(Action::WriteSheet);
        }
        ui.label(RichText::new(format!("to {}", wing.sheet)).color(p.pale));
    });
    if cx.model.who.is_empty() {
        ui.label("Say first who is working, above.");
    }
    cx.state.sign = form;
}
