//! How numbers and words are shown to people, in one place for the terminal, the sheet, the window and every message.
//!
//! | rule | in |
//! |---|---|
//! | ± is 95 %, with two digits where it begins with 1 or 2, else one; the value ends at the same place | [`WithU`] |
//! | one digit more where the rounded value would land on a limit or cross it, or ± would show as 0 | [`WithU`] |
//! | rounding is half away from zero, of the decimal a person would write for the number | [`fixed`] |
//! | an angle and an offset always show their sign; a zero has none | [`signed`] |
//! | a probability between 10 and 90 % is whole, else with one decimal, never 0 or 100 % | [`percent`] |
//! | a character that the letters at hand do not have, or that hides, is spelled: `\u{4e2d}` | [`visible`] |
//! | turns of a screw are in eighths: `3 1/4 turns clockwise` | [`turns`] |
//! | the unit is the plan's or the person's, handed in as [`crate::Units`]; degrees and minutes carry at 60 | [`Scale`] |
//! | an inch on a display marked in fractions is a fraction: `14 5/32` | [`fraction`] |
//! | a limit and any number given exactly has no more digits than it needs | [`exact`], [`Scale::limits`] |
//!
//! The minus sign is a hyphen, so that a value can be pasted back; code that draws text may use U+2212 instead.

mod decimal;
mod scale;
mod uncertain;
mod visible;
mod words;

pub use decimal::{exact, fixed, round_step, signed, significant, step_decimals};
pub use scale::{Scale, Shown};
pub use uncertain::{K95, WithU, decimals, on_limit};
pub use visible::visible;
pub use words::{
    capital, count, counted, fraction, has_plus, is_size, percent, significance, turns, turns_only, way,
    with_unit,
};
