//! A sentence on several lines.

use super::text::{Hand, LEAST, put, whole, width};
use crate::grid::fit;
use egui::{Align, Painter, Rect, Ui, pos2, vec2};

/// A sentence on at most this many lines, broken between words; the last line is cut if it does not fit.
pub fn lines(ui: &Ui, rect: Rect, hand: Hand, key: &str, text: &str, most: usize) -> f32 {
    whole(ui, rect, key, text);
    let painter = ui.painter();
    let least = hand.least.max(LEAST).min(hand.size);
    let mut size = hand.size;
    loop {
        let hand = Hand { size, ..hand };
        let fits = |row: &str| width(painter, &hand, row) <= rect.width();
        // The last row needs no room below it.
        let most = fit(rect.height(), size, size * (LEAD - 1.0)).min(most).max(1);
        if most == 1 && (size <= least || fits(text)) {
            put(painter, rect, Align::Min, hand, text);
            return size;
        }
        let rows = wrapped(painter, &hand, text, rect.width(), most);
        // A little smaller, and more rows, before a letter is left out.
        if size > least && !rows.iter().all(|row| fits(row)) {
            size = (size - 1.0).max(least);
            continue;
        }
        let high = size * LEAD;
        let top = rect.center().y - high * (rows.len() as f32 - 1.0) / 2.0;
        for (i, row) in rows.iter().enumerate() {
            let y = top + high * i as f32;
            let line = Rect::from_center_size(pos2(rect.center().x, y), vec2(rect.width(), 12.0));
            put(painter, line, Align::Min, hand, row);
        }
        return high * rows.len() as f32;
    }
}

/// From one row of a sentence to the next, over its size.
const LEAD: f32 = 1.18;

/// A text in as few rows as it needs, of about equal length; the last takes what is left.
fn wrapped(painter: &Painter, hand: &Hand, text: &str, wide: f32, most: usize) -> Vec<String> {
    let width = |t: &str| width(painter, hand, t);
    let rows_of = |limit: f32, most: usize| {
        let mut rows: Vec<String> = vec![String::new()];
        for word in text.split_whitespace() {
            let last = rows.len() - 1;
            let longer =
                if rows[last].is_empty() { word.to_owned() } else { format!("{} {word}", rows[last]) };
            if rows.len() == most || width(&longer) <= limit {
                rows[last] = longer;
            } else {
                rows.push(word.to_owned());
            }
        }
        rows
    };
    let rows = rows_of(wide, most);
    let even = rows_of((width(text) / rows.len() as f32 * 1.08).min(wide), rows.len());
    // A single word in the last row looks bad.
    if even.last().is_some_and(|last| width(last) <= wide) { even } else { rows }
}
