//! What to move, and what was moved.

use super::table::{self, Row};
use super::{Cx, card, field};
use crate::action::Action;
use crate::live::Arrow;
use crate::model::Wing;
use crate::paint::big;
use crate::paint::marks;
use crate::plots;
use crate::theme::palette;
use crate::words;
use assess::advice::{Advice, AdviceState, Step};
use egui::{Button, FontFamily, FontId, RichText, Role, Sense, Ui, pos2, vec2};
use record::plan::{Adjust, Direction, Support};

/// The screen.
pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    match &wing.advice {
        Some(advice) => advised(ui, wing, cx, advice),
        None => cx.ask(Action::Advise),
    }
    card(ui, |ui| by_hand(ui, wing, cx));
    card(ui, |ui| made(ui, wing));
}

fn advised(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>, advice: &Advice) {
    let p = palette(ui);
    ui.label(RichText::new(&advice.words).size(20.0));
    for caution in &advice.cautions {
        ui.label(RichText::new(caution).color(p.outside));
    }
    for step in &advice.steps {
        step_line(ui, wing, cx, step);
    }
    if let (Some(twist), false) = (&wing.assessment.twist, advice.profile.is_empty()) {
        let ghost = advice.profile.iter().map(|s| (s.span_mm, s.twist_error.expected_deg)).collect();
        let height = (ui.available_height() - 200.0).clamp(190.0, 420.0);
        plots::profile::show(ui, wing, twist, height, false, (!advice.steps.is_empty()).then_some(&ghost));
        if !advice.steps.is_empty() {
            ui.label(RichText::new("Thick and dashed: the profile that should result.").color(p.pale));
        }
    }
    card(ui, |ui| expected(ui, advice));
    for reason in &advice.reasons {
        ui.label(reason);
    }
    for learned in &advice.learned {
        ui.label(RichText::new(&learned.words).color(p.pale));
    }
    ui.add_space(4.0);
}

/// A move as large as a hand on a screw needs it, and the way to record it.
fn step_line(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>, step: &Step) {
    let p = palette(ui);
    let width = ui.available_width();
    let size =
        big::fitting(ui.painter(), &step.words, &FontFamily::Proportional, vec2(width * 0.9, 46.0)).min(30.0);
    let (rect, response) = ui.allocate_exact_size(vec2(width, size * 1.4), Sense::hover());
    let painter = ui.painter_at(rect);
    let arrow = match (wing.plan.support(&step.support).map(|s| s.direction), step.amount_mm > 0.0) {
        (Some(Direction::Aft), true) => Arrow::Aft,
        (Some(Direction::Aft), false) => Arrow::Fore,
        (_, true) => Arrow::Up,
        (_, false) => Arrow::Down,
    };
    big::pointing(&painter, pos2(rect.left() + size * 0.6, rect.center().y), size * 0.5, arrow, p.chosen);
    let galley = painter.layout_no_wrap(step.words.clone(), FontId::proportional(size), p.ink);
    painter.galley(pos2(rect.left() + size * 1.3, rect.center().y - galley.size().y / 2.0), galley, p.ink);
    marks::name(&response, Role::Label, None, &step.words);
    let text = match step.turns {
        Some(turns) => words::turns(turns),
        None => format!("{:+} mm", step.amount_mm),
    };
    if ui.add_enabled(!wing.read_only, Button::new(format!("Done: {}", step.support))).clicked() {
        cx.ask(Action::Move { support: step.support.clone(), text });
    }
}

fn expected(ui: &mut Ui, advice: &Advice) {
    let places = |v: f64| words::signed_unit(v, "deg", 2);
    let row = |name: &str, e: &assess::advice::Expected| {
        let band = format!("{} to {}", places(e.lower_deg), places(e.upper_deg));
        Row::new(vec![name.into(), places(e.now_deg).into(), places(e.expected_deg).into(), band.into()])
    };
    let mut rows: Vec<Row> = advice.setting.iter().map(|e| row("setting", e)).collect();
    rows.extend(advice.profile.iter().map(|s| row(&s.name, &s.twist_error)));
    if !rows.is_empty() && advice.state != AdviceState::Measure {
        ui.label(RichText::new("Twist error now and after the moves").strong());
        table::show(ui, "expected", &["station", "now", "expected", "95 % of cases"], &rows, false);
    }
    if let (Some(now), Some(at)) = (advice.worst_now, &advice.worst_at) {
        let after = advice
            .worst_expected
            .filter(|_| !advice.steps.is_empty())
            .map_or_else(String::new, |x| format!(", {:.0} % after the moves", x * 100.0));
        ui.label(format!("The largest deviation uses {:.0} % of its tolerance ({at}){after}.", now * 100.0));
    }
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
            format!(
                "screw, {} a turn, clockwise moves it {turn}",
                words::with_unit(per_turn.value(), "mm", 2)
            )
        }
        Adjust::Shims { thicknesses } => {
            let list: Vec<String> = thicknesses.iter().map(|t| words::number(t.value(), 2)).collect();
            format!("shims of {} mm, {way}", list.join(", "))
        }
        Adjust::Fixed => "fixed".to_owned(),
    };
    format!(
        "{how}; travel {} and {}",
        words::signed_unit(-s.travel.minus.value(), "mm", 1),
        words::signed_unit(s.travel.plus.value(), "mm", 1)
    )
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
    if let Some(i) =
        table::show(ui, "supports", &["support", "carries", "moves by", "moved so far"], &rows, true)
        && let Some(s) = wing.plan.supports.get(i)
    {
        cx.state.move_support.clone_from(&s.name);
    }
    let mut support = std::mem::take(&mut cx.state.move_support);
    let mut text = std::mem::take(&mut cx.state.move_text);
    field(ui, "Support or foot", &mut support, 220.0, "its name");
    field(ui, "Moved by", &mut text, 220.0, "3/8 turn cw or 0.5 mm");
    let given = !support.trim().is_empty() && !text.trim().is_empty() && !wing.read_only;
    if ui.add_enabled(given, Button::new("Record this move")).clicked() {
        cx.ask(Action::Move { support: support.trim().to_owned(), text: text.trim().to_owned() });
        text.clear();
        support.clear();
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
    table::show(
        ui,
        "moves made",
        &["entry", "support", "as written", "moved", "by", "at (UTC)"],
        &rows,
        false,
    );
}
