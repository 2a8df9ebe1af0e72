//! A text is typed: a name, a reason, what is left open.

use super::keyboard::{self, Pressed, Shifts};
use super::{Page, change};
use crate::action::Action;
use crate::draft::fields::FieldRef;
use crate::draw::button::Button;
use crate::draw::shape::frame;
use crate::draw::text::{Hand, name, put, row, say};
use crate::model::{Person, Role};
use crate::screens::Cx;
use egui::{Align, Rangef, Rect, Stroke, Ui};
use record::{OpenAction, Point};

/// Longest name.
const NAME: usize = 40;

#[derive(Clone, Debug, PartialEq)]
pub struct Words {
    pub to: WordsFor,
    pub text: String,
    /// The role chosen, for a name.
    pub role: Role,
    pub shifts: Shifts,
}

#[derive(Clone, Debug, PartialEq)]
pub enum WordsFor {
    Name,
    Reason(u64),
    Note,
    /// What was done there outside the program.
    Rework(Point),
    Item,
    /// Why an open item is closed or carried past.
    ItemReason(String, OpenAction),
    /// Why this stage begins although something is not met.
    Anyway(String),
    /// What a signature states.
    Statement,
    KeyFile,
    Port,
    /// An instrument, by its name or its file.
    Gauge,
    /// An entry and its hash, copied from a sheet.
    OnPaper,
    /// A field of the form for a new wing.
    Field(FieldRef),
}

impl Words {
    pub fn new(to: WordsFor, text: &str) -> Self {
        let shifts = Shifts {
            capital: text.is_empty() && matches!(to, WordsFor::Name | WordsFor::Field(_)),
            other: false,
        };
        Self { to, text: text.to_owned(), role: Role::Builder, shifts }
    }

    pub fn name(text: &str) -> Self {
        Self::new(WordsFor::Name, text)
    }

    fn title(&self) -> String {
        match &self.to {
            WordsFor::Name => "Who is at the bench?".to_owned(),
            WordsFor::Reason(seq) => format!("Why is entry {seq} taken back?"),
            WordsFor::Note => "A note for the log".to_owned(),
            WordsFor::Rework(point) => format!("What was done at {}?", point.place()),
            WordsFor::Item => "What is left open?".to_owned(),
            WordsFor::ItemReason(item, OpenAction::Closed) => format!("How was it closed: {item}"),
            WordsFor::ItemReason(item, _) => format!("Why carry it past: {item}"),
            WordsFor::Anyway(name) => format!("Why begin {name} anyway?"),
            WordsFor::Statement => "What do you state?".to_owned(),
            WordsFor::KeyFile => "Your key file".to_owned(),
            WordsFor::Port => "The port, by its path".to_owned(),
            WordsFor::OnPaper => "Entry and hash on the sheet: 96 3f2a 91c0 \u{2026}".to_owned(),
            WordsFor::Gauge => "The instrument: its name, or its file".to_owned(),
            WordsFor::Field(f) => f.name.clone(),
        }
    }

    fn most(&self) -> usize {
        if self.to == WordsFor::Name { NAME } else { keyboard::MOST }
    }
}

pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, mut words: Words) {
    let Rangef { min: left, max: right } = cx.g.whole();
    let pressed = keyboard::hardware(ui, &mut words.text);
    words.text = words.text.chars().take(words.most()).collect();
    let top = cx.g.pick(8.0, 24.0);
    let title = cx.g.rect(left..=right, top..=top + cx.g.pick(42.0, 60.0));
    let text = words.title();
    say(ui, title, Align::Min, cx.heavy(34.0, 48.0).least(20.0), "title", &text);
    let entry = title.with_min_y(title.bottom() + 6.0).with_max_y(title.bottom() + 70.0);
    let field = if words.to == WordsFor::Name { roles(ui, cx, entry, &mut words.role) } else { entry };
    show_field(ui, cx, field, &words);
    let why = words.text.trim().is_empty().then_some("type it first");
    let below = entry.with_min_y(entry.bottom() + 14.0).with_max_y(cx.g.screen.bottom() - 12.0);
    let on_screen = if cx.s.keyboard_away {
        keyboard::away(ui, cx, why)
    } else {
        keyboard::show(ui, cx, below, &mut words.shifts, &mut words.text, why)
    };
    match pressed.or(on_screen) {
        Some(Pressed::Cancel) => cx.s.close(),
        Some(Pressed::Done) if why.is_none() => done(cx, &words),
        _ => change(cx, Page::Letters(words)),
    }
}

/// The roles beside a name; returns what is left of the row.
fn roles(ui: &Ui, cx: &Cx<'_>, entry: Rect, role: &mut Role) -> Rect {
    let cells = cx.g.cells(entry, 8.0, &[352.0, 130.0, 130.0, 130.0]);
    for (rect, r) in cells.iter().skip(1).zip(Role::ALL) {
        if Button::new(*rect, r.word(), cx.g.pick(21.0, 26.0)).chosen_if(*role == r).show(ui) {
            *role = r;
        }
    }
    cells.first().copied().unwrap_or(entry)
}

fn show_field(ui: &Ui, cx: &Cx<'_>, field: Rect, words: &Words) {
    frame(ui.painter(), field, cx.p.sheet, Stroke::new(3.0, cx.p.control));
    let count = format!("{} of {}", words.text.chars().count(), words.most());
    let inner = field.shrink2(egui::vec2(18.0, 4.0));
    let note = cx.note(16.0, 18.0);
    let at = put(ui.painter(), inner, Align::Max, note, &count);
    let text = row(inner.left(), at.left() - 14.0, inner.center().y, 40.0);
    let hand = Hand::heavy(cx.g.pick(36.0, 44.0), cx.p.ink).least(18.0);
    let end = put(ui.painter(), text, Align::Min, hand, &words.text);
    let x = if words.text.is_empty() { inner.left() } else { end.right() + 3.0 };
    let cursor =
        Rect::from_min_max(egui::pos2(x, inner.top() + 6.0), egui::pos2(x + 4.0, inner.bottom() - 6.0));
    ui.painter().rect_filled(cursor, 0.0, cx.p.control);
    name(ui, field, "field", &format!("typed: {}", words.text));
}

fn done(cx: &mut Cx<'_>, words: &Words) {
    let text = words.text.trim().to_owned();
    cx.s.close();
    match &words.to {
        WordsFor::Name => {
            cx.s.pages.retain(|p| !matches!(p, Page::Who { .. }));
            cx.ask(Action::SetWho(Person { name: text, role: words.role }));
        }
        WordsFor::Reason(seq) => cx.ask(Action::Withdraw { seq: *seq, reason: text }),
        WordsFor::Note => cx.ask(Action::Note(text)),
        WordsFor::Rework(point) => cx.ask_anew(Action::Rework { point: point.clone(), what: text }),
        WordsFor::OnPaper => cx.ask(Action::OnPaper(text)),
        WordsFor::Item => cx.ask(Action::OpenItem { item: text, action: OpenAction::Opened, reason: None }),
        WordsFor::ItemReason(item, action) => {
            cx.ask(Action::OpenItem { item: item.clone(), action: *action, reason: Some(text) });
        }
        WordsFor::Anyway(name) => {
            cx.s.pages.clear();
            cx.ask_anew(Action::BeginAnyway { name: name.clone(), reason: text });
        }
        WordsFor::Statement | WordsFor::KeyFile | WordsFor::Port | WordsFor::Gauge => {
            // The page below asked for it.
            match (&words.to, cx.s.pages.last_mut()) {
                (WordsFor::Statement, Some(Page::Sign { statement, .. })) => *statement = text,
                (WordsFor::KeyFile, Some(Page::Sign { key, .. })) => *key = text,
                (WordsFor::Port, Some(Page::Port { port, .. })) => *port = text,
                (WordsFor::Gauge, Some(Page::Port { instrument, .. })) => *instrument = text,
                _ => {}
            }
        }
        WordsFor::Field(f) => cx.s.draft.set(f.part, f.at, &text),
    }
}
