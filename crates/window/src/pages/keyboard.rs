//! A keyboard on the screen.

use crate::draw::button::Button;
use crate::screens::Cx;
use egui::{Key, Modifiers, Rect, Ui, pos2};

/// Most letters of a text.
pub const MOST: usize = 200;

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Shifts {
    pub capital: bool,
    /// True for letters with accents and for signs.
    pub other: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pressed {
    Done,
    Cancel,
}

const PLAIN: [&str; 4] = ["1234567890", "QWERTYUIOP", "ASDFGHJKL", "ZXCVBNM"];
const OTHER: [&str; 4] = ["ÄÖÜÅÆØÉÈÊË", "ÁÀÂÍÎÓÔÚÛÑ", "/_@:,+()'", "ŠŽČÇŁ&#"];

/// Applies the hardware keyboard to a text; returns what was pressed.
pub fn hardware(ui: &Ui, text: &mut String) -> Option<Pressed> {
    text.push_str(&crate::keys::typed(ui.ctx()));
    let (erase, esc) = ui.input_mut(|i| {
        (i.consume_key(Modifiers::NONE, Key::Backspace), i.consume_key(Modifiers::NONE, Key::Escape))
    });
    if erase {
        text.pop();
    }
    *text = text.chars().filter(|c| !c.is_control()).take(MOST).collect();
    esc.then_some(Pressed::Cancel)
}

/// Draws it into an area of five rows.
pub fn show(
    ui: &Ui,
    cx: &Cx<'_>,
    area: Rect,
    shifts: &mut Shifts,
    text: &mut String,
    done: Option<&str>,
) -> Option<Pressed> {
    let gap = 8.0;
    let high = (area.height() - gap * 4.0) / 5.0;
    let wide = (area.width() - gap * 9.0) / 10.0;
    let size = cx.g.pick(26.0, 34.0);
    let key = |column: f32, row: usize, cells: f32| {
        let x = area.left() + column * (wide + gap);
        let y = area.top() + row as f32 * (high + gap);
        Rect::from_min_max(pos2(x, y), pos2(x + cells * wide + (cells - 1.0) * gap, y + high))
    };
    let letters = if shifts.other { OTHER } else { PLAIN };
    let starts = [0.0, 0.0, 0.5, 1.5];
    for (r, (line, start)) in letters.iter().zip(starts).enumerate() {
        for (n, c) in line.chars().enumerate() {
            let small = !shifts.capital && c.is_alphabetic();
            let c = if small { c.to_lowercase().next().unwrap_or(c) } else { c };
            if Button::new(key(start + n as f32, r, 1.0), &c.to_string(), size).show(ui) {
                text.push(c);
                shifts.capital = false;
            }
        }
    }
    let word = cx.g.pick(21.0, 26.0);
    if Button::new(key(0.0, 3, 1.4), "Capital", word).chosen_if(shifts.capital).show(ui) {
        shifts.capital = !shifts.capital;
    }
    if Button::new(key(8.6, 3, 1.4), "Erase", word).show(ui) {
        text.pop();
    }
    let cancel = Button::new(key(0.0, 4, 1.4), "Cancel", word).show(ui);
    let other = if shifts.other { "A B" } else { "Ä É" };
    if Button::new(key(1.5, 4, 0.9), other, word).named("Other letters").show(ui) {
        shifts.other = !shifts.other;
    }
    for (c, column) in [("-", 2.5), (".", 7.0)] {
        if Button::new(key(column, 4, 0.9), c, size).show(ui) {
            text.push_str(c);
        }
    }
    if Button::new(key(3.5, 4, 3.4), "space", word).show(ui) {
        text.push(' ');
    }
    let pressed = Button::new(key(8.0, 4, 2.0), "Done", size).main().unless(done).show(ui);
    match (pressed, cancel) {
        (true, _) => Some(Pressed::Done),
        (_, true) => Some(Pressed::Cancel),
        _ => None,
    }
}

/// The two buttons that remain when a real keyboard is used.
pub fn away(ui: &Ui, cx: &Cx<'_>, done: Option<&str>) -> Option<Pressed> {
    let row = cx.g.buttons(cx.g.whole());
    let [left, right] = cx.g.split(row, cx.g.gap(), [1.0, 2.2]);
    if Button::new(left, "Cancel", cx.g.pick(24.0, 30.0)).second("Esc").show(ui) {
        return Some(Pressed::Cancel);
    }
    Button::new(right, "Done", cx.g.pick(30.0, 38.0))
        .second("Enter")
        .main()
        .unless(done)
        .show(ui)
        .then_some(Pressed::Done)
}
