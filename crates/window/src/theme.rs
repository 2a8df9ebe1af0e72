//! Colours, type sizes and spacing, for a bright shop and a dark one.
//!
//! A verdict is told by its shape first and its colour second. The colours keep their distance for people who do not
//! tell red from green; a test works that out with the usual projections.

use assess::Verdict;
use egui::{
    Color32, Context, CornerRadius, FontFamily, FontId, Margin, Stroke, TextStyle, Theme, Ui, Visuals,
};

/// The colours of one theme.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Palette {
    /// Behind everything.
    pub ground: Color32,
    /// Behind a panel that stands out.
    pub sheet: Color32,
    /// Text and drawn outlines.
    pub ink: Color32,
    /// Text that matters less.
    pub pale: Color32,
    /// Thin lines: grids, ribs.
    pub rule: Color32,
    /// The skin of the wing.
    pub skin: Color32,
    /// What is chosen.
    pub chosen: Color32,
    /// Proven within.
    pub within: Color32,
    /// Proven outside.
    pub outside: Color32,
    /// Neither proven.
    pub undecided: Color32,
    /// Disturbed since.
    pub stale: Color32,
    /// Not measured.
    pub missing: Color32,
    /// What an earlier stage or an expectation looks like.
    pub ghost: Color32,
}

const LIGHT: Palette = Palette {
    ground: Color32::from_rgb(0xf4, 0xf2, 0xec),
    sheet: Color32::from_rgb(0xff, 0xfe, 0xfb),
    ink: Color32::from_rgb(0x17, 0x24, 0x2c),
    pale: Color32::from_rgb(0x50, 0x5d, 0x66),
    rule: Color32::from_rgb(0xc4, 0xc6, 0xc2),
    skin: Color32::from_rgb(0xe3, 0xe6, 0xe4),
    chosen: Color32::from_rgb(0x1f, 0x4e, 0xa8),
    within: Color32::from_rgb(0x00, 0x7a, 0x7c),
    outside: Color32::from_rgb(0xc2, 0x3b, 0x0e),
    undecided: Color32::from_rgb(0x8c, 0x60, 0x00),
    stale: Color32::from_rgb(0x6f, 0x54, 0xa3),
    missing: Color32::from_rgb(0x6a, 0x72, 0x78),
    ghost: Color32::from_rgb(0x8b, 0x95, 0x9c),
};

const DARK: Palette = Palette {
    ground: Color32::from_rgb(0x11, 0x18, 0x1d),
    sheet: Color32::from_rgb(0x1a, 0x23, 0x29),
    ink: Color32::from_rgb(0xee, 0xf1, 0xef),
    pale: Color32::from_rgb(0xab, 0xb6, 0xbc),
    rule: Color32::from_rgb(0x3a, 0x46, 0x4e),
    skin: Color32::from_rgb(0x26, 0x32, 0x3a),
    chosen: Color32::from_rgb(0x8a, 0xb8, 0xff),
    within: Color32::from_rgb(0x3c, 0xc8, 0xc0),
    outside: Color32::from_rgb(0xff, 0x86, 0x55),
    undecided: Color32::from_rgb(0xf0, 0xc0, 0x40),
    stale: Color32::from_rgb(0xbc, 0xa4, 0xf0),
    missing: Color32::from_rgb(0x9a, 0xa5, 0xac),
    ghost: Color32::from_rgb(0x75, 0x82, 0x8a),
};

impl Palette {
    /// The colours of a theme.
    #[must_use]
    pub const fn of(theme: Theme) -> Self {
        match theme {
            Theme::Light => LIGHT,
            Theme::Dark => DARK,
        }
    }

    /// The colour of a verdict; ink where there is none.
    #[must_use]
    pub const fn verdict(&self, verdict: Option<Verdict>) -> Color32 {
        match verdict {
            Some(Verdict::Within) => self.within,
            Some(Verdict::Outside) => self.outside,
            Some(Verdict::Undecided | Verdict::Doubtful | Verdict::CannotJudge) => self.undecided,
            Some(Verdict::Stale) => self.stale,
            Some(Verdict::Missing) => self.missing,
            None => self.pale,
        }
    }
}

/// The colours of the theme in use.
#[must_use]
pub fn palette(ui: &Ui) -> Palette {
    Palette::of(ui.ctx().theme())
}

/// What the window is cleared to before anything is painted, so that the ground need not be painted over it.
#[must_use]
pub fn ground(visuals: &Visuals) -> [f32; 4] {
    visuals.panel_fill.to_normalized_gamma_f32()
}

/// Sets both themes' styles; once at the start.
pub fn install(ctx: &Context) {
    for theme in [Theme::Light, Theme::Dark] {
        let p = Palette::of(theme);
        ctx.style_mut_of(theme, |style| {
            style.visuals = visuals(theme, &p);
            style.text_styles = [
                (TextStyle::Small, FontId::new(12.0, FontFamily::Proportional)),
                (TextStyle::Body, FontId::new(15.0, FontFamily::Proportional)),
                (TextStyle::Button, FontId::new(15.0, FontFamily::Proportional)),
                (TextStyle::Heading, FontId::new(21.0, FontFamily::Proportional)),
                (TextStyle::Monospace, FontId::new(14.0, FontFamily::Monospace)),
            ]
            .into();
            style.spacing.item_spacing = egui::vec2(8.0, 6.0);
            style.spacing.button_padding = egui::vec2(10.0, 6.0);
            style.spacing.interact_size.y = 30.0;
            style.spacing.scroll = egui::style::ScrollStyle::solid();
            style.interaction.selectable_labels = false;
            style.animation_time = 0.0;
        });
    }
}

fn visuals(theme: Theme, p: &Palette) -> Visuals {
    let mut v = if theme == Theme::Dark { Visuals::dark() } else { Visuals::light() };
    v.panel_fill = p.ground;
    v.window_fill = p.sheet;
    v.extreme_bg_color = p.sheet;
    v.faint_bg_color = p.skin;
    v.override_text_color = Some(p.ink);
    v.window_stroke = Stroke::new(1.5, p.ink);
    v.selection.bg_fill = p.chosen.gamma_multiply(0.3);
    v.selection.stroke = Stroke::new(2.0, p.chosen);
    v.widgets.noninteractive.bg_stroke = Stroke::new(1.0, p.rule);
    v.widgets.noninteractive.fg_stroke = Stroke::new(1.0, p.ink);
    for (state, fill, edge) in [
        (&mut v.widgets.inactive, p.skin, p.rule),
        (&mut v.widgets.hovered, p.skin, p.chosen),
        (&mut v.widgets.active, p.rule, p.chosen),
        (&mut v.widgets.open, p.skin, p.chosen),
    ] {
        state.bg_fill = fill;
        state.weak_bg_fill = fill;
        state.bg_stroke = Stroke::new(1.0, edge);
        state.fg_stroke = Stroke::new(1.5, p.ink);
        state.corner_radius = CornerRadius::same(3);
        state.expansion = 0.0;
    }
    v
}

/// A framed card.
pub fn card(ui: &Ui) -> egui::Frame {
    let p = palette(ui);
    egui::Frame::new()
        .fill(p.sheet)
        .stroke(Stroke::new(1.0, p.rule))
        .corner_radius(CornerRadius::same(4))
        .inner_margin(Margin::symmetric(12, 10))
}
