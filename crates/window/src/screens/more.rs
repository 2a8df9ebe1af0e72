//! Everything else: who is at the bench, the port, the other screens, the appearance.

use super::{Cx, Screen, notice, title};
use crate::action::Action;
use crate::draw::button::Button;
use crate::keys::Zoom;
use crate::model::{Person, Wing};
use crate::pages::{FilesFor, Page, TypeFor, Typing, Words, WordsFor};
use bench::HandsFree;
use egui::{Rect, Theme, Ui, pos2, vec2};

/// Asks who is at the bench.
pub fn who_page() -> Page {
    Page::Who { from: 0 }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Do {
    Who,
    Port,
    Stages,
    Shape,
    History,
    Watch,
    Import,
    Note,
    Item,
    Part,
    HandsFree,
    Pairs,
    SeenFrom,
    Blind,
    Tone,
    Dark,
    Larger,
    Smaller,
    Keys,
    Cautions,
}

pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let x = cx.g.body();
    title(ui, cx, x, "More", [&super::wing_words(wing), &file_name(&wing.log)]);
    let middle = cx.g.middle(x);
    let port = wing.live.port_name().unwrap_or("none open").to_owned();
    let part =
        if cx.s.measuring.part.is_empty() { "not taken".to_owned() } else { cx.s.measuring.part.clone() };
    let yes = |b: bool| if b { "on" } else { "off" };
    let looks = cx.s.looks;
    let dark = ui.ctx().theme() == Theme::Dark;
    let who = if cx.model.who.name.is_empty() {
        "nobody yet".to_owned()
    } else {
        format!("{}, {}", cx.model.who.name, cx.model.who.role.word())
    };
    let scale = format!("now {:.0} %", looks.scale * 100.0);
    let seen = if super::measure::tip_left(wing, cx) { "tip at left" } else { "tip at right" };
    let cells: [(Do, &str, &str); 20] = [
        (Do::Who, "At the bench", &who),
        (Do::Port, "Port", &port),
        (Do::Stages, "Stages", wing.assessment.stage.as_deref().unwrap_or("none begun")),
        (Do::Shape, "Shape", "spars, bays, bushes"),
        (Do::History, "History", "of a point"),
        (Do::Watch, "Watch", "for drift"),
        (Do::Import, "Import", "a table"),
        (Do::Note, "Note", "into the log"),
        (Do::Item, "Leave open", "on purpose"),
        (Do::Part, "Part at", &part),
        (Do::HandsFree, "Hands free", yes(cx.s.measuring.hands_free == HandsFree::On)),
        (Do::Pairs, "Both facings", yes(looks.pairs)),
        (Do::SeenFrom, "Seen from", seen),
        (Do::Blind, "Hide design", yes(looks.blind)),
        (Do::Tone, "Tone", yes(looks.tone)),
        (Do::Dark, if dark { "Light" } else { "Dark" }, "Ctrl+D"),
        (Do::Larger, "Larger", &scale),
        (Do::Smaller, "Smaller", "Ctrl+minus"),
        (Do::Keys, "Keys", "Ctrl+?"),
        (Do::Cautions, "Cautions", "read them again"),
    ];
    let (columns, rows) = (5.0, 4.0);
    let gap = 8.0;
    let (wide, high) =
        ((middle.width() - gap * (columns - 1.0)) / columns, (middle.height() - gap * (rows - 1.0)) / rows);
    let mut chosen = None;
    for (i, (what, text, second)) in cells.into_iter().enumerate() {
        let (c, r) = ((i % 5) as f32, (i / 5) as f32);
        let rect = Rect::from_min_size(
            pos2(middle.left() + c * (wide + gap), middle.top() + r * (high + gap)),
            vec2(wide, high),
        );
        let named = format!("{text}: {second}");
        if Button::new(rect, text, cx.g.pick(22.0, 28.0)).second(second).named(&named).show(ui) {
            chosen = Some(what);
        }
    }
    if let Some(what) = chosen {
        act(ui, wing, cx, what);
    }
    foot(ui, cx);
}

fn file_name(path: &str) -> String {
    path.rsplit(['/', '\\']).next().unwrap_or(path).to_owned()
}

fn act(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, what: Do) {
    let words = |to| Page::Letters(Words::new(to, ""));
    match what {
        Do::Who => cx.s.open(who_page()),
        Do::Port => open_port(wing, cx),
        Do::Stages => cx.s.open(Page::Stages { at: crate::reads::stage::next(wing) }),
        Do::Shape => cx.s.go(Screen::Shape),
        Do::History => cx.s.go(Screen::History),
        Do::Watch => cx.s.go(Screen::Watch),
        Do::Import => open_files(cx, FilesFor::Table),
        Do::Note => cx.s.open(words(WordsFor::Note)),
        Do::Item => cx.s.open(words(WordsFor::Item)),
        Do::Part => cx.s.open(Page::Keypad(Typing::new(TypeFor::Part, ""))),
        Do::HandsFree => {
            cx.s.measuring.hands_free = match cx.s.measuring.hands_free {
                HandsFree::Off => HandsFree::On,
                HandsFree::On => HandsFree::Off,
            };
        }
        Do::Pairs => cx.s.looks.pairs = !cx.s.looks.pairs,
        Do::SeenFrom => cx.s.looks.turned = !cx.s.looks.turned,
        Do::Blind => cx.s.looks.blind = !cx.s.looks.blind,
        Do::Tone => cx.s.looks.tone = !cx.s.looks.tone,
        Do::Dark => cx.s.other_theme(ui.ctx().theme()),
        Do::Larger => cx.s.rescale(Zoom::Larger),
        Do::Smaller => cx.s.rescale(Zoom::Smaller),
        Do::Keys => cx.s.open(Page::Keys),
        Do::Cautions => cx.s.open(Page::Cautions),
    }
}

/// Asks which port; what is open is filled in already, otherwise the page chooses the port opened last.
pub fn open_port(wing: &Wing, cx: &mut Cx<'_>) {
    cx.ask(Action::ListPorts);
    let port = wing.live.port_name().unwrap_or_default().to_owned();
    let instrument =
        wing.live.instrument_name().map(str::to_owned).or_else(|| cx.s.measuring.instrument.clone());
    cx.s.open(Page::Port { port, instrument: instrument.unwrap_or_default(), from: 0 });
}

/// Asks which file; lists the folder anew.
pub fn open_files(cx: &mut Cx<'_>, to: FilesFor) {
    cx.ask(Action::ListFolder { path: String::new(), files: to.files() });
    cx.s.open(Page::Files { to, at: 0 });
}

fn foot(ui: &Ui, cx: &mut Cx<'_>) {
    let bar = cx.g.buttons(cx.g.body());
    let [open, close, main] = cx.g.split(bar, cx.g.gap(), [1.0, 1.0, 2.0]);
    let size = cx.g.pick(24.0, 30.0);
    if Button::new(open, "Open a log", size).show(ui) {
        open_files(cx, FilesFor::Log);
    }
    if Button::new(close, "Close it", size).show(ui) {
        cx.ask(Action::CloseLog);
    }
    if notice(ui, cx, main) {
        return;
    }
    if Button::new(main, "Measure", cx.g.pick(28.0, 36.0)).named("Go and measure").main().show(ui) {
        cx.s.go(Screen::Measure);
    }
}

/// Who is at the bench: names with their roles, and another.
pub fn who(ui: &mut Ui, cx: &mut Cx<'_>, from: usize) {
    let typed = crate::keys::typed(ui.ctx());
    if typed.chars().next().is_some_and(char::is_alphabetic) {
        return cx.s.open(Page::Letters(Words::name(&typed)));
    }
    let x = cx.g.whole();
    title(ui, cx, x, "Who is at the bench?", ["", ""]);
    let middle = cx.g.middle(x);
    let gap = cx.g.gap();
    let (wide, high) = ((middle.width() - 2.0 * gap) / 3.0, (middle.height() - gap) / 2.0);
    let rect = |i: usize| {
        let at =
            pos2(middle.left() + (i % 3) as f32 * (wide + gap), middle.top() + (i / 3) as f32 * (high + gap));
        Rect::from_min_size(at, vec2(wide, high))
    };
    let size = cx.g.pick(30.0, 40.0);
    let mut chosen: Option<Person> = None;
    for (n, person) in cx.model.people.iter().skip(from).take(5).enumerate() {
        let here = *person == cx.model.who;
        let named = format!("Name {}", person.name);
        if Button::new(rect(n), &person.name, size)
            .second(person.role.word())
            .chosen_if(here)
            .named(&named)
            .show(ui)
        {
            chosen = Some(person.clone());
        }
    }
    let shown = cx.model.people.len().saturating_sub(from).min(5);
    if Button::new(rect(shown), "Add a name", size).show(ui) {
        return cx.s.open(Page::Letters(Words::name("")));
    }
    if let Some(person) = chosen {
        cx.s.close();
        cx.ask(Action::SetWho(person));
        return;
    }
    let [back, more] = cx.g.split(cx.g.buttons(x), gap, [1.0, 1.0]);
    if Button::new(back, "Back", cx.g.pick(24.0, 30.0)).show(ui) {
        return cx.s.close();
    }
    let none = (cx.model.people.len() <= 5).then_some("these are all");
    if Button::new(more, "More names", cx.g.pick(24.0, 30.0)).unless(none).show(ui) {
        let next = if from + 5 < cx.model.people.len() { from + 5 } else { 0 };
        crate::pages::change(cx, Page::Who { from: next });
    }
}
