//! Signing: in which capacity, what is stated, with which key.

use super::WordsFor;
use crate::action::Action;
use crate::draw::button::Button;
use crate::draw::text::row;
use crate::model::Wing;
use crate::screens::{Cx, lines, pair_row};
use assess::view::Verdict;
use egui::{Rect, Ui, pos2};
use record::GateState;

const USUAL: [&str; 2] = ["all readings seen", "seen as it is; not clear"];

/// What a signature says of the gate. After the closing it is about the decision to close, not about what came later.
pub fn signs(wing: &Wing) -> &'static str {
    match (wing.assessment.to_sign().state, &wing.assessment.decision) {
        (GateState::Hold, _) => "as seen, not clear",
        (GateState::Clear, Some(_)) => "the closing is clear",
        (GateState::Clear, None) => "the gate is clear",
    }
}

/// What the gate says, and what is not met after it.
fn says(wing: &Wing) -> String {
    let a = &wing.assessment;
    let gate = a.to_sign().state.word();
    let Some(after) = &a.after else { return format!("the gate says {gate}") };
    let (met, all) = (after.count(Verdict::Within), after.obligations.len());
    format!("the closing gate says {gate}; after it {} of {all} not met", all - met)
}

pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, key: &str, statement: &str) {
    let Some(wing) = &cx.model.wing else { return cx.s.close() };
    let x = cx.g.whole();
    let gate = wing.assessment.to_sign().state;
    let holds = gate == GateState::Hold;
    let title = if holds { "Sign as seen, not clear".to_owned() } else { format!("Sign: {}", signs(wing)) };
    crate::screens::title(ui, cx, x, &title, ["", ""]);
    let middle = cx.g.middle(x);
    let usual = USUAL[usize::from(holds)];
    let text = if statement.is_empty() { usual } else { statement };
    let role = cx.model.who.role.word();
    let who = if cx.model.who.name.is_empty() { "nobody yet" } else { cx.model.who.name.as_str() };
    let entries = wing.assessment.entries;
    let facts = [
        ("Who", format!("{who}, {role}")),
        ("States", text.to_owned()),
        ("Covers", format!("entries 1 to {entries}; {}", says(wing))),
        ("Key", if key.is_empty() { "none: signed by name alone".to_owned() } else { key.to_owned() }),
    ];
    let pitch = cx.g.pick(38.0, 54.0);
    for (i, (left, right)) in facts.iter().enumerate() {
        let at = row(middle.left(), middle.right(), middle.top() + pitch * (i as f32 + 0.5), 26.0);
        pair_row(ui, cx, at, left, right);
    }
    let top = middle.top() + pitch * 4.0 + 8.0;
    let line =
        Rect::from_min_max(pos2(middle.left(), top), pos2(middle.right(), top + cx.g.pick(56.0, 72.0)));
    let [a, b, c] = cx.g.split(line, cx.g.gap(), [1.0, 1.0, 1.0]);
    let size = cx.g.pick(22.0, 28.0);
    if Button::new(a, "Other words", size).show(ui) {
        return cx.s.write(WordsFor::Statement, text);
    }
    if Button::new(b, "Key file", size).show(ui) {
        return cx.s.write(WordsFor::KeyFile, key);
    }
    let why = key.is_empty().then_some("name its file first");
    if Button::new(c, "Make this key", size).unless(why).show(ui) {
        cx.ask(Action::MakeKey(key.to_owned()));
    }
    let rest = Rect::from_min_max(pos2(middle.left(), line.bottom() + 8.0), middle.max);
    let caution = "A signature cannot be undone. The kit maker's data, the local authority and a licensed person stand above it.";
    if !crate::screens::notice(ui, cx, rest) {
        lines(ui, rest, cx.note(19.0, 24.0).least(15.0), "caution", caution, 2);
    }
    buttons(ui, cx, key, text, holds);
}

fn buttons(ui: &Ui, cx: &mut Cx<'_>, key: &str, text: &str, holds: bool) {
    let [back, go] = cx.g.split(cx.g.buttons(cx.g.whole()), cx.g.gap(), [1.0, 2.4]);
    if Button::new(back, "Back", cx.g.pick(24.0, 30.0)).show(ui) {
        return cx.s.close();
    }
    let why = cx.unwritable();
    let label = format!("Sign, {}", cx.model.who.name);
    // Only what was read is signed: the question changes if the gate changes or an entry comes while the finger is on
    // its way.
    let seen = (holds, cx.model.wing.as_ref().map(crate::model::Wing::last_entry));
    let go = Button::new(go, &label, cx.g.pick(30.0, 38.0)).named("Sign it").main();
    if go.answering(seen).unless(why).show(ui) {
        let capacity = cx.model.who.role.word().to_owned();
        let key = Some(key.to_owned()).filter(|k| !k.is_empty());
        cx.s.close();
        cx.ask_anew(Action::Sign { capacity, statement: text.to_owned(), as_seen: holds, key });
    }
}
