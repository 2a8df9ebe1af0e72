//! The cautions, at the first start and on demand.

use crate::action::Action;
use crate::draw::button::Button;
use crate::draw::text::say;
use crate::screens::{Cx, lines};
use egui::{Align, Ui};

pub const CAUTIONS: [&str; 6] = [
    "jigtrue measures and records. It does not approve. The kit maker's drawings and manual, the local authority and a \
     licensed person stand above it.",
    "It knows no tolerance but those in the plan, and those come from the kit maker's data. What has none gets no verdict.",
    "A wing on a jig can roll or drop. Before a support is moved, see that the others carry, that nobody reaches under, \
     and that clamps and straps hold.",
    "Springs and clamps let go suddenly; wear eye protection. Overhead work needs a second person.",
    "A propped aeroplane can fall, a cable under tension can whip, and a control can move by itself. The type's own data and \
     licensed practice come first.",
    "An instrument is only as good as its last check. Check its zero by reversing it before each round.",
];

pub fn show(ui: &mut Ui, cx: &mut Cx<'_>) {
    let x = cx.g.whole();
    say(ui, cx.g.title(x), Align::Min, cx.heavy(52.0, 68.0), "title", "Before you begin");
    let middle = cx.g.middle(x);
    let rect = crate::grid::table(middle.with_max_y(middle.bottom() - 6.0), 1, CAUTIONS.len(), 6.0);
    for (i, text) in CAUTIONS.iter().enumerate() {
        lines(ui, rect(i), cx.body().least(17.0), &format!("caution {i}"), text, 2);
    }
    if Button::new(cx.g.buttons(x), "I have read this", cx.g.pick(30.0, 38.0)).main().show(ui) {
        cx.s.pages.retain(|p| !matches!(p, super::Page::Cautions));
        cx.ask(Action::CautionsRead);
    }
}
