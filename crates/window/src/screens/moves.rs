//! What to move, and what was moved.

use super::table::{self, Row};
use super::{Cx, card, field};
use crate::action::Action;
use crate::model::Wing;
use crate::words;
use egui::{RichText, Ui};
use record::plan::{Adjust, Direction, Support};

/// The screen.
pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    card(ui, |ui| by_hand(ui, wing, cx));
    card(ui, |ui| made(ui, wing));
}

/// How a support moves, in words.
fn adjust_words(s: &Support) -> String {
    let way = match s.direction {
        Direction::Up => "up",
        Direction::Aft => "aft",
    };
    let how = match &s.adjust {
        Adjust::Screw { per_turn, clockwise_raises } => {
            let turn = if *clockwise_raises { way.to_owned() } else { format!("against {way}") };
            format!("screw, {} a turn, clockwise moves it {turn}", words::with_unit(per_turn.value(), "mm", 2))
        }
        Adjust::Shims { thicknesses } => {
            let list: Vec<String> = thicknesses.iter().map(|t| words::number(t.value(), 2)).collect();
            format!("shims of {} mm, {way}", list.join(", "))
        }
        Adjust::Fixed => "fixed".to_owned(),
    };
    format!("{how}; travel {} and {}", words::signed_unit(-s.travel.minus.value(), "mm", 1), words::signed_unit(s.travel.plus.value(), "mm", 1))
}

fn by_hand(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    ui.label(RichText::new("Record a move made by hand").strong());
    if wing.plan.supports.is_empty() && wing.plan.posts.is_empty() {
        ui.label("The plan names no supports and no feet.");
        return;
    }
    let rows: Vec<Row> = wing
        .plan
        .supports
        .iter()
        .map(|s| {
            let moved: f64 =
                wing.assessment.moves.iter().filter(|m| m.support == s.name).map(|m| m.amount_mm).sum();
            Row {
                cells: vec![
                    s.name.as_str().into(),
                    format!("{} spar at {:.0} mm", s.spar, s.span.value()).into(),
                    adjust_words(s).into(),
                    words::signed_unit(moved, "mm", 2).into(),
                ],
                chosen: cx.state.move_support == s.name,
            }
        })
        .collect();
    if let Some(i) = table::show(ui, "supports", &["support", "carries", "moves by", "moved so far"], &rows, true)
        && let Some(s) = wing.plan.supports.get(i)
    {
        cx.state.move_support.clone_from(&s.name);
    }
    let mut support = std::mem::take(&mut cx.state.move_support);
    let mut text = std::mem::take(&mut cx.state.move_text);
    field(ui, "Support or foot", &mut support, 220.0, "its name");
    field(ui, "Moved by", &mut text, 220.0, "3/8 turn cw, 0.5 mm, +0.2 mm shim");
    let given = !support.trim().is_empty() && !text.trim().is_empty() && !wing.read_only;
    if ui.add_enabled(given, egui::Button::new("Record this move")).clicked() {
        cx.ask(Action::Move { support: support.trim().to_owned(), text: text.trim().to_owned() });
        text.clear();
    }
    cx.state.move_support = support;
    cx.state.move_text = text;
}

fn made(ui: &mut Ui, wing: &Wing) {
    let moves = &wing.assessment.moves;
    if moves.is_empty() {
        ui.label("No move is recorded yet.");
        return;
    }
    ui.label(RichText::new("Moves made").strong());
    let rows: Vec<Row> = moves
        .iter()
        .rev()
        .map(|m| {
            Row::new(vec![
                m.entry.to_string().into(),
                m.support.as_str().into(),
                m.text.as_str().into(),
                words::signed_unit(m.amount_mm, "mm", 2).into(),
                m.by.as_str().into(),
                words::instant(&m.at).into(),
            ])
        })
        .collect();
    table::show(ui, "moves made", &["entry", "support", "as written", "moved", "by", "at (UTC)"], &rows, false);
}
