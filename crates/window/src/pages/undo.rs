//! Asks why the last entry is undone. It stays in the log, struck out, with the reason.

use super::{Page, WordsFor, change};
use crate::action::Action;
use crate::draw::button::Button;
use crate::draw::text::{row, say};
use crate::screens::Cx;
use crate::state::Nav;
use egui::{Align, Rangef, Rect, Ui};

/// The reasons offered; any other is typed.
pub const REASONS: [&str; 6] =
    ["wrong station", "wrong facing", "it slipped", "read wrong", "knocked the jig", "other…"];

pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, seq: u64, reason: Option<usize>) {
    let Some(undo) = cx.index().undo.clone() else { return cx.s.close() };
    // A reason chosen for another entry does not count for this one.
    let reason = reason.filter(|_| undo.seq == seq);
    let Rangef { min: left, max: right } = cx.g.whole();
    let bar = cx.g.rect(left..=right, cx.g.pick(8.0, 24.0)..=cx.g.pick(66.0, 112.0));
    let title = format!("Undo {}?", undo.what);
    say(ui, bar, Align::Min, cx.heavy(52.0, 68.0).least(24.0), "title", &title);
    let facts = format!("{}. It stays in the log, struck out, with your reason.", undo.facts);
    let line = row(left, right, bar.bottom() + cx.g.pick(12.0, 20.0), 18.0);
    say(ui, line, Align::Min, cx.note(19.0, 24.0).least(15.0), "facts", &facts);
    let area =
        cx.g.rect(left..=right, cx.g.pick(108.0, 176.0)..=cx.g.buttons_y().min - cx.g.pick(28.0, 28.0));
    let chosen = chips(ui, cx, area, reason);
    let [keep, go] = cx.g.split(cx.g.buttons(left..=right), cx.g.gap(), [226.0, 529.0]);
    if Button::new(keep, "Keep it", cx.g.pick(24.0, 30.0)).show(ui) {
        return cx.s.close();
    }
    let text = chosen.and_then(|i| REASONS.get(i)).map_or("Undo".to_owned(), |r| format!("Undo: {r}"));
    let why = chosen.is_none().then_some("choose a reason first");
    let go = Button::new(go, &text, cx.g.pick(30.0, 38.0)).named("Undo it").main();
    if go.answering(undo.seq).unless(why).show(ui) {
        let last = REASONS.len() - 1;
        cx.s.close();
        match chosen {
            Some(i) if i < last && !undo.typed_reason => {
                cx.ask_anew(Action::Withdraw { seq: undo.seq, reason: REASONS[i].to_owned() });
            }
            Some(i) => {
                let text = if i < last { REASONS[i] } else { "" };
                cx.s.write(WordsFor::Reason(undo.seq), text);
            }
            None => {}
        }
        return;
    }
    change(cx, Page::Undo { seq: undo.seq, reason: chosen });
}

fn chips(ui: &Ui, cx: &Cx<'_>, area: Rect, reason: Option<usize>) -> Option<usize> {
    let mut chosen = reason;
    let cell = crate::grid::table(area, 3, 2, cx.g.gap());
    for (i, text) in REASONS.iter().enumerate() {
        if Button::new(cell(i), text, cx.g.pick(27.0, 34.0)).chosen_if(reason == Some(i)).show(ui) {
            chosen = Some(i);
        }
    }
    let at = chosen.map_or(-1, usize::cast_signed);
    let step = match cx.s.nav {
        Some(Nav::Right) => at + 1,
        Some(Nav::Left) => at - 1,
        Some(Nav::Down) => at + 3,
        Some(Nav::Up) => at - 3,
        _ => return chosen,
    };
    usize::try_from(step.clamp(0, REASONS.len().cast_signed() - 1)).ok()
}
