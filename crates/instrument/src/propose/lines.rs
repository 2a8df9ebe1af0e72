//! Proposes the form of undescribed lines: what they all share, and where the numbers are.

use super::{Found, decimals};
use crate::{Axis, Template, Unit, kind_of};
use quantity::Kind;
use std::collections::BTreeMap;
use std::format;
use std::string::{String, ToString};
use std::vec::Vec;

/// A piece of a line.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Token {
    Number(String),
    Word(String),
    Blank,
    Degree,
    Mark(char),
}

/// Units of quantities not measured here: a number before one is not an angle. Common practice, no source.
const OTHERS: [&str; 18] = [
    "g", "kg", "kN", "V", "mV", "A", "mA", "Hz", "rpm", "Pa", "hPa", "kPa", "MPa", "bar", "mbar", "psi",
    "um", "mil",
];
/// The most tokens in a unit: `in`, `-`, `lb`, or `mm`, blank, `per`, blank, `m`.
const UNIT_TOKENS: usize = 5;
/// Further lines are not examined.
const MOST: usize = 2_000;

/// Words that describe a value, in the usual abbreviations of instruments. Common practice, no source.
const STATES: [(&str, &str); 14] = [
    ("S", "steady"),
    ("ST", "steady"),
    ("G", "steady"),
    ("STABLE", "steady"),
    ("U", "moving"),
    ("US", "moving"),
    ("M", "moving"),
    ("D", "moving"),
    ("H", "hold"),
    ("HD", "hold"),
    ("HOLD", "hold"),
    ("O", "over"),
    ("OL", "over"),
    ("OVER", "over"),
];

/// Proposes the most common form.
pub(super) fn found(bytes: &[u8]) -> Option<Found> {
    let framing = Framing::of(bytes);
    let lines: Vec<&[u8]> = framing.lines(bytes).take(MOST).collect();
    let comma = has_decimal_comma(&lines);
    let tokens: Vec<Vec<Token>> = lines.iter().map(|line| tokens(line, comma)).collect();
    let mut shapes: BTreeMap<Vec<u8>, Vec<&Vec<Token>>> = BTreeMap::new();
    for line in tokens.iter().filter(|line| line.iter().any(|token| matches!(token, Token::Number(_)))) {
        shapes.entry(shape(line)).or_default().push(line);
    }
    let commonest = shapes.into_values().max_by_key(Vec::len)?;
    let (form, values) = form(&commonest)?;
    Template::new(&form).ok()?;
    let measured = values
        .iter()
        .find(|value| matches!(value.axis, Axis::Angle | Axis::Length | Axis::Torque | Axis::Force))
        .or(values.first())?;
    let mut dialect = format!("speaks = \"lines\"\nline = {form:?}");
    dialect.push_str(framing.keys());
    if comma {
        dialect.push_str("\ndecimal = \",\"");
    }
    Some(Found::new(dialect, measured.axis, measured.unit, measured.decimals))
}

/// The marks that lines begin and end with.
#[derive(Clone, Copy)]
enum Framing {
    Lines,
    Semicolons,
    StxEtx,
    StxCr,
}

impl Framing {
    fn of(bytes: &[u8]) -> Self {
        let count = |byte: u8| bytes.iter().filter(|it| **it == byte).count();
        let ends = count(b'\r') + count(b'\n');
        if count(2) > 1 && count(3) > 1 {
            Self::StxEtx
        } else if count(2) > 1 && ends > 1 {
            Self::StxCr
        } else if ends == 0 && count(b';') > 1 {
            Self::Semicolons
        } else {
            Self::Lines
        }
    }

    const fn keys(self) -> &'static str {
        match self {
            Self::Lines => "",
            Self::Semicolons => "\nends = \";\"",
            Self::StxEtx => "\nbegins = \"STX\"\nends = \"ETX\"",
            Self::StxCr => "\nbegins = \"STX\"\nends = \"CR\"",
        }
    }

    /// The whole lines.
    fn lines(self, bytes: &[u8]) -> impl Iterator<Item = &[u8]> {
        let is_end = move |byte: &u8| match self {
            Self::Lines => matches!(byte, b'\r' | b'\n'),
            Self::Semicolons => *byte == b';',
            Self::StxEtx => *byte == 3,
            Self::StxCr => *byte == b'\r',
        };
        let whole = bytes.iter().rposition(is_end).and_then(|end| bytes.get(..end)).unwrap_or_default();
        let begins = matches!(self, Self::StxEtx | Self::StxCr);
        whole.split(is_end).skip(1).filter_map(move |line| {
            if !begins {
                return Some(line).filter(|line| !line.is_empty());
            }
            let at = line.iter().rposition(|byte| *byte == 2)?;
            line.get(at + 1..)
        })
    }
}

/// Whether commas between digits are decimal commas: each line has a number with one, none has a point, and nothing
/// else in a line could be a separator.
fn has_decimal_comma(lines: &[&[u8]]) -> bool {
    let no_point = lines.iter().all(|line| !line.contains(&b'.'));
    let one_each = |line: &&&[u8]| {
        line.split(|byte| matches!(byte, b';' | b' ' | b'\t'))
            .all(|field| field.iter().filter(|byte| **byte == b',').count() <= 1)
            && line.windows(3).any(|it| it[0].is_ascii_digit() && it[1] == b',' && it[2].is_ascii_digit())
    };
    let fit = lines.iter().filter(one_each).count();
    no_point && fit > 0 && fit * 2 > lines.len()
}

fn tokens(line: &[u8], comma: bool) -> Vec<Token> {
    let mark = if comma { b',' } else { b'.' };
    let mut tokens = Vec::new();
    let mut left = line;
    while let Some((first, after)) = left.split_first() {
        let number = number_at(left, mark, tokens.last());
        if number > 0 {
            let (text, after) = left.split_at(number);
            tokens.push(Token::Number(String::from_utf8_lossy(text).into_owned()));
            left = after;
            continue;
        }
        if first.is_ascii_alphabetic() {
            let length = left.iter().take_while(|byte| byte.is_ascii_alphabetic()).count();
            let (text, after) = left.split_at(length);
            tokens.push(Token::Word(String::from_utf8_lossy(text).into_owned()));
            left = after;
            continue;
        }
        left = after;
        match first {
            b' ' | b'\t' => {
                if tokens.last() != Some(&Token::Blank) {
                    tokens.push(Token::Blank);
                }
            }
            0xC2 if after.first() == Some(&0xB7) => {
                left = after.get(1..).unwrap_or_default();
                tokens.push(Token::Mark('·'));
            }
            0xC2 if after.first() == Some(&0xB0) => {}
            0x80.. => tokens.push(Token::Degree),
            other => tokens.push(Token::Mark(char::from(*other))),
        }
    }
    tokens
}

/// The length of the number at the start; a sign directly after another number is a separator.
fn number_at(left: &[u8], mark: u8, before: Option<&Token>) -> usize {
    let sign =
        usize::from(matches!(left.first(), Some(b'-' | b'+')) && !matches!(before, Some(Token::Number(_))));
    let digits = |from: usize| {
        left.get(from..).unwrap_or_default().iter().take_while(|byte| byte.is_ascii_digit()).count()
    };
    let whole = digits(sign);
    if whole == 0 {
        return 0;
    }
    let end = sign + whole;
    let decimals = if left.get(end) == Some(&mark) { digits(end + 1) } else { 0 };
    if decimals > 0 { end + 1 + decimals } else { end }
}

/// Lines of the same shape have one form.
fn shape(line: &[Token]) -> Vec<u8> {
    line.iter()
        .flat_map(|token| match token {
            Token::Number(text) => [b'0', if text.contains(['.', ',']) { b'.' } else { b' ' }],
            Token::Word(_) => *b"a ",
            Token::Blank => *b"  ",
            Token::Degree => *b"d ",
            Token::Mark(mark) => [b'm', u8::try_from(*mark).unwrap_or(b'?')],
        })
        .collect()
}

/// A value in a form.
struct Valued {
    axis: Axis,
    unit: Unit,
    decimals: u8,
}

/// The form of lines of one shape, and the values in it.
fn form(lines: &[&Vec<Token>]) -> Option<(String, Vec<Valued>)> {
    let first = lines.first()?;
    let mut form = String::new();
    let mut values: Vec<Valued> = Vec::new();
    let with_decimals = |token: &Token| matches!(token, Token::Number(text) if text.contains(['.', ',']));
    let any_decimals = first.iter().any(with_decimals);
    for (at, token) in first.iter().enumerate() {
        match token {
            Token::Blank => form.push(' '),
            Token::Degree => form.push('°'),
            Token::Mark('{') => form.push_str("{{"),
            Token::Mark(mark) => form.push(*mark),
            Token::Word(word) => form.push_str(&word_form(word, lines, at)),
            Token::Number(text) => {
                let unit = unit_behind(first, at);
                let counts = any_decimals && decimals(text) == 0;
                let hole = (!counts && (unit.is_some() || !is_other(first, at)))
                    .then(|| axis(unit, first, at, &values))
                    .flatten();
                match hole {
                    Some((axis, unit)) if values.len() < crate::MAX_VALUES => {
                        let steady = lines.iter().all(|line| {
                            matches!(line.get(at), Some(Token::Number(other)) if decimals(other) == decimals(text))
                        });
                        let places = if steady { format!(" .{}", decimals(text)) } else { String::new() };
                        form.push_str(&format!("{{{} {}{places}}}", axis.word(), word_of(unit)));
                        values.push(Valued { axis, unit, decimals: decimals(text) });
                    }
                    _ => form.push_str("{number}"),
                }
            }
        }
    }
    (!values.is_empty()).then_some((form, values))
}

/// A unit as written in a form.
fn word_of(unit: Unit) -> &'static str {
    match unit {
        Unit::Celsius => "degC",
        other => other.symbol(),
    }
}

/// The form of a word: the same in every line, a description of the value, or not used.
fn word_form(word: &str, lines: &[&Vec<Token>], at: usize) -> String {
    let mut all: Vec<&str> = lines
        .iter()
        .filter_map(|line| match line.get(at) {
            Some(Token::Word(word)) => Some(word.as_str()),
            _ => None,
        })
        .collect();
    all.sort_unstable();
    all.dedup();
    if all.len() == 1 {
        return word.to_string();
    }
    let meaning = |word: &&str| {
        STATES.iter().find(|(known, _)| known.eq_ignore_ascii_case(word)).map(|(_, meaning)| *meaning)
    };
    let known: Option<Vec<String>> =
        all.iter().map(|word| meaning(word).map(|meaning| format!("{word}={meaning}"))).collect();
    match known {
        Some(pairs) => format!("{{state {}}}", pairs.join(" ")),
        None => "{word}".to_string(),
    }
}

/// The unit after a number: as much of what follows as makes a unit, so that `in-lb` is not an inch and `mm/m` not a
/// millimetre.
fn unit_behind(line: &[Token], at: usize) -> Option<Unit> {
    let behind = line.get(at + 1..)?;
    let first = behind.iter().position(|token| !matches!(token, Token::Blank | Token::Mark(',')))?;
    let behind = behind.get(first..)?;
    let long = behind.iter().take(UNIT_TOKENS).take_while(|token| !matches!(token, Token::Number(_))).count();
    (1..=long).rev().find_map(|length| {
        // A sign followed directly by letters is not a degree sign: the first half of a letter in UTF-8 looks like
        // one.
        let runs_on = matches!(behind.get(length), Some(Token::Degree | Token::Word(_)));
        if runs_on && behind.get(length - 1) == Some(&Token::Degree) {
            return None;
        }
        let mut text = String::new();
        for token in behind.get(..length)? {
            match token {
                Token::Word(word) | Token::Number(word) => text.push_str(word),
                Token::Blank => text.push(' '),
                Token::Degree => text.push('°'),
                Token::Mark(mark) => text.push(*mark),
            }
        }
        quantity::unit_named(&text).or_else(|| quantity::unit_named(&text.replace(' ', "-")))
    })
}

/// Whether the unknown text after a number is a unit of something else: `kg`, `%`, or letters after a sign that is
/// not a letter (`µm`).
fn is_other(line: &[Token], at: usize) -> bool {
    let behind = line.iter().skip(at + 1).skip_while(|token| matches!(token, Token::Blank));
    let next: Vec<&Token> = behind.take(2).collect();
    match next.as_slice() {
        [Token::Word(word), ..] => OTHERS.contains(&word.as_str()),
        [Token::Mark('%'), ..] | [Token::Degree, Token::Degree] => true,
        [Token::Degree, Token::Word(_)] => true,
        _ => false,
    }
}

/// The axis of a number: from its unit, from a name before it, else an angle and then one across.
fn axis(unit: Option<Unit>, line: &[Token], at: usize, before: &[Valued]) -> Option<(Axis, Unit)> {
    let taken = |axis: Axis| before.iter().any(|other| other.axis == axis);
    let warm = line.get(..at)?.iter().rev().find_map(|token| match token {
        Token::Word(word) => Some(word.eq_ignore_ascii_case("t") || word.eq_ignore_ascii_case("temp")),
        _ => None,
    });
    let unit = unit.unwrap_or(if warm == Some(true) { Unit::Celsius } else { Unit::Degree });
    let axis = match unit.kind() {
        Kind::Angle if taken(Axis::Angle) => Axis::Cross,
        Kind::Angle => Axis::Angle,
        Kind::Length => Axis::Length,
        Kind::Torque => Axis::Torque,
        Kind::Force => Axis::Force,
        _ => Axis::Temperature,
    };
    (!taken(axis) && kind_of(axis) == unit.kind()).then_some((axis, unit))
}
