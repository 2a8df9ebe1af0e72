//! What the window itself remembers, by screen.

use crate::draft::Draft;
use crate::pages::{Page, TypeFor, Typing, Words, WordsFor};
use crate::reads::Index;
use crate::reads::index::Facings;
use crate::screens::Screen;
use bench::HandsFree;
use egui::Theme;
use record::{Facing, Point};

/// Where to go on a screen, by a key.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Nav {
    Left,
    Right,
    Up,
    Down,
    PageUp,
    PageDown,
}

/// What was just taken, shown until the plate turns back.
#[derive(Clone, Debug, PartialEq)]
pub struct JustTaken {
    pub point: Point,
    pub facing: Option<Facing>,
    pub figures: String,
    /// When the plate turns back, in the toolkit's seconds.
    pub until: f64,
}

/// A reading that was asked for and is not in the log yet.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    pub point: Point,
    /// The last entry before it was asked for.
    pub after: u64,
    /// What was typed, to be shown again if it cannot be written.
    pub typed: Option<Typing>,
}

/// What Measure and Level share: the point and how the instrument sits.
#[derive(Clone, Debug)]
pub struct Measuring {
    pub point: Option<Point>,
    pub facing: Facing,
    pub instrument: Option<String>,
    pub asked: Option<Asked>,
    pub taken: Option<JustTaken>,
    /// True while the stage's summary is set aside to look at a point.
    pub past_summary: bool,
    /// Temperature of the part, as typed.
    pub part: String,
    /// The next typed reading begins a round.
    pub new_round: bool,
    /// Whether settled values are taken automatically where they are shown.
    pub hands_free: HandsFree,
}

impl Measuring {
    /// Which way the instrument faces at a point; `None` if nothing reverses there.
    pub fn facing_at(&self, point: &Point) -> Option<Facing> {
        point.kind().reverses().then_some(self.facing)
    }

    /// Temperature of the part, if one was typed.
    pub fn temperature(&self) -> Option<String> {
        Some(self.part.clone()).filter(|t| !t.is_empty())
    }
}

/// What Level and Moves remember.
#[derive(Clone, Debug, Default)]
pub struct Moving {
    pub support: Option<String>,
    /// What the bench was told about the moves, while they go on.
    pub told: Option<Told>,
}

/// What the bench was told about the moves.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// The tilt of a post that the instrument's own axis measures; `None` under the spars.
    pub tilt: Option<Point>,
    pub facing: Facing,
}

/// What the gate remembers.
#[derive(Clone, Debug, Default)]
pub struct Gating {
    pub row: usize,
    /// True while the board is shown on a small panel.
    pub board: bool,
    /// True while the evidence of the row is shown.
    pub evidence: bool,
    /// Only obligations in this state, if one was tapped.
    pub only: Option<assess::view::Verdict>,
    /// Which part of the gate is shown.
    pub part: crate::reads::board::Part,
    /// The first line shown, if the evidence is longer than the screen.
    pub line: usize,
}

impl Gating {
    /// Shows another part from its beginning.
    pub fn turn_to(&mut self, part: crate::reads::board::Part) {
        *self = Self { part, board: self.board, ..Self::default() };
    }
}

impl Default for Measuring {
    fn default() -> Self {
        Self {
            point: None,
            facing: Facing::Forward,
            instrument: None,
            asked: None,
            taken: None,
            past_summary: false,
            part: String::new(),
            new_round: false,
            hands_free: HandsFree::Off,
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Looks {
    pub theme: Option<Theme>,
    pub scale: f32,
    /// True to ask for a tone when something is taken.
    pub tone: bool,
    /// True if the wing is seen from its other side, so that the strip is turned round.
    pub turned: bool,
    /// True to hide what a value should be until it is taken.
    pub blind: bool,
    /// True to ask for the other facing after the first reading of a pair.
    pub pairs: bool,
}

impl Default for Looks {
    fn default() -> Self {
        Self { theme: None, scale: 1.0, tone: true, turned: false, blind: false, pairs: true }
    }
}

impl Looks {
    /// Which facings are asked for.
    pub(crate) const fn facings(&self) -> Facings {
        if self.pairs { Facings::Both } else { Facings::One }
    }
}

/// News that something went well.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Noticed {
    pub words: String,
    /// The screen on which it was first shown.
    pub on: Screen,
}

#[derive(Default)]
pub(crate) struct State {
    pub screen: Screen,
    /// The pages over the screen, the last on top.
    pub pages: Vec<Page>,
    pub measuring: Measuring,
    pub moving: Moving,
    pub gate: Gating,
    /// The station chosen on the profile.
    pub station: usize,
    /// The first row shown of a long list, by screen.
    pub top: usize,
    /// The page of the bench's question about screws.
    pub asked_page: usize,
    pub log: usize,
    pub draft: Draft,
    pub setup: crate::draft::fields::Part,
    pub looks: Looks,
    pub index: Index,
    /// The last entry examined for whether something was taken.
    pub heard: u64,
    /// When somebody last touched anything, in the toolkit's seconds.
    pub touched_at: f64,
    /// True while the screen's keyboard is hidden because a real one is used.
    pub keyboard_away: bool,
    /// True while the window asks whether a value is right.
    pub asking: bool,
    pub noticed: Option<Noticed>,
    pub nav: Option<Nav>,
    /// The log that was open in the last picture.
    pub open: Option<String>,
}

impl State {
    /// The row of a list of `count` rows to which the keys lead from row `at`.
    pub fn row_from(&self, at: usize, count: usize) -> usize {
        let last = count.saturating_sub(1);
        match self.nav {
            Some(Nav::Down) => (at + 1).min(last),
            Some(Nav::Up) => at.min(last).saturating_sub(1),
            _ => at.min(last),
        }
    }

    pub fn open(&mut self, page: Page) {
        self.keyboard_away = false;
        self.pages.push(page);
    }

    /// Opens the keyboard for a text.
    pub fn write(&mut self, to: WordsFor, text: &str) {
        self.open(Page::Letters(Words::new(to, text)));
    }

    /// Opens the keypad for a number.
    pub fn number(&mut self, to: TypeFor) {
        self.open(Page::Keypad(Typing::new(to, "")));
    }

    pub fn close(&mut self) {
        self.pages.pop();
    }

    /// Goes to a screen; the pages over the last one are closed.
    pub fn go(&mut self, screen: Screen) {
        self.pages.clear();
        self.screen = screen;
        self.top = 0;
        self.gate.evidence = false;
    }

    pub fn choose(&mut self, point: Point) {
        if self.measuring.point.as_ref() != Some(&point) {
            self.measuring.taken = None;
        }
        self.measuring.point = Some(point);
    }

    /// Turns back to a point, also after all of the stage is done.
    pub fn turn_back(&mut self, point: Point) {
        self.choose(point);
        self.measuring.past_summary = true;
    }
}
