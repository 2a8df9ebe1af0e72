//! What a typed line means.

use crate::Target;
use quantity::{Kind, typed};
use record::plan::{Named, Plan};
use record::{Facing, Point};

#[derive(Clone, Debug, PartialEq)]
pub enum Line {
    /// Nothing: Enter alone.
    Nothing,
    Back,
    Skip,
    Help,
    Stop,
    /// Record the value that was asked about.
    Anyway,
    /// Turn to the other facing of this place.
    Face(Facing),
    Go {
        point: Point,
        facing: Option<Facing>,
    },
    /// A word that could mean several points.
    Which(Vec<Point>),
    Value {
        /// The point, where it was named with the value.
        point: Option<Point>,
        facing: Option<Facing>,
        text: String,
        /// True with a `!` after it: it really is so.
        sure: bool,
    },
}

/// Understands a line typed while `now` is asked for.
pub fn understand(line: &str, plan: &Plan, now: Option<&Target>) -> Line {
    let line = line.trim();
    match line.to_lowercase().as_str() {
        "" => return Line::Nothing,
        "b" | "back" => return Line::Back,
        "s" | "skip" => return Line::Skip,
        "?" | "h" | "help" => return Line::Help,
        "q" | "quit" | "stop" => return Line::Stop,
        "!" => return Line::Anyway,
        _ => {}
    }
    let turns = now.is_none_or(|target| target.facing.is_some());
    let (body, sure) = match line.strip_suffix('!') {
        Some(body) => (body.trim_end(), true),
        None => (line, false),
    };
    let value = |point: Option<Point>, facing: Option<Facing>, text: &str| Line::Value {
        point,
        facing,
        text: text.to_owned(),
        sure,
    };
    let (first, rest) = body.split_once(char::is_whitespace).map_or((body, ""), |(a, b)| (a, b.trim()));
    if turns && let Some(facing) = facing_named(first) {
        return if rest.is_empty() { Line::Face(facing) } else { value(None, Some(facing), rest) };
    }
    // A number is a value, whatever a station is called.
    let reads = now.map_or(Kind::Angle, |target| target.quantity);
    if !may_name(first) || typed(body, reads).is_ok() {
        return value(None, None, body);
    }
    match plan.point_named(first, now.map(|target| &target.point)) {
        Named::None => value(None, None, body),
        Named::Several(points) => Line::Which(points),
        Named::One(point) => {
            let (word, after) =
                rest.split_once(char::is_whitespace).map_or((rest, ""), |(a, b)| (a, b.trim()));
            match facing_named(word).filter(|_| point.kind().reverses()) {
                _ if rest.is_empty() => Line::Go { point, facing: None },
                Some(facing) if after.is_empty() => Line::Go { point, facing: Some(facing) },
                Some(facing) => value(Some(point), Some(facing), after),
                None => value(Some(point), None, rest),
            }
        }
    }
}

/// `f`, `forward`, `a`, `aft`; along the span a level's arrow points outboard or inboard.
pub fn facing_named(word: &str) -> Option<Facing> {
    match word.to_lowercase().as_str() {
        "f" | "fwd" | "forward" | "outboard" => Some(Facing::Forward),
        "a" | "aft" | "inboard" => Some(Facing::Aft),
        _ => None,
    }
}

/// True for a word that begins as no value does.
fn may_name(word: &str) -> bool {
    word.contains('@') || word.starts_with(|c: char| c.is_alphabetic() || c == '_')
}
