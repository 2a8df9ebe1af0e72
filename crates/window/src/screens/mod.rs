//! The screens, as a list.

pub mod dialogs;
pub mod gate;
pub mod header;
pub mod level;
pub mod measure;
pub mod moves;
pub mod new_wing;
pub mod point;
pub mod profile;
pub mod shape;
pub mod start;
pub mod table;
pub mod watch;

use crate::action::Action;
use crate::face::State;
use crate::model::Model;
use egui::{Key, Ui};

/// What a screen is given: the data, what was typed so far, and where actions go.
pub struct Cx<'a> {
    /// The data.
    pub model: &'a Model,
    /// What the window itself remembers.
    pub state: &'a mut State,
    /// What was asked for.
    pub actions: &'a mut Vec<Action>,
}

impl Cx<'_> {
    /// Asks for something.
    pub fn ask(&mut self, action: Action) {
        self.actions.push(action);
    }
}

/// A screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Screen {
    /// Open or make a log.
    Start,
    /// Describe a new wing.
    NewWing,
    /// Take readings.
    Measure,
    /// Level the jig.
    Level,
    /// The twist profile.
    Profile,
    /// Straightness, spacing, squareness, the shaft and its bushes, rows of holes.
    Shape,
    /// One point over the stages.
    Point,
    /// The drift watch.
    Watch,
    /// What to move.
    Moves,
    /// May the skins go on.
    Gate,
}

impl Screen {
    /// Every screen.
    pub const ALL: [Self; 10] = [
        Self::Start,
        Self::NewWing,
        Self::Measure,
        Self::Level,
        Self::Profile,
        Self::Shape,
        Self::Point,
        Self::Watch,
        Self::Moves,
        Self::Gate,
    ];

    /// The screens of an open log, each with its key.
    pub const OF_A_LOG: [(Self, Key); 8] = [
        (Self::Measure, Key::F1),
        (Self::Level, Key::F2),
        (Self::Profile, Key::F3),
        (Self::Shape, Key::F4),
        (Self::Point, Key::F5),
        (Self::Watch, Key::F6),
        (Self::Moves, Key::F7),
        (Self::Gate, Key::F8),
    ];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Start => "Start",
            Self::NewWing => "New wing",
            Self::Measure => "Measure",
            Self::Level => "Level",
            Self::Profile => "Profile",
            Self::Shape => "Shape",
            Self::Point => "Point",
            Self::Watch => "Watch",
            Self::Moves => "Moves",
            Self::Gate => "Gate",
        }
    }

    /// True where the wing stands above the screen.
    #[must_use]
    pub const fn has_navigator(self) -> bool {
        !matches!(self, Self::Start | Self::NewWing)
    }

    pub(crate) fn show(self, ui: &mut Ui, cx: &mut Cx<'_>) {
        match (self, cx.model.wing.as_ref()) {
            (Self::Start, _) | (_, None) if self != Self::NewWing => start::show(ui, cx),
            (Self::NewWing, _) => new_wing::show(ui, cx),
            (Self::Measure, Some(w)) => measure::show(ui, w, cx),
            (Self::Level, Some(w)) => level::show(ui, w, cx),
            (Self::Profile, Some(w)) => profile::show(ui, w, cx),
            (Self::Shape, Some(w)) => shape::show(ui, w, cx),
            (Self::Point, Some(w)) => point::show(ui, w, cx),
            (Self::Watch, Some(w)) => watch::show(ui, w, cx),
            (Self::Moves, Some(w)) => moves::show(ui, w, cx),
            (Self::Gate, Some(w)) => gate::show(ui, w, cx),
            (_, None) | (Self::Start, _) => start::show(ui, cx),
        }
    }
}

/// Two parts side by side where there is room, else one below the other.
pub(crate) fn split(
    ui: &mut Ui,
    left_share: f32,
    least_width: f32,
    cx: &mut Cx<'_>,
    left: impl FnOnce(&mut Ui, &mut Cx<'_>),
    right: impl FnOnce(&mut Ui, &mut Cx<'_>),
) {
    let width = ui.available_width();
    if width < least_width {
        left(ui, cx);
        ui.add_space(4.0);
        right(ui, cx);
        return;
    }
    let gap = ui.spacing().item_spacing.x;
    ui.horizontal_top(|ui| {
        let part = |ui: &mut Ui, w: f32, add: &mut dyn FnMut(&mut Ui)| {
            ui.vertical(|ui| {
                ui.set_width(w);
                add(ui);
            });
        };
        let left_width = ((width - gap) * left_share).floor();
        let mut left = Some(left);
        let mut right = Some(right);
        part(ui, left_width, &mut |ui| {
            if let Some(f) = left.take() {
                f(ui, cx);
            }
        });
        part(ui, width - gap - left_width, &mut |ui| {
            if let Some(f) = right.take() {
                f(ui, cx);
            }
        });
    });
}

/// A card that takes the whole width.
pub(crate) fn card(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    crate::theme::card(ui).show(ui, |ui| {
        ui.set_width(ui.available_width());
        add(ui);
    });
}

/// A text field with its name before it; the name is read out with it. In a row of other things it begins a new line rather
/// than be squeezed.
pub(crate) fn field(
    ui: &mut Ui,
    name: &str,
    text: &mut String,
    width: f32,
    hint: &'static str,
) -> egui::Response {
    let font = egui::TextStyle::Body.resolve(ui.style());
    let wide = |text: &str| {
        ui.painter().layout_no_wrap(text.to_owned(), font.clone(), egui::Color32::WHITE).size().x
    };
    let gap = ui.spacing().item_spacing.x;
    let (name_width, width) = (wide(name), width.max(wide(hint) + 4.0 * gap));
    let add = |ui: &mut Ui, text: &mut String| {
        let label = ui.label(name);
        if ui.available_size_before_wrap().x < width + gap {
            ui.end_row();
        }
        let room = ui.available_size_before_wrap().x.max(60.0);
        let edit =
            egui::TextEdit::singleline(text).desired_width(width.min(room - 2.0 * gap)).hint_text(hint);
        ui.add(edit).labelled_by(label.id)
    };
    if ui.layout().is_horizontal() && ui.layout().main_wrap {
        if ui.available_size_before_wrap().x < name_width + width + 3.0 * gap {
            ui.end_row();
        }
        add(ui, text)
    } else {
        ui.horizontal_wrapped(|ui| add(ui, text)).inner
    }
}
