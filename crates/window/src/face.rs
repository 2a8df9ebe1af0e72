//! The window as a whole: follows the model, reads the keys, draws the screen and the pages over it.

use crate::action::Action;
use crate::grid::{Grid, LEAST};
use crate::model::{Model, Wing};
use crate::pages::{self, Page};
use crate::reads::Index;
use crate::screens::{Cx, Screen, measure};
use crate::state::{Gating, Looks, Measuring, Moving, Noticed, State};
use crate::theme;
use egui::{CentralPanel, Frame, Ui};
use record::{Facing, Point};

/// After so long without a touch, in seconds, the window asks again who is at the bench.
const ASK_AGAIN_S: f64 = 4.0 * 3600.0;

#[derive(Default)]
pub struct Face {
    state: State,
}

impl Face {
    pub fn new() -> Self {
        Self::default()
    }

    pub const fn screen(&self) -> Screen {
        self.state.screen
    }

    /// True if a page lies over the screen.
    pub fn asks(&self) -> bool {
        !self.state.pages.is_empty()
    }

    pub fn go(&mut self, screen: Screen) {
        self.state.go(screen);
    }

    pub const fn point(&self) -> Option<&Point> {
        self.state.measuring.point.as_ref()
    }

    pub const fn facing(&self) -> Facing {
        self.state.measuring.facing
    }

    pub fn instrument(&self) -> Option<&str> {
        self.state.measuring.instrument.as_deref()
    }

    pub fn choose(&mut self, point: Point) {
        self.state.turn_back(point);
    }

    /// The settings of appearance that a program keeps for the next start.
    pub const fn looks(&self) -> Looks {
        self.state.looks
    }

    pub const fn set_looks(&mut self, looks: Looks) {
        self.state.looks = looks;
        self.state.looks.scale = if looks.scale.is_finite() { looks.scale.clamp(1.0, 3.0) } else { 1.0 };
    }

    /// Draws the window and returns what was asked for.
    pub fn show(&mut self, ui: &mut Ui, model: &Model) -> Vec<Action> {
        let mut actions = Vec::new();
        let s = &mut self.state;
        s.dress(ui);
        s.follow(ui, model, &mut actions);
        crate::keys::handle(ui.ctx(), s, model, &mut actions);
        let frame = Frame::new();
        CentralPanel::default().frame(frame).show(ui, |ui| {
            let grid = Grid::of(ui.ctx().content_rect());
            let p = theme::palette(ui);
            let mut cx = Cx { model, s, ask: &mut actions, g: grid, p };
            if cx.s.pages.is_empty() && model.import.is_none() {
                crate::screens::show(ui, &mut cx);
            } else {
                pages::show(ui, &mut cx);
            }
        });
        if let Some(text) = crate::draw::text::take_whole(ui) {
            s.open(Page::Ask(pages::read_it(&text)));
        }
        // An Enter that no button used is forgotten.
        crate::keys::main_asked(ui.ctx());
        if let Some(wing) = &model.wing {
            measure::by_itself(&self.state, model, wing, &mut actions);
        }
        actions
    }
}

impl State {
    fn dress(&mut self, ui: &Ui) {
        let ctx = ui.ctx();
        let dressed = egui::Id::unique("letters and colours are set");
        if !ctx.data(|d| d.get_temp::<bool>(dressed).unwrap_or_default()) {
            theme::install(ctx);
            ctx.options_mut(|o| o.zoom_with_keyboard = false);
            ctx.data_mut(|d| d.insert_temp(dressed, true));
        }
        match self.looks.theme {
            Some(theme) => ctx.set_theme(theme),
            None => ctx.set_theme(egui::ThemePreference::System),
        }
        // A window too small for the grid is drawn smaller, never cut off.
        let whole = ctx.content_rect().size() * ctx.zoom_factor();
        let most = (whole.x / LEAST.x).min(whole.y / LEAST.y);
        ctx.set_zoom_factor(self.looks.scale.min(most).max(0.25));
    }

    /// Follows the model: goes to the wing when a log opens, back to the start when it closes.
    fn follow(&mut self, ui: &Ui, model: &Model, actions: &mut Vec<Action>) {
        let now = ui.input(|i| i.time);
        self.see_who_is_here(ui, model, now);
        if model.cautions_due && !self.pages.iter().any(|p| matches!(p, Page::Cautions)) {
            self.pages.push(Page::Cautions);
        }
        match (&model.asks, self.asking) {
            (Some(asks), false) => {
                self.asking = true;
                self.pages.push(pages::is_it_meant(asks));
            }
            (None, true) => {
                self.asking = false;
                measure::refused(self);
            }
            _ => {}
        }
        let Some(wing) = &model.wing else {
            if self.open.is_some() {
                self.go(Screen::Start);
            } else if !matches!(self.screen, Screen::Start | Screen::Setup) {
                self.screen = Screen::Start;
            }
            self.open = None;
            self.index = Index::default();
            return;
        };
        let facings = self.looks.facings();
        if !self.index.is_of(wing, &model.who.name, facings) {
            self.index = Index::of(wing, &model.who.name, facings);
        }
        if self.open.as_ref() != Some(&wing.log) {
            self.take_up(wing);
        }
        self.stand_somewhere(wing);
        measure::follow_reading(self, wing, &model.who.name, now);
        measure::follow_by_itself(self, wing, &model.who.name, now);
        self.hear(wing, &model.who.name, actions);
        if model.notice.as_ref().is_some_and(|n| n.wrong) {
            measure::refused(self);
        }
        self.notice_ends(model, actions);
        if let Some(taken) = &self.measuring.taken {
            if now >= taken.until {
                self.measuring.taken = None;
            } else {
                ui.ctx().request_repaint_after(std::time::Duration::from_secs_f64(taken.until - now));
            }
        }
        self.fit_instrument(wing);
    }

    /// Another log is open: forgets all that belonged to the last.
    fn take_up(&mut self, wing: &Wing) {
        self.open = Some(wing.log.clone());
        self.heard = wing.last_entry();
        let Measuring { facing, instrument, .. } = std::mem::take(&mut self.measuring);
        self.measuring = Measuring { facing, instrument, ..Measuring::default() };
        (self.moving, self.gate) = (Moving::default(), Gating::default());
        (self.station, self.top) = (0, 0);
        if matches!(self.screen, Screen::Start | Screen::Setup) {
            self.go(Screen::Measure);
        }
    }

    /// Asks for a tone if the person at the bench recorded a reading or a move since the last picture, by hand or
    /// hands free.
    fn hear(&mut self, wing: &Wing, who: &str, actions: &mut Vec<Action>) {
        let new = wing.entries.iter().rev().take_while(|e| e.seq > self.heard);
        let taken = |e: &record::Entry| matches!(e.what, record::What::Reading(_) | record::What::Move(_));
        let own = new.filter(|e| e.by == who && taken(e)).count() > 0;
        self.heard = wing.last_entry();
        if own && self.looks.tone {
            actions.push(Action::Tone);
        }
    }

    /// News that all went well is shown on the screen where it was done, and no longer.
    fn notice_ends(&mut self, model: &Model, actions: &mut Vec<Action>) {
        let said = model.notice.as_ref().filter(|n| !n.wrong);
        match (&self.noticed, said) {
            (Some(noticed), Some(said)) if noticed.words == said.words => {
                if noticed.on != self.screen {
                    actions.push(Action::DismissNotice);
                }
            }
            _ => self.noticed = said.map(|said| Noticed { words: said.words.clone(), on: self.screen }),
        }
    }

    /// Asks again who is at the bench after a long time without a touch.
    fn see_who_is_here(&mut self, ui: &Ui, model: &Model, now: f64) {
        let any = ui.input(|i| !i.events.is_empty());
        if any {
            if now - self.touched_at > ASK_AGAIN_S && model.wing.is_some() && !model.who.name.is_empty() {
                self.pages.push(crate::screens::more::who_page());
            }
            self.touched_at = now;
        }
    }

    /// Keeps a point of the wing chosen.
    fn stand_somewhere(&mut self, wing: &Wing) {
        let index = &self.index;
        if self.measuring.point.as_ref().is_some_and(|p| index.view(wing, p).is_some()) {
            return;
        }
        let asked = index.points.iter().zip(&wing.assessment.points).find(|(_, v)| v.required);
        let first = index.next(None).or(asked.map(|(p, _)| p)).or(index.points.first());
        self.measuring.point = first.cloned();
    }

    /// Keeps an instrument chosen that measures what the point asks for.
    fn fit_instrument(&mut self, wing: &Wing) {
        let Some(kind) = self.measuring.point.as_ref().and_then(|p| wing.plan.quantity_of(p)) else {
            return;
        };
        let list = &self.index.instruments;
        let fits =
            |name: &str| list.iter().any(|i| i.name == name && i.kind.quantity().is_none_or(|q| q == kind));
        if self.measuring.instrument.as_deref().is_some_and(fits) {
            return;
        }
        let sure = list.iter().find(|i| i.kind.quantity() == Some(kind));
        self.measuring.instrument = sure.map(|i| i.name.clone());
    }
}
