//! Colour: never the only sign of anything, and applied in one place.
//!
//! Text is coloured with characters from the private use area, which [`finish`] turns into terminal codes after
//! everything else that could steer a terminal was made visible.

use anstyle::{AnsiColor, Style};
use assess::view::{Tone, Verdict};
use std::fmt::Write as _;

const PLAIN: char = '\u{e0f0}';
const GOOD: char = '\u{e0f1}';
const BAD: char = '\u{e0f2}';
const OPEN: char = '\u{e0f3}';
const STRONG: char = '\u{e0f4}';
const REVERSED: char = '\u{e0f5}';
const FAINT: char = '\u{e0f6}';

fn dressed(mark: char, text: &str) -> String {
    format!("{mark}{text}{PLAIN}")
}

pub fn strong(text: &str) -> String {
    dressed(STRONG, text)
}

pub fn faint(text: &str) -> String {
    dressed(FAINT, text)
}

/// Dark on light: the gate that holds.
pub fn reversed(text: &str) -> String {
    dressed(REVERSED, text)
}

pub fn verdict(verdict: Option<Verdict>, text: &str) -> String {
    match verdict.map(Verdict::tone) {
        None | Some(Tone::Bare) => text.to_owned(),
        Some(Tone::Met) => dressed(GOOD, text),
        Some(Tone::Outside) => dressed(BAD, text),
        Some(Tone::Open) => dressed(OPEN, text),
    }
}

/// The marks in a text in their colours; the text is wrapped by now, because colours have no width.
pub fn marks(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 16);
    for c in text.chars() {
        match super::marks::verdict_of(c) {
            Some(found) => out.push_str(&verdict(Some(found), &c.to_string())),
            None => out.push(c),
        }
    }
    out
}

/// The text with control characters made visible and colour characters turned into terminal codes.
pub fn finish(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 64);
    for (i, line) in text.split('\n').enumerate() {
        if i > 0 {
            out.push('\n');
        }
        for c in session::shown(line).chars() {
            match style(c) {
                // Writing to a string does not fail.
                Some(style) => {
                    let _ = write!(out, "{}{style}", anstyle::Reset);
                }
                None if c == PLAIN => {
                    let _ = write!(out, "{}", anstyle::Reset);
                }
                None => out.push(c),
            }
        }
    }
    out
}

/// Whether the character stands for a colour.
pub const fn is_mark(c: char) -> bool {
    matches!(c, PLAIN..=FAINT)
}

fn style(mark: char) -> Option<Style> {
    let style = Style::new();
    match mark {
        GOOD => Some(style.fg_color(Some(AnsiColor::Cyan.into()))),
        BAD => Some(style.bold().fg_color(Some(AnsiColor::Red.into()))),
        OPEN => Some(style.fg_color(Some(AnsiColor::Yellow.into()))),
        STRONG => Some(style.bold()),
        REVERSED => Some(style.bold().invert()),
        FAINT => Some(style.dimmed()),
        _ => None,
    }
}

#[cfg(test)]
mod tests;
