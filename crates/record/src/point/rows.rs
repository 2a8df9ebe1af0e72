//! The rows of the kinds of point, and what several of them share.

pub(super) mod jig;
pub(super) mod rigging;
pub(super) mod wing;

use super::row::{Go, Off};

/// The words and the direction for a value that is off.
const fn off(words: &'static str, go: Go) -> Off {
    Off { words, go }
}

const LOWER_IT: Off = off("lower it", Go::Down);
const RAISE_IT: Off = off("raise it", Go::Up);
const FORWARD: Off = off("bring it forward", Go::Forward);
const AFT: Off = off("bring it aft", Go::Aft);

const ANGLES: &str = "2.15   2°09'   37.5 mm/m   1:26.6";
const LENGTHS: &str = "954.2   95.42 cm   37 9/16 in   37.566 in";
