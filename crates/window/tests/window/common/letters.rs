//! Contexts whose letters are drawn already: drawing them again for every window would take most of the time of tests
//! that open many. A lent context knows nothing of the window before.

use super::picture::{Textures, take_textures};
use egui::{Context, InputState, Memory, MissingGlyphPolicy, RawInput, Theme};
use std::sync::Mutex;

static FREE: [Mutex<Vec<Lent>>; 2] = [const { Mutex::new(Vec::new()) }; 2];

/// What a context is lent for: the look of its letters is kept only if pictures are made.
#[derive(Clone, Copy)]
pub enum For {
    Windows,
    Pictures,
}

/// Letters are not fitted to pixels, which takes a third of a window's time and moves nothing: their places come from
/// the shaper. To be said again after the window has set its own look.
pub fn unfitted(ctx: &Context) {
    if ctx.style_of(Theme::Light).visuals.text_options.font_hinting {
        ctx.all_styles_mut(|style| style.visuals.text_options.font_hinting = false);
    }
}

/// What belongs to a context's letters.
#[derive(Default)]
pub struct Lent {
    pub ctx: Context,
    pub textures: Textures,
}

/// A context that is given back when dropped.
pub struct Letters(For, Option<Lent>);

impl Letters {
    /// One that no other window uses. A letter that no font has fails the test.
    pub fn lent(what: For) -> Self {
        let mut lent = FREE[what as usize].lock().unwrap().pop().unwrap_or_default();
        lent.ctx.memory_mut(|m| *m = Memory::default());
        lent.ctx.set_missing_glyph_policy(MissingGlyphPolicy::Panic);
        // An empty frame: the places in the window before are forgotten.
        let mut output = lent.ctx.run_ui(RawInput::default(), |_| ());
        take_textures(&mut lent.textures, &output.textures_delta);
        output.textures_delta.clear();
        lent.ctx.memory_mut(|m| *m = Memory::default());
        lent.ctx.input_mut(|i| *i = InputState::default());
        Self(what, Some(lent))
    }

    pub fn get(&mut self) -> &mut Lent {
        self.1.get_or_insert_default()
    }
}

impl Drop for Letters {
    fn drop(&mut self) {
        if let Ok(mut free) = FREE[self.0 as usize].lock() {
            free.extend(self.1.take());
        }
    }
}
