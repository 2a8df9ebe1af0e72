//! The window as a whole: what it remembers between frames, and how its parts are laid out.

use crate::action::Action;
use crate::draft::Draft;
use crate::hands::Hands;
use crate::model::{Model, Notice, Wing};
use crate::paint::planform;
use crate::screens::dialogs::{self, Dialog};
use crate::screens::{Cx, Screen, gate::SignForm, header};
use egui::{CentralPanel, Frame, Margin, Panel, ScrollArea, Theme, Ui};
use record::{Facing, Point, PointKind};

/// Text scales offered, in parts of one.
pub(crate) const SCALES: [f32; 6] = [1.0, 1.25, 1.5, 2.0, 2.5, 3.0];

/// What the window itself remembers.
pub(crate) struct State {
    pub screen: Screen,
    pub point: Option<Point>,
    pub facing: Facing,
    /// True to ask for the other facing after the first reading of a pair.
    pub pairs: bool,
    /// The point that the instrument was to be turned for, until it is taken, turned or left.
    pub turn_for: Option<Point>,
    pub instrument: Option<String>,
    /// What stands in the field for a typed reading.
    pub typed: String,
    pub temperature: String,
    pub new_round: bool,
    /// True for one frame after a key began a typed reading: the field takes the keyboard.
    pub focus_typed: bool,
    /// What stands in the field that finds a point.
    pub find: String,
    pub focus_find: bool,
    pub dialog: Option<Dialog>,
    pub hands: Hands,
    pub post: usize,
    pub absolute: bool,
    pub draft: Draft,
    pub sign: SignForm,
    pub open_path: String,
    pub open_item: String,
    pub item_reason: String,
    pub import_path: String,
    pub move_support: String,
    pub move_text: String,
    /// The point a reading was asked for, and how many entries there were then: once more are there, the next is chosen.
    pub after_take: Option<(Point, usize)>,
    /// What the window itself has to say; shown until the next key that does something.
    pub hint: Option<Notice>,
    pub scale: f32,
    pub theme: Option<Theme>,
    was_open: bool,
    styled: bool,
}

/// The window.
pub struct Face {
    state: State,
}

impl Default for Face {
    fn default() -> Self {
        Self::new()
    }
}

impl Face {
    /// A window that opens on the start screen.
    #[must_use]
    pub fn new() -> Self {
        let state = State {
            screen: Screen::Start,
            point: None,
            facing: Facing::Forward,
            pairs: true,
            turn_for: None,
            instrument: None,
            typed: String::new(),
            temperature: String::new(),
            new_round: false,
            focus_typed: false,
            find: String::new(),
            focus_find: false,
            dialog: None,
            hands: Hands::default(),
            post: 0,
            absolute: false,
            draft: Draft::default(),
            sign: SignForm::default(),
            open_path: String::new(),
            open_item: String::new(),
            item_reason: String::new(),
            import_path: String::new(),
            move_support: String::new(),
            move_text: String::new(),
            after_take: None,
            hint: None,
            scale: 1.0,
            theme: None,
            was_open: false,
            styled: false,
        };
        Self { state }
    }

    /// The screen shown.
    #[must_use]
    pub const fn screen(&self) -> Screen {
        self.state.screen
    }

    /// Goes to a screen.
    pub const fn go(&mut self, screen: Screen) {
        self.state.screen = screen;
    }

    /// The point chosen.
    #[must_use]
    pub const fn point(&self) -> Option<&Point> {
        self.state.point.as_ref()
    }

    /// Chooses a point.
    pub fn choose(&mut self, point: Point) {
        self.state.choose(point);
    }

    /// The theme chosen, if one was, and the scale: what a program keeps for the next time.
    #[must_use]
    pub const fn looks(&self) -> (Option<Theme>, f32) {
        (self.state.theme, self.state.scale)
    }

    /// Sets theme and scale as they were kept.
    pub fn set_looks(&mut self, theme: Option<Theme>, scale: f32) {
        self.state.theme = theme;
        self.state.scale = if scale.is_finite() { scale.clamp(1.0, 3.0) } else { 1.0 };
    }

    /// Draws the window and gives what was asked for.
    pub fn show(&mut self, ui: &mut Ui, model: &Model) -> Vec<Action> {
        let mut actions = Vec::new();
        let s = &mut self.state;
        s.dress(ui);
        s.follow(model);
        crate::keys::handle(ui.ctx(), s, model, &mut actions);
        if let Some(wing) = &model.wing {
            s.hands_free(wing, &mut actions);
        }
        let mut cx = Cx { model, state: s, actions: &mut actions };
        let size = ui.ctx().content_rect().size();
        if size.y >= 500.0 && size.x >= 700.0 {
            roomy(ui, &mut cx)
        } else {
            cramped(ui, &mut cx)
        }
        dialogs::show(ui, &mut cx);
        actions
    }
}

impl State {
    fn dress(&mut self, ui: &Ui) {
        let ctx = ui.ctx();
        if !self.styled {
            crate::theme::install(ctx);
            ctx.options_mut(|o| o.zoom_with_keyboard = false);
            self.styled = true;
        }
        match self.theme {
            Some(theme) => ctx.set_theme(theme),
            None => ctx.set_theme(egui::ThemePreference::System),
        }
        ctx.set_zoom_factor(self.scale);
    }

    /// Keeps in step with the model: goes to the wing when a log opens, back to the start when it closes.
    fn follow(&mut self, model: &Model) {
        if model.cautions_due && self.dialog.is_none() {
            self.dialog = Some(Dialog::Cautions);
        }
        let Some(wing) = &model.wing else {
            if self.was_open || !matches!(self.screen, Screen::Start | Screen::NewWing) {
                self.screen = Screen::Start;
            }
            self.was_open = false;
            return;
        };
        if !self.was_open {
            self.was_open = true;
            self.point = None;
            self.instrument = None;
            self.after_take = None;
            self.turn_for = None;
            if matches!(self.screen, Screen::Start | Screen::NewWing) {
                self.screen = Screen::Measure;
            }
        }
        let known = |p: &Point| wing.assessment.points.iter().any(|v| v.point == *p);
        if !self.point.as_ref().is_some_and(known) {
            let points = &wing.assessment.points;
            let asked = points.iter().find(|v| v.required).or(points.first()).map(|v| &v.point);
            let first = wing.assessment.wanted.first().or(asked);
            self.point = first.cloned();
        }
        if let Some((point, entries)) = self.after_take.take() {
            if wing.entries.len() <= entries {
                self.after_take = Some((point, entries));
            } else if self.point.as_ref() == Some(&point) {
                self.go_on(wing, &point);
            }
        }
        self.fit_instrument(wing);
    }

    /// Keeps an instrument chosen that measures what the point asks for.
    fn fit_instrument(&mut self, wing: &Wing) {
        let Some(kind) = self.point.as_ref().and_then(|p| quantity_of(wing, p)) else { return };
        let list = instruments(wing);
        let fits =
            |name: &str| list.iter().any(|i| i.name == name && i.kind.quantity().is_none_or(|q| q == kind));
        if self.instrument.as_deref().is_some_and(fits) {
            return;
        }
        let sure = list.iter().find(|i| i.kind.quantity() == Some(kind));
        self.instrument = sure.map(|i| i.name.clone());
    }

    /// Chooses a point.
    pub fn choose(&mut self, point: Point) {
        if self.point.as_ref() != Some(&point) {
            // What was left half a pair does not turn the instrument at the next point.
            if self.turn_for.take().is_some() {
                self.facing = self.facing.turned();
            }
            self.typed.clear();
            self.hands.disarm();
        }
        self.point = Some(point);
    }

    /// After a reading: the other facing of the same point where a pair is wanted, else the next point.
    fn go_on(&mut self, wing: &Wing, taken: &Point) {
        let view = wing.assessment.points.iter().find(|v| v.point == *taken);
        let other = view.and_then(|v| v.facing_wanted).filter(|f| *f != self.facing);
        match other.filter(|_| self.pairs) {
            Some(other) => {
                self.facing = other;
                self.turn_for = Some(taken.clone());
            }
            None => {
                if self.turn_for.take().is_some() {
                    self.facing = self.facing.turned();
                }
                self.advance(wing);
            }
        }
    }

    /// Turns the facing by hand.
    pub fn turn(&mut self) {
        self.facing = self.facing.turned();
        self.turn_for = None;
    }

    /// The way the instrument is to be turned to, where the first of a pair was just taken at this point.
    pub fn turned_for(&self, point: &Point) -> Option<Facing> {
        (self.turn_for.as_ref() == Some(point)).then_some(self.facing)
    }

    /// Chooses the next point still wanted, in walking order; stays where none is.
    pub fn advance(&mut self, wing: &Wing) {
        let points = &wing.assessment.points;
        let place = |p: &Point| points.iter().position(|v| v.point == *p).unwrap_or(usize::MAX);
        let from = self.point.as_ref().map_or(0, place);
        let wanted = &wing.assessment.wanted;
        let next = wanted.iter().find(|w| place(w) > from).or_else(|| wanted.first());
        if let Some(point) = next.cloned() {
            self.choose(point);
        }
    }

    /// Chooses the point so many places on among those of the same kind.
    pub fn step(&mut self, wing: &Wing, by: isize) {
        let Some(here) = self.point.clone() else { return };
        let row: Vec<Point> = points_of_kind(wing, here.kind());
        let Some(at) = row.iter().position(|p| *p == here) else { return };
        let last = row.len().saturating_sub(1);
        let to = at.saturating_add_signed(by).min(last);
        if let Some(point) = row.get(to) {
            self.choose(point.clone());
        }
    }

    /// Chooses the kind of point so many places on, at the same place if there is one.
    pub fn step_kind(&mut self, wing: &Wing, by: isize) {
        let Some(here) = self.point.clone() else { return };
        let kinds: Vec<PointKind> =
            PointKind::all().filter(|k| !points_of_kind(wing, *k).is_empty()).collect();
        let Some(at) = kinds.iter().position(|k| *k == here.kind()) else { return };
        let to = at.saturating_add_signed(by).min(kinds.len().saturating_sub(1));
        let Some(kind) = kinds.get(to).copied().filter(|k| *k != here.kind()) else { return };
        let row = points_of_kind(wing, kind);
        let same = row.iter().find(|p| p.place() == here.place()).or(row.first());
        if let Some(point) = same {
            self.choose(point.clone());
        }
    }

    fn hands_free(&mut self, wing: &Wing, actions: &mut Vec<Action>) {
        let ready = wing.live.value.is_some_and(|v| v.ready && !v.taken) && self.live_fits(wing);
        if self.after_take.is_none() && self.hands.wants(ready) {
            self.take_live(wing, false, actions);
        }
    }

    /// True where what stands on the port is what the chosen point asks for.
    pub fn live_fits(&self, wing: &Wing) -> bool {
        let asked = self.point.as_ref().and_then(|p| quantity_of(wing, p));
        wing.live.value.is_some_and(|v| Some(v.kind) == asked)
    }

    /// Asks for the value on the port.
    pub fn take_live(&mut self, wing: &Wing, unsettled: bool, actions: &mut Vec<Action>) {
        let Some(point) = self.point.clone() else { return };
        let facing = point.kind().reverses().then_some(self.facing);
        self.after_take = Some((point.clone(), wing.entries.len()));
        self.hands.disarm();
        let temperature = self.part_temperature();
        actions.push(Action::TakeLive { point, facing, temperature, unsettled });
    }

    /// The way the instrument on the port faces: until it moves after a reading it still faces as it did then.
    pub fn facing_now(&self, wing: &Wing, point: &Point) -> Facing {
        let rests = wing.live.value.is_some_and(|v| v.taken);
        if rests && self.turned_for(point).is_some() { self.facing.turned() } else { self.facing }
    }

    fn part_temperature(&self) -> Option<String> {
        Some(self.temperature.trim().to_owned()).filter(|t| !t.is_empty())
    }

    /// Asks for the typed reading.
    pub fn take_typed(&mut self, wing: &Wing, actions: &mut Vec<Action>) {
        let Some(point) = self.point.clone() else { return };
        let text = self.typed.trim().to_owned();
        if text.is_empty() {
            return;
        }
        let facing = point.kind().reverses().then_some(self.facing);
        let temperature = self.part_temperature();
        self.after_take = Some((point.clone(), wing.entries.len()));
        let instrument = self.instrument.clone();
        let new_round = std::mem::take(&mut self.new_round);
        self.typed.clear();
        actions.push(Action::Take { point, text, facing, instrument, temperature, new_round });
    }
}

/// Every point of a kind, in work order.
pub(crate) fn points_of_kind(wing: &Wing, kind: PointKind) -> Vec<Point> {
    wing.assessment.points.iter().map(|v| v.point.clone()).filter(|p| p.kind() == kind).collect()
}

/// The quantity measured at a point.
pub(crate) fn quantity_of(wing: &Wing, point: &Point) -> Option<quantity::Kind> {
    let spot = || wing.plan.spots.iter().find(|s| s.name == point.place()).map(|s| s.quantity);
    point.kind().quantity().or_else(spot)
}

/// The instruments of the plan and those entered in the log, the latest facts of each.
pub(crate) fn instruments(wing: &Wing) -> Vec<record::Instrument> {
    let mut list = wing.plan.instruments.clone();
    for entry in wing.entries.iter() {
        if let record::What::Instrument(i) = &entry.what {
            match list.iter_mut().find(|k| k.name == i.name) {
                Some(known) => *known = i.clone(),
                None => list.push(i.clone()),
            }
        }
    }
    list
}

/// The ground is not painted here: the window is cleared to it ([`crate::theme::ground`]).
fn roomy(ui: &mut Ui, cx: &mut Cx<'_>) {
    let frame = Frame::new().inner_margin(Margin::symmetric(10, 6));
    Panel::top("head").frame(frame).show(ui, |ui| {
        header::top(ui, cx);
        header::notice(ui, cx);
    });
    if cx.model.wing.is_some() && cx.state.screen.has_navigator() {
        Panel::bottom("foot").frame(frame).show(ui, |ui| header::screens(ui, cx));
    }
    CentralPanel::default().frame(frame).show(ui, |ui| {
        let high = ui.available_height();
        if cx.state.screen.has_navigator() {
            navigator(ui, cx, (high * 0.29).clamp(120.0, 420.0));
        }
        scrolled(ui, |ui| cx.state.screen.show(ui, cx));
    });
}

/// Where there is little room everything is one long sheet, what is being done first.
fn cramped(ui: &mut Ui, cx: &mut Cx<'_>) {
    let frame = Frame::new().inner_margin(Margin::same(6));
    CentralPanel::default().frame(frame).show(ui, |ui| {
        scrolled(ui, |ui| {
            header::small(ui, cx);
            header::notice(ui, cx);
            header::done(ui, cx);
            cx.state.screen.show(ui, cx);
            if cx.state.screen.has_navigator() {
                navigator(ui, cx, 96.0);
            }
            header::top(ui, cx);
        });
    });
}

fn scrolled(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    let width = ui.available_width();
    ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
        ui.set_max_width(width - ui.spacing().scroll.allocated_width());
        add(ui);
    });
}

fn navigator(ui: &mut Ui, cx: &mut Cx<'_>, height: f32) {
    let Some(wing) = &cx.model.wing else { return };
    let picked = planform::navigator(ui, &wing.plan, &wing.assessment, cx.state.point.as_ref(), height);
    if let Some(point) = picked {
        cx.state.choose(point);
    }
}
