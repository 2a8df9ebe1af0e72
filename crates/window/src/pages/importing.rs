//! A table is being imported: the progress, and a way to stop it.

use crate::action::Action;
use crate::draw::button::Button;
use crate::draw::shape::frame;
use crate::draw::text::{row, say};
use crate::model::Import;
use crate::screens::Cx;
use egui::{Align, Rect, Stroke, Ui, pos2};
use quantity::shown;

pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, import: &Import) {
    let x = cx.g.whole();
    say(ui, cx.g.title(x), Align::Min, cx.heavy(52.0, 68.0), "title", "Importing a table");
    let middle = cx.g.middle(x);
    let line = |n: f32| row(middle.left(), middle.right(), middle.top() + 30.0 + 44.0 * n, 24.0);
    say(ui, line(0.0), Align::Min, cx.heavy(26.0, 32.0), "table", &import.table);
    let bar = line(1.2);
    frame(ui.painter(), bar, cx.p.well, Stroke::new(1.5, cx.p.edge));
    let share = import.share.clamp(0.0, 1.0);
    let done = Rect::from_min_max(bar.min, pos2(bar.left() + bar.width() * share, bar.bottom()));
    ui.painter().rect_filled(done, 6.0, cx.p.control);
    let lines = shown::counted(import.lines, "line", "lines");
    let text = format!("{lines}, {:.0} %. All of its readings are recorded, or none.", share * 100.0);
    say(ui, line(2.4), Align::Min, cx.body(), "so far", &text);
    let why = import.stopping.then_some("stopping");
    if Button::new(cx.g.buttons(x), "Stop it", cx.g.pick(28.0, 36.0)).unless(why).show(ui) {
        cx.ask(Action::StopImport);
    }
}
