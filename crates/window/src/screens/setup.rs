//! A new wing, field by field: its stations, spars, a jig that can be levelled, limits from the kit maker's data.

use super::{Cx, Screen, list, more, notice, title};
use crate::action::Action;
use crate::draft::fields::{Field, FieldRef, Part, Takes};
use crate::draw::button::Button;
use crate::grid::{fit, table};
use crate::pages::{FilesFor, TypeFor, WordsFor};
use egui::{Rect, Ui};

pub fn show(ui: &mut Ui, cx: &mut Cx<'_>) {
    let x = cx.g.whole();
    let wrong = cx.s.draft.wrong();
    let left = if wrong.is_empty() { "ready".to_owned() } else { format!("{} to fill in", wrong.len()) };
    title(ui, cx, x, "Set up a wing", [&left, "limits come from the kit maker's data"]);
    let middle = cx.g.middle(x);
    let tabs = middle.with_max_y(middle.top() + cx.g.pick(52.0, 64.0));
    for (rect, part) in cx.g.cells(tabs, 8.0, &[1.0; 6]).into_iter().zip(Part::ALL) {
        let here = cx.s.setup == part;
        if Button::new(rect, part.word(), cx.g.pick(20.0, 26.0)).chosen_if(here).show(ui) {
            cx.s.setup = part;
            cx.s.top = 0;
        }
    }
    let area = middle.with_min_y(tabs.bottom() + 8.0);
    cells(ui, cx, area);
    buttons(ui, cx, &wrong);
}

/// The fields of the part, three in a row; the last column turns the page.
fn cells(ui: &Ui, cx: &mut Cx<'_>, area: Rect) {
    let part = cx.s.setup;
    let fields = cx.s.draft.fields(part);
    let side = cx.g.pick(90.0, 120.0);
    let grid = area.with_max_x(area.right() - side - 10.0);
    let (columns, rows) = (4, fit(grid.height(), cx.g.pick(64.0, 84.0), 8.0));
    let (per, cell) = (columns * rows, table(grid, columns, rows, 8.0));
    let from = cx.s.top.min(fields.len().saturating_sub(1)) / per * per;
    let mut chosen = None;
    for (n, (i, f)) in fields.iter().enumerate().skip(from).take(per).enumerate() {
        let value = match (f.value.is_empty(), f.optional) {
            (true, true) => "none".to_owned(),
            (true, false) => "to fill in".to_owned(),
            _ => f.value.clone(),
        };
        if Button::new(cell(n), &f.name, cx.g.pick(20.0, 25.0)).second(&value).show(ui) {
            chosen = Some((i, f.clone()));
        }
    }
    let turners = list::stacked(area.with_min_x(area.right() - side));
    cx.s.top = list::turn(ui, cx, turners, grid, fields.len(), per, from);
    if let Some((at, field)) = chosen {
        open(cx, part, at, &field);
    }
}

fn open(cx: &mut Cx<'_>, part: Part, at: usize, field: &Field) {
    let to = |kind| FieldRef { part, at, name: field.name.clone(), kind };
    match field.takes {
        Takes::Tap => cx.s.draft.tap(part, at),
        Takes::Text => cx.s.write(WordsFor::Field(to(None)), &field.value),
        Takes::Number(kind) => cx.s.number(TypeFor::Field(to(Some(kind)))),
    }
}

fn buttons(ui: &Ui, cx: &mut Cx<'_>, wrong: &[String]) {
    let x = cx.g.whole();
    let bar = cx.g.buttons(x);
    if notice(ui, cx, bar) {
        return;
    }
    let [back, plan, main] = cx.g.split(bar, cx.g.gap(), [1.0, 1.2, 3.0]);
    let size = cx.g.pick(24.0, 30.0);
    if Button::new(back, "Back", size).show(ui) {
        cx.s.go(Screen::Start);
        return;
    }
    if Button::new(plan, "From a plan", size).show(ui) {
        more::open_files(cx, FilesFor::Plan);
        return;
    }
    let nobody = cx.model.who.name.is_empty().then(|| "put your name at the bench first".to_owned());
    let why = nobody.or_else(|| wrong.first().cloned());
    let text = format!(
        "Begin the log of {}",
        if cx.s.draft.name.is_empty() { "the wing" } else { &cx.s.draft.name }
    );
    if Button::new(main, &text, cx.g.pick(28.0, 36.0))
        .named("Begin the log")
        .main()
        .unless(why.as_deref())
        .show(ui)
    {
        let plan = cx.s.draft.plan_text();
        let name = cx.s.draft.file_name();
        cx.ask_anew(Action::NewLog { plan, folder: cx.model.folder.clone(), name });
    }
}
