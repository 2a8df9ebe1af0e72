//! The screens, and what they share: the rail, the button row, one Undo.

pub mod chart;
pub mod gate;
pub mod history;
pub mod level;
pub mod list;
pub mod measure;
pub mod more;
pub mod moves;
pub mod profile;
pub mod rail;
pub mod setup;
pub mod shape;
pub mod start;
pub mod watch;

use crate::action::Action;
use crate::draw::button::Button;
pub(crate) use crate::draw::lines::lines;
use crate::draw::text::{Hand, name, put, say, width};
use crate::grid::Grid;
use crate::model::{Model, Wing};
use crate::pages::Page;
use crate::reads::Index;
use crate::state::State;
use crate::theme::Palette;
use egui::{Align, Key, Rangef, Rect, Ui, vec2};

quantity::words! {
    #[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
    pub enum Screen {
        /// Who is at the bench, which wing.
        #[default]
        Start = "Start",
        Setup = "Set up a wing",
        Measure = "Measure",
        Level = "Level",
        /// What to turn, and what was turned.
        Moves = "Moves",
        Profile = "Profile",
        /// May the skins go on?
        Gate = "Gate",
        More = "More",
        /// Straightness, spacing, bays, bushes, spots.
        Shape = "Shape",
        History = "History",
        /// An instrument left on the jig.
        Watch = "Watch",
    }
}

impl Screen {
    /// Those with a key of their own.
    pub const KEYED: [(Self, Key); 8] = [
        (Self::Measure, Key::F1),
        (Self::Level, Key::F2),
        (Self::Moves, Key::F3),
        (Self::Profile, Key::F4),
        (Self::Gate, Key::F5),
        (Self::Shape, Key::F6),
        (Self::History, Key::F7),
        (Self::Watch, Key::F8),
    ];
}

/// What a screen is drawn from, and where it puts what was asked for.
pub struct Cx<'a> {
    pub model: &'a Model,
    pub(crate) s: &'a mut State,
    pub ask: &'a mut Vec<Action>,
    pub g: Grid,
    pub p: Palette,
}

impl Cx<'_> {
    pub fn ask(&mut self, action: Action) {
        self.ask.push(action);
    }

    /// The same, with what was said before dealt with.
    pub fn ask_anew(&mut self, action: Action) {
        self.ask.extend([Action::DismissNotice, action]);
    }

    /// What was worked out from the log.
    pub(crate) fn index(&self) -> &Index {
        &self.s.index
    }

    /// Why nothing can be written under a name now.
    pub(crate) fn unwritable(&self) -> Option<&'static str> {
        match &self.model.wing {
            Some(wing) if wing.read_only => Some("read only"),
            _ => self.model.who.name.is_empty().then_some("say who is at the bench"),
        }
    }

    /// A text for which only a larger panel has room.
    pub fn if_roomy<'t>(&self, text: &'t str) -> &'t str {
        if self.g.roomy() { text } else { "" }
    }

    /// Text of a size by the grid, heavy.
    pub fn heavy(&self, compact: f32, roomy: f32) -> Hand {
        Hand::heavy(self.g.pick(compact, roomy), self.p.ink)
    }

    pub fn note(&self, compact: f32, roomy: f32) -> Hand {
        Hand::medium(self.g.pick(compact, roomy), self.p.pale)
    }

    pub fn body(&self) -> Hand {
        Hand::medium(self.g.pick(20.0, 22.0), self.p.ink)
    }
}

pub fn show(ui: &mut Ui, cx: &mut Cx<'_>) {
    let screen = cx.s.screen;
    let Some(wing) = &cx.model.wing else {
        match screen {
            Screen::Setup => setup::show(ui, cx),
            _ => start::show(ui, cx),
        }
        return;
    };
    let asked = crate::pages::bench_asks(&wing.live);
    if asked.is_none() {
        cx.s.asked_page = 0;
    }
    // Among the screws of a list each has to be read whole.
    if let Some(asked) = asked.as_ref().filter(|asked| asked.answers.iter().any(|answer| answer.listed)) {
        crate::pages::ask::show(ui, cx, asked);
        return;
    }
    // Level takes the whole screen: one hand is on a screw.
    if screen == Screen::Level && !wing.plan.posts.is_empty() {
        level::show(ui, wing, cx);
        return;
    }
    if screen == Screen::Moves && level::under_spars(wing).is_some() && cx.s.moving.told.is_some() {
        level::spars(ui, wing, cx);
        return;
    }
    if let Some(asked) = asked {
        crate::pages::ask::show(ui, cx, &asked);
        return;
    }
    rail::show(ui, wing, cx);
    match screen {
        Screen::Start | Screen::Setup | Screen::Measure => measure::show(ui, wing, cx),
        Screen::Level => level::none(ui, cx),
        Screen::Moves => moves::show(ui, wing, cx),
        Screen::Profile => profile::show(ui, wing, cx),
        Screen::Gate => gate::show(ui, wing, cx),
        Screen::More => more::show(ui, wing, cx),
        Screen::Shape => shape::show(ui, wing, cx),
        Screen::History => history::show(ui, wing, cx),
        Screen::Watch => watch::show(ui, wing, cx),
    }
}

/// Opens the question of Undo, if there is something to take back.
pub(crate) fn undo(s: &mut State, model: &Model) {
    let can = model.wing.as_ref().is_some_and(|w| !w.read_only);
    if let Some(undo) = s.index.undo.as_ref().filter(|_| can) {
        s.open(Page::Undo { seq: undo.seq, reason: None });
    }
}

/// The Undo button, which names what it would take back.
pub(crate) fn undo_button(ui: &Ui, cx: &mut Cx<'_>, rect: Rect) {
    let undo = cx.index().undo.clone();
    let roomy = cx.g.roomy();
    let second = match &undo {
        Some(u) if roomy => {
            // If there is no room for both, the meaning is shown instead of the key.
            let both = format!("{}, Ctrl+Z", u.what);
            let least = Hand::medium(crate::draw::text::LEAST, cx.p.pale);
            let fits = width(ui.painter(), &least, &both) <= rect.width() - 14.0;
            if fits { both } else { u.what.clone() }
        }
        Some(u) => u.short.clone(),
        None => "nothing of yours".to_owned(),
    };
    let size = cx.g.pick(22.0, 26.0);
    let why = undo.is_none().then_some(second.as_str());
    if Button::new(rect, "Undo", size).second(&second).unless(why).show(ui) {
        self::undo(cx.s, cx.model);
    }
}

/// The title of a screen, with two notes at its right end.
pub(crate) fn title(ui: &Ui, cx: &Cx<'_>, x: Rangef, text: &str, notes: [&str; 2]) {
    let row = cx.g.title(x);
    let first = cx.heavy(26.0, 32.0).least(18.0);
    let second = cx.note(17.0, 22.0);
    let painter = ui.painter();
    let wide = |h: &Hand, t: &str| width(painter, h, t);
    let notes_wide = wide(&first, notes[0]).max(wide(&second, notes[1])).min(row.width() * 0.45);
    let right = Rect::from_min_max(egui::pos2(row.right() - notes_wide - 1.0, row.top()), row.max);
    let [above, below] = halves(right, cx.g.pick(0.28, 0.26), cx.g.pick(0.76, 0.70));
    say(ui, above, Align::Max, first, "title note", notes[0]);
    say(ui, below, Align::Max, second, "title note 2", notes[1]);
    let free = if notes_wide > 0.0 { notes_wide + 16.0 } else { 0.0 };
    let left = row.with_max_x(row.right() - free);
    say(ui, left, Align::Min, cx.heavy(54.0, 68.0).least(28.0), "title", text);
}

/// Two lines in a row, with their middles at these shares of its height.
pub(crate) fn halves(row: Rect, first: f32, second: f32) -> [Rect; 2] {
    let line = |share: f32| {
        let y = row.top() + row.height() * share;
        Rect::from_center_size(egui::pos2(row.center().x, y), vec2(row.width(), 12.0))
    };
    [line(first), line(second)]
}

/// An error, in the row of the instruction, until it is dealt with; true if one is drawn.
pub(crate) fn notice(ui: &Ui, cx: &mut Cx<'_>, row: Rect) -> bool {
    let Some(notice) = cx.model.notice.as_ref().filter(|n| n.wrong) else { return false };
    let words = notice.words.clone();
    let wide = cx.g.pick(110.0, 150.0);
    let text = row.with_max_x(row.right() - wide - 12.0);
    let size = cx.g.pick(30.0, 48.0).min(30.0);
    lines(ui, text, Hand::heavy(size, cx.p.ink).least(15.0), "notice", &words, 3);
    let button = Rect::from_center_size(
        egui::pos2(row.right() - wide / 2.0, row.center().y),
        vec2(wide, row.height().min(64.0)),
    );
    if Button::new(button, "Seen", cx.g.pick(22.0, 26.0)).second("Esc").show(ui) {
        cx.ask(Action::DismissNotice);
    }
    true
}

/// An error, at the foot of an area; returns the area left above it.
pub(crate) fn notice_below(ui: &Ui, cx: &mut Cx<'_>, area: Rect) -> Rect {
    let line = area.with_min_y(area.bottom() - cx.g.pick(60.0, 72.0));
    if notice(ui, cx, line) { area.with_max_y(line.top() - 6.0) } else { area }
}

pub(crate) fn wing_words(wing: &Wing) -> String {
    let side = match wing.plan.wing.side {
        record::plan::Side::Left => "left wing",
        record::plan::Side::Right => "right wing",
        record::plan::Side::Both => "aeroplane",
    };
    let name = &wing.plan.wing.name;
    if name.to_lowercase().contains(side) { name.clone() } else { format!("{name}, {side}") }
}

/// A fact in a row: its name, and its value.
pub(crate) fn pair_row(ui: &Ui, cx: &Cx<'_>, at: Rect, left: &str, right: &str) {
    let painter = ui.painter();
    let column = cx.g.pick(160.0, 220.0).min(at.width() * 0.35);
    let first = cx.note(20.0, 24.0).least(15.0);
    put(painter, at.with_max_x(at.left() + column), Align::Min, first, left);
    let rest = at.with_min_x(at.left() + column + 10.0);
    let second = Hand::heavy(cx.g.pick(20.0, 24.0), cx.p.ink).least(15.0);
    put(painter, rest, Align::Min, second, right);
    name(ui, at, left, &format!("{left}: {right}"));
}
