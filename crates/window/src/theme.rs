//! Colours and letters, for a bright shop and a dark one.
//!
//! A colour means one thing. The verdict colours paint marks only; everything that is read is ink, pale or on
//! control.

use egui::{Color32, Context, FontData, FontDefinitions, FontFamily, Stroke, Theme, Ui, Visuals};
use std::sync::Arc;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Palette {
    /// Behind everything.
    pub ground: Color32,
    /// Plates and lists.
    pub sheet: Color32,
    /// The rail, and what lies beyond a limit.
    pub well: Color32,
    /// Text, live figures, HOLD.
    pub ink: Color32,
    pub pale: Color32,
    pub edge: Color32,
    /// Thin lines, never the only sign.
    pub rule: Color32,
    /// What to press, what is chosen, where to aim, the fitted shape.
    pub control: Color32,
    /// Behind what is chosen, and between the limits.
    pub soft: Color32,
    pub on_control: Color32,
    /// Proven within, or an obligation met.
    pub met: Color32,
    pub outside: Color32,
    /// Readings are there and do not prove it.
    pub open: Color32,
}

const fn rgb(hex: u32) -> Color32 {
    let [_, r, g, b] = hex.to_be_bytes();
    Color32::from_rgb(r, g, b)
}

const LIGHT: Palette = Palette {
    ground: rgb(0xF1_F3F2),
    sheet: rgb(0xFF_FFFF),
    well: rgb(0xE3_E8E9),
    ink: rgb(0x14_202A),
    pale: rgb(0x4A_5761),
    edge: rgb(0x66_737D),
    rule: rgb(0xC6_CDD1),
    control: rgb(0x1A_4FA0),
    soft: rgb(0xDB_E6F8),
    on_control: rgb(0xFF_FFFF),
    met: rgb(0x00_6F80),
    outside: rgb(0xA8_1400),
    open: rgb(0xA8_6F00),
};

const DARK: Palette = Palette {
    ground: rgb(0x0E_1419),
    sheet: rgb(0x18_2128),
    well: rgb(0x0A_0F13),
    ink: rgb(0xF2_F5F3),
    pale: rgb(0xB4_C0C7),
    edge: rgb(0x84_939D),
    rule: rgb(0x38_4650),
    control: rgb(0x8F_BCFF),
    soft: rgb(0x22_384F),
    on_control: rgb(0x0E_1419),
    met: rgb(0x3C_C8D8),
    outside: rgb(0xFF_7A52),
    open: rgb(0xFF_D257),
};

impl Palette {
    pub const fn of(theme: Theme) -> Self {
        match theme {
            Theme::Light => LIGHT,
            Theme::Dark => DARK,
        }
    }
}

pub fn palette(ui: &Ui) -> Palette {
    Palette::of(ui.ctx().theme())
}

/// The colour of the empty window, so that the ground need not be painted over it.
pub fn ground(visuals: &Visuals) -> [f32; 4] {
    visuals.panel_fill.to_normalized_gamma_f32()
}

/// Name of the heavier of the two weights.
pub(crate) fn heavy() -> FontFamily {
    FontFamily::Name("heavy".into())
}

fn fonts() -> FontDefinitions {
    let mut fonts = FontDefinitions::default();
    let bundled: [(&str, &'static [u8]); 2] = [
        ("medium", include_bytes!("../fonts/BarlowSemiCondensed-Medium.ttf")),
        ("semibold", include_bytes!("../fonts/BarlowSemiCondensed-SemiBold.ttf")),
    ];
    for (name, bytes) in bundled {
        fonts.font_data.insert(name.to_owned(), Arc::new(FontData::from_static(bytes)));
    }
    // Letters that the bundled fonts lack, in people's own words, are drawn with the toolkit's.
    let others = fonts.families.get(&FontFamily::Proportional).cloned().unwrap_or_default();
    let with = |first: &str| [vec![first.to_owned()], others.clone()].concat();
    fonts.families.insert(heavy(), with("semibold"));
    fonts.families.insert(FontFamily::Proportional, with("medium"));
    fonts
}

/// Sets letters and both themes; once at the start.
pub fn install(ctx: &Context) {
    ctx.set_fonts(fonts());
    // Where the system names no theme the window is light, as it is drawn.
    ctx.options_mut(|o| o.fallback_theme = Theme::Light);
    for theme in [Theme::Light, Theme::Dark] {
        let p = Palette::of(theme);
        ctx.style_mut_of(theme, |style| {
            let mut v = if theme == Theme::Dark { Visuals::dark() } else { Visuals::light() };
            v.panel_fill = p.ground;
            v.window_fill = p.sheet;
            v.override_text_color = Some(p.ink);
            v.selection.bg_fill = p.soft;
            v.selection.stroke = Stroke::new(2.0, p.control);
            style.visuals = v;
            style.animation_time = 0.0;
        });
    }
}
