//! Who is at the bench, which wing, go on.

use super::{Cx, Screen, gate, halves, lines, more, notice};
use crate::action::Action;
use crate::draw::button::Button;
use crate::draw::shape::{dashed, rule};
use crate::draw::text::{Hand, put, row, say, width};
use crate::grid::fit;
use crate::model::LogRow;
use crate::pages::{Ask, FilesFor, Page, Then, Words};
use crate::state::Nav;
use egui::{Align, Rect, Stroke, Theme, Ui, pos2, vec2};

pub fn show(ui: &mut Ui, cx: &mut Cx<'_>) {
    people(ui, cx);
    if cx.model.recent.is_empty() {
        empty(ui, cx);
    } else {
        recent(ui, cx);
    }
}

fn people(ui: &Ui, cx: &mut Cx<'_>) {
    let x = cx.g.whole();
    let bar = cx.g.title(x).with_min_y(cx.g.screen.top() + cx.g.pick(10.0, 24.0));
    let bar = bar.with_max_y(bar.top() + cx.g.pick(60.0, 88.0));
    let (label, dark) = (cx.g.pick(140.0, 220.0), cx.g.pick(96.0, 150.0));
    say(ui, bar.with_max_x(bar.left() + label), Align::Min, cx.heavy(24.0, 32.0), "bench", "At the bench");
    let right = bar.with_min_x(bar.right() - dark);
    let text = if ui.ctx().theme() == Theme::Dark { "Light" } else { "Dark" };
    let second = cx.if_roomy("Ctrl+D");
    if Button::new(right, text, cx.g.pick(21.0, 28.0)).second(second).show(ui) {
        cx.s.other_theme(ui.ctx().theme());
    }
    let free = bar.with_min_x(bar.left() + label + 10.0).with_max_x(right.left() - 26.0);
    let wide = cx.g.pick(118.0, 168.0);
    let gap = 8.0;
    // The last place is for another name.
    let fits = fit(free.width(), wide, gap).max(2) - 1;
    let all = &cx.model.people;
    // The person at the bench is always among those shown.
    let mut shown: Vec<_> = all.iter().rev().take(fits).cloned().collect();
    if !cx.model.who.name.is_empty() && !shown.contains(&cx.model.who) {
        shown.pop();
        shown.push(cx.model.who.clone());
    }
    shown.reverse();
    let mut left = free.left();
    for person in shown {
        let rect = Rect::from_min_size(pos2(left, free.top()), vec2(wide, free.height()));
        if more::person_button(ui, cx, rect, &person, cx.g.pick(21.0, 28.0)) {
            cx.ask(Action::SetWho(person));
        }
        left += wide + gap;
    }
    let nobody = cx.model.who.name.is_empty();
    let rect = Rect::from_min_size(
        pos2(left, free.top()),
        vec2(if nobody { wide * 1.34 } else { wide }, free.height()),
    );
    let add = Button::new(rect, "Add a name", cx.g.pick(20.0, 26.0));
    if (if nobody && all.is_empty() { add.main() } else { add }).show(ui) {
        cx.s.open(Page::Letters(Words::name("")));
    }
    rule(ui.painter(), bar.x_range(), bar.bottom() + cx.g.pick(8.0, 12.0), cx.p.rule);
}

fn empty(ui: &Ui, cx: &mut Cx<'_>) {
    let x = cx.g.whole();
    let top = cx.g.pick(90.0, 150.0);
    let title = cx.g.rect(x, top..=top + cx.g.pick(62.0, 90.0));
    say(ui, title, Align::Min, cx.heavy(54.0, 76.0), "title", "No wing here yet");
    let line = row(title.left(), title.right(), title.bottom() + cx.g.pick(18.0, 24.0), 20.0);
    let text = "A log keeps every reading of one wing, from the empty jig to the closed skins.";
    say(ui, line, Align::Min, cx.note(21.0, 27.0).least(16.0), "logs", text);
    let top = cx.g.pick(210.0, 330.0);
    let cards = cx.g.rect(x, top..=top + cx.g.pick(148.0, 220.0));
    let [setup, open, demo] = cx.g.split(cards, cx.g.gap(), [1.0, 1.0, 1.0]);
    let size = cx.g.pick(26.0, 36.0);
    if Button::new(setup, "Set up a wing", size).second("stations, posts, limits").show(ui) {
        cx.s.go(Screen::Setup);
    }
    if Button::new(open, "Open a log", size).second("from this machine or a stick").show(ui) {
        more::open_files(cx, FilesFor::Log);
    }
    if Button::new(demo, "Try the invented wing", size).second("nothing of yours is touched").show(ui) {
        try_demo(cx);
    }
    let below = cards.bottom() + cx.g.pick(28.0, 50.0);
    let first = Rect::from_min_max(pos2(cards.left(), below - 16.0), pos2(cards.right(), below + 16.0));
    let said = Rect::from_min_size(pos2(cards.left(), cards.bottom() + 8.0), vec2(cards.width(), 64.0));
    if !notice(ui, cx, said) {
        let text = "First put your name at the bench: every reading is kept with the name of who took it.";
        lines(ui, first, Hand::medium(cx.g.pick(20.0, 26.0), cx.p.ink).least(16.0), "first", text, 1);
        let text = "jigtrue measures and records; it does not approve. The drawings and a licensed person stand above it.";
        let next = first.translate(vec2(0.0, cx.g.pick(34.0, 46.0)));
        lines(ui, next, cx.note(18.0, 24.0).least(15.0), "approve", text, 1);
    }
}

fn try_demo(cx: &mut Cx<'_>) {
    let words = "Its readings are invented, and so are its limits. It is made in the folder you are in.";
    let answers = [
        ("Not now", Then::Nothing),
        ("From the empty jig", Then::Do(Action::DemoFromEmpty)),
        ("With its readings", Then::Do(Action::Demo)),
    ];
    cx.s.open(Page::Ask(Ask::new("The invented wing", words, answers)));
}

fn recent(ui: &Ui, cx: &mut Cx<'_>) {
    let x = cx.g.whole();
    let high = cx.g.pick(70.0, 96.0);
    let gap = 8.0;
    let top = cx.g.pick(86.0, 140.0);
    let bottom = cx.g.buttons_y().min - 8.0;
    let per = fit(bottom - top, high, gap);
    let count = cx.model.recent.len();
    cx.s.log = cx.s.row_from(cx.s.log, count);
    match cx.s.nav {
        Some(Nav::PageDown) => cx.s.log = (cx.s.log + per).min(count - 1),
        Some(Nav::PageUp) => cx.s.log = cx.s.log.saturating_sub(per),
        _ => {}
    }
    let from = if cx.s.log >= per { cx.s.log + 1 - per } else { 0 };
    let rows: Vec<(usize, LogRow)> =
        cx.model.recent.iter().cloned().enumerate().skip(from).take(per).collect();
    for (n, (i, log)) in rows.iter().enumerate() {
        let y = top + (high + gap) * n as f32;
        show_row(ui, cx, cx.g.rect(x, y..=y + high), log, *i);
    }
    buttons(ui, cx);
}

fn show_row(ui: &Ui, cx: &mut Cx<'_>, rect: Rect, log: &LogRow, i: usize) {
    let here = cx.s.log == i;
    // A copy of a log has the same wing: then the file tells them apart.
    let alike = !log.wing.is_empty() && cx.model.recent.iter().filter(|l| l.wing == log.wing).count() > 1;
    let title = log.title();
    let named = if alike { format!("Wing {title}, {}", log.file) } else { format!("Wing {title}") };
    let wide = cx.g.pick(100.0, 150.0);
    let mut target = rect;
    let block = Rect::from_min_max(
        pos2(rect.right() - 16.0 - wide, rect.top() + 13.0),
        pos2(rect.right() - 16.0, rect.bottom() - 13.0),
    );
    if log.problem.is_some() {
        target = rect.with_max_x(block.left() - 8.0);
    }
    let button = Button::new(target, "", 20.0).named(&named).nth(i).chosen_if(here);
    match (&log.problem, here) {
        (Some(_), false) => dashed(ui.painter(), rect, Stroke::new(1.5, cx.p.edge)),
        _ => Button { rect, ..button }.face(ui),
    }
    let ink = if log.problem.is_some() { cx.p.pale } else { cx.p.ink };
    let inner =
        Rect::from_min_max(pos2(rect.left() + 20.0, rect.top()), pos2(block.left() - 16.0, rect.bottom()));
    let [a, b] = halves(inner, 0.33, 0.73);
    put(ui.painter(), a, Align::Min, Hand::heavy(cx.g.pick(26.0, 34.0), ink).least(18.0), title);
    let note = cx.note(18.0, 23.0).least(15.0);
    let aside = log.last.as_str();
    let free = width(ui.painter(), &note, aside).min(inner.width() * 0.55);
    put(ui.painter(), row(b.right() - free - 1.0, b.right(), b.center().y, 14.0), Align::Max, note, aside);
    let stage = if alike { format!("{}: {}", log.file, log.stage) } else { log.stage.clone() };
    let under = log.problem.as_deref().unwrap_or(&stage);
    let hand = Hand { colour: if log.problem.is_some() { cx.p.ink } else { cx.p.pale }, ..note };
    put(ui.painter(), b.with_max_x(b.right() - free - 14.0), Align::Min, hand, under);
    if let Some(state) = log.gate.filter(|_| log.problem.is_none()) {
        gate::verdict(ui, cx, block, state);
    }
    if log.problem.is_some() {
        let named = format!("Look again for {title}");
        let again = Rect::from_center_size(block.center(), vec2(wide, (rect.height() - 16.0).max(48.0)));
        if Button::new(again, "Look again", cx.g.pick(19.0, 24.0)).named(&named).nth(i).show(ui) {
            cx.ask(Action::LookAgain);
        }
    }
    if button.target(ui).clicked() {
        cx.s.log = i;
    }
}

fn buttons(ui: &Ui, cx: &mut Cx<'_>) {
    let cell = cx.g.split(cx.g.buttons(cx.g.whole()), cx.g.gap(), [186.0, 186.0, 150.0, 310.0]);
    if cx.model.notice.as_ref().is_some_and(|n| n.wrong) {
        let bar = cx.g.buttons(cx.g.whole());
        notice(ui, cx, bar);
        return;
    }
    let size = cx.g.pick(23.0, 30.0);
    if Button::new(cell[0], "Open a log", size).show(ui) {
        more::open_files(cx, FilesFor::Log);
    }
    if Button::new(cell[1], "Set up a wing", size).show(ui) {
        cx.s.go(Screen::Setup);
    }
    if Button::new(cell[2], "Invented wing", size).show(ui) {
        try_demo(cx);
    }
    let Some(log) = cx.model.recent.get(cx.s.log).cloned() else { return };
    let text = format!("Go on, {}", log.title());
    let why = log.problem.as_deref();
    if Button::new(cell[3], &text, cx.g.pick(30.0, 38.0)).named("Go on").main().unless(why).show(ui) {
        cx.ask_anew(Action::OpenLog(log.path));
    }
}
