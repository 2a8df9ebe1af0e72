//! Everything else: who is at the bench, the port, the other screens, the appearance.

use super::{Cx, Screen, notice, title};
use crate::action::Action;
use crate::draw::button::Button;
use crate::grid::table;
use crate::keys::Zoom;
use crate::model::{Person, Wing};
use crate::pages::{FilesFor, Page, TypeFor, Words, WordsFor};
use bench::HandsFree;
use egui::{Rect, Theme, Ui};

/// Asks who is at the bench.
pub fn who_page() -> Page {
    Page::Who { from: 0 }
}

/// What a cell does when it is pressed.
type Does = fn(&Ui, &Wing, &mut Cx<'_>);

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
    let stage = wing.assessment.stage.as_deref().unwrap_or("none begun");
    let free = yes(cx.s.measuring.hands_free == HandsFree::On);
    let cells: [(&str, &str, Does); 20] = [
        ("At the bench", &who, |_, _, cx| cx.s.open(who_page())),
        ("Port", &port, |_, wing, cx| open_port(wing, cx)),
        ("Stages", stage, |_, wing, cx| cx.s.open(Page::Stages { at: crate::reads::stage::next(wing) })),
        ("Shape", "spars, bays, bushes", |_, _, cx| cx.s.go(Screen::Shape)),
        ("History", "of a point", |_, _, cx| cx.s.go(Screen::History)),
        ("Watch", "for drift", |_, _, cx| cx.s.go(Screen::Watch)),
        ("Import", "a table", |_, _, cx| open_files(cx, FilesFor::Table)),
        ("Note", "into the log", |_, _, cx| cx.s.write(WordsFor::Note, "")),
        ("Leave open", "on purpose", |_, _, cx| cx.s.write(WordsFor::Item, "")),
        ("Part at", &part, |_, _, cx| cx.s.number(TypeFor::Part)),
        ("Hands free", free, |_, _, cx| turn_hands_free(cx)),
        ("Both facings", yes(looks.pairs), |_, _, cx| cx.s.looks.pairs = !cx.s.looks.pairs),
        ("Seen from", seen, |_, _, cx| cx.s.looks.turned = !cx.s.looks.turned),
        ("Hide design", yes(looks.blind), |_, _, cx| cx.s.looks.blind = !cx.s.looks.blind),
        ("Tone", yes(looks.tone), |_, _, cx| cx.s.looks.tone = !cx.s.looks.tone),
        (if dark { "Light" } else { "Dark" }, "Ctrl+D", |ui, _, cx| cx.s.other_theme(ui.ctx().theme())),
        ("Larger", &scale, |_, _, cx| cx.s.rescale(Zoom::Larger)),
        ("Smaller", "Ctrl+minus", |_, _, cx| cx.s.rescale(Zoom::Smaller)),
        ("Keys", "Ctrl+?", |_, _, cx| cx.s.open(Page::Keys)),
        ("Cautions", "read them again", |_, _, cx| cx.s.open(Page::Cautions)),
    ];
    let rect = table(middle, 5, 4, 8.0);
    let mut chosen = None;
    for (i, (text, second, does)) in cells.into_iter().enumerate() {
        let named = format!("{text}: {second}");
        if Button::new(rect(i), text, cx.g.pick(22.0, 28.0)).second(second).named(&named).show(ui) {
            chosen = Some(does);
        }
    }
    if let Some(does) = chosen {
        does(ui, wing, cx);
    }
    foot(ui, cx);
}

fn turn_hands_free(cx: &mut Cx<'_>) {
    cx.s.measuring.hands_free = match cx.s.measuring.hands_free {
        HandsFree::Off => HandsFree::On,
        HandsFree::On => HandsFree::Off,
    };
}

fn file_name(path: &str) -> String {
    path.rsplit(['/', '\\']).next().unwrap_or(path).to_owned()
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

/// A person with the role; chosen is who is at the bench.
pub fn person_button(ui: &Ui, cx: &Cx<'_>, rect: Rect, person: &Person, size: f32) -> bool {
    let (named, here) = (format!("Name {}", person.name), *person == cx.model.who);
    Button::new(rect, &person.name, size).second(person.role.word()).chosen_if(here).named(&named).show(ui)
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
    let rect = table(middle, 3, 2, gap);
    let size = cx.g.pick(30.0, 40.0);
    let mut chosen: Option<Person> = None;
    for (n, person) in cx.model.people.iter().skip(from).take(5).enumerate() {
        if person_button(ui, cx, rect(n), person, size) {
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
