//! What the keys do.

use crate::draw::button::Button;
use crate::draw::text::{row, say};
use crate::keys::HELP;
use crate::screens::{Cx, pair_row};
use egui::{Align, Ui};

pub fn show(ui: &mut Ui, cx: &mut Cx<'_>) {
    let x = cx.g.whole();
    let bar = cx.g.title(x).with_max_y(cx.g.screen.top() + cx.g.pick(52.0, 100.0));
    say(ui, bar, Align::Min, cx.heavy(40.0, 68.0), "title", "Keys");
    let area = cx.g.rect(x, cx.g.pick(58.0, 120.0)..=cx.g.buttons_y().min - 6.0);
    let pitch = area.height() / HELP.len() as f32;
    for (i, (key, does)) in HELP.iter().enumerate() {
        let at = row(area.left(), area.right(), area.top() + pitch * (i as f32 + 0.5), pitch - 2.0);
        pair_row(ui, cx, at, key, does);
    }
    if Button::new(cx.g.buttons(x), "Back", cx.g.pick(28.0, 36.0)).main().show(ui) {
        cx.s.close();
    }
}
