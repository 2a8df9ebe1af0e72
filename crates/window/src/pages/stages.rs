//! The stages of the build: what each requires and disturbs, and beginning one.

use super::{Page, WordsFor, change};
use crate::action::Action;
use crate::draw::button::Button;
use crate::draw::text::{row, say};
use crate::screens::{Cx, list};
use egui::{Align, Ui};
use quantity::shown;

pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, at: usize) {
    let Some(wing) = &cx.model.wing else { return cx.s.close() };
    let x = cx.g.whole();
    let stages = &wing.plan.stages;
    let now = wing.assessment.stage.as_ref().and_then(|n| stages.iter().position(|s| s.name == *n));
    crate::screens::title(ui, cx, x, "Stages of the build", [&crate::reads::stage::words(wing), ""]);
    let side = cx.g.pick(84.0, 120.0);
    let middle = cx.g.middle(x);
    let note = row(middle.left(), middle.right() - side, middle.bottom() - 12.0, 18.0);
    let area = middle.with_max_x(middle.right() - side).with_max_y(middle.bottom() - 32.0);
    let rows: Vec<list::Row> = stages
        .iter()
        .enumerate()
        .map(|(i, s)| {
            let needs = shown::counted(s.requires.len(), "point required", "points required");
            let disturbs = shown::counted(s.disturbs.len(), "point disturbed", "points disturbed");
            let state = match now {
                Some(n) if n == i => "now",
                Some(n) if i < n => "begun before",
                _ => "",
            };
            list::Row::new(format!("{}. {}", i + 1, s.name), format!("{needs}, {disturbs}")).right(state, "")
        })
        .collect();
    let per = list::per_page(cx, area);
    let at = cx.s.row_from(at, stages.len());
    let from = at / per * per;
    let tapped = list::show(ui, cx, area, &rows, from, Some(at));
    let turners = list::stacked(middle.with_min_x(middle.right() - side + 12.0));
    let to = list::pager(ui, cx, turners, area, rows.len(), from);
    let at = tapped.unwrap_or(if to == from { at } else { to });
    let text = match stages.get(at) {
        Some(s) if !s.disturbs.is_empty() => format!(
            "Beginning it makes {} stale; they stay in the history.",
            shown::counted(s.disturbs.len(), "point", "points")
        ),
        _ => "It disturbs nothing that was measured.".to_owned(),
    };
    say(ui, note, Align::Min, cx.note(18.0, 22.0).least(15.0), "disturbs", &text);
    let [back, anyway, go] = cx.g.split(cx.g.buttons(x), cx.g.gap(), [1.0, 1.2, 2.6]);
    if Button::new(back, "Back", cx.g.pick(24.0, 30.0)).show(ui) {
        return cx.s.close();
    }
    let name = stages.get(at).map_or("", |s| s.name.as_str());
    let begun = (now == Some(at) && !wing.read_only).then_some("it has begun");
    let why = begun.or(cx.unwritable());
    let off = why.map(|_| "");
    if Button::new(anyway, "Anyway…", cx.g.pick(24.0, 30.0)).second("with a reason").unless(off).show(ui) {
        return cx.s.write(WordsFor::Anyway(name.to_owned()), "");
    }
    let text = format!("Begin {name}");
    let go = Button::new(go, &text, cx.g.pick(30.0, 38.0)).main().answering(name);
    if go.unless(why).show(ui) {
        cx.s.close();
        cx.s.measuring.past_summary = false;
        cx.s.measuring.point = None;
        return cx.ask_anew(Action::BeginStage(name.to_owned()));
    }
    change(cx, Page::Stages { at });
}
