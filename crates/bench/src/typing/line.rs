//! The meaning of a typed line.

use crate::{Sure, Target};
use quantity::{Kind, nearest, typed};
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
    /// Record the questioned value.
    Anyway,
    /// Turn to the other facing of this place.
    Face(Facing),
    Go {
        point: Point,
        facing: Option<Facing>,
    },
    /// A word that could mean several points.
    Which(Vec<Point>),
    /// An unknown word, with the nearest known one.
    Unknown {
        word: String,
        near: String,
    },
    Value {
        /// The point, if it was typed with the value.
        point: Option<Point>,
        facing: Option<Facing>,
        text: String,
        /// Whether a `!` follows: the person confirms the value.
        sure: Sure,
    },
}

/// Every word that is not a value, point or facing.
const COMMANDS: [(&str, Line); 11] = [
    ("b", Line::Back),
    ("back", Line::Back),
    ("s", Line::Skip),
    ("skip", Line::Skip),
    ("?", Line::Help),
    ("h", Line::Help),
    ("help", Line::Help),
    ("q", Line::Stop),
    ("quit", Line::Stop),
    ("stop", Line::Stop),
    ("!", Line::Anyway),
];

/// Interprets a line typed while `now` is asked for.
pub fn understand(line: &str, plan: &Plan, now: Option<&Target>) -> Line {
    let line = line.trim();
    if line.is_empty() {
        return Line::Nothing;
    }
    if let Some((_, command)) = COMMANDS.into_iter().find(|(word, _)| word.eq_ignore_ascii_case(line)) {
        return command;
    }
    let turns = now.is_none_or(|target| target.facing.is_some());
    let (body, sure) = (line.strip_suffix('!').map_or(line, str::trim_end), Sure::of_line(line));
    let value = |point: Option<Point>, facing: Option<Facing>, text: &str| Line::Value {
        point,
        facing,
        text: text.to_owned(),
        sure,
    };
    let (first, rest) = body.split_once(char::is_whitespace).map_or((body, ""), |(a, b)| (a, b.trim()));
    if turns && let Some(facing) = Facing::named(first) {
        return if rest.is_empty() { Line::Face(facing) } else { value(None, Some(facing), rest) };
    }
    // A number is a value, even if a station has that name.
    let reads = now.map_or(Kind::Angle, |target| target.quantity);
    if !may_name(first) || typed(body, reads).is_ok() {
        return value(None, None, body);
    }
    match plan.point_named(first, now.map(|target| &target.point)) {
        Named::None => {
            // A command of one letter is like every short name: `S9` is no slip for `s`.
            let commands = COMMANDS.map(|(word, _)| word).into_iter();
            let commands = commands.filter(|word| rest.is_empty() && word.len() > 1);
            let facings = Facing::TYPED.map(|(word, _)| word).into_iter();
            let facings = facings.filter(|word| turns && word.len() > 1);
            let points = plan.points();
            let mut known: Vec<&str> = commands.chain(facings).collect();
            known.extend(points.iter().map(Point::place));
            let near = nearest(first, known).map(str::to_owned);
            match near {
                Some(near) => Line::Unknown { word: first.to_owned(), near },
                None => value(None, None, body),
            }
        }
        Named::Several(points) => Line::Which(points),
        Named::One(point) => {
            let (word, after) =
                rest.split_once(char::is_whitespace).map_or((rest, ""), |(a, b)| (a, b.trim()));
            match Facing::named(word).filter(|_| point.kind().reverses()) {
                _ if rest.is_empty() => Line::Go { point, facing: None },
                Some(facing) if after.is_empty() => Line::Go { point, facing: Some(facing) },
                Some(facing) => value(Some(point), Some(facing), after),
                None => value(Some(point), None, rest),
            }
        }
    }
}

/// Whether the word begins unlike any value.
fn may_name(word: &str) -> bool {
    word.contains('@') || word.starts_with(|c: char| c.is_alphabetic() || c == '_')
}
