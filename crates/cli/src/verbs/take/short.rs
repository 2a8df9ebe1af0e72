//! The short form: a point, and values with their facings: `S4 f 1.45 a -1.2`.

use crate::refusal::Refusal;
use record::plan::{Named, Plan};
use record::{Facing, Point};
use session::{NotKnown, SessionError, point_in, shown};

#[derive(Debug, PartialEq, Eq)]
pub struct Value {
    pub point: String,
    pub facing: Option<Facing>,
    pub text: String,
}

/// The values of a line. `facing` comes from `--facing`: it applies to a value without its own.
///
/// # Errors
/// The first point or facing without a value after it, or point that is not in the plan: no word is ignored.
pub fn read(
    plan: &Plan,
    point: &str,
    words: &[String],
    facing: Option<Facing>,
) -> Result<Vec<Value>, SessionError> {
    let (mut at, mut turned, mut out) = (point.to_owned(), None, Vec::new());
    let mut now = one(plan, point, None);
    // The point, while it has no value.
    let mut bare = Some(point.to_owned());
    for word in words {
        let reverses = now.as_ref().is_none_or(|p| p.kind().reverses());
        if let Some(next) = Facing::named(word).filter(|_| reverses) {
            if let Some(other) = facing.filter(|other| *other != next) {
                return Err(Refusal::TwoFacings { word: word.clone(), option: other.word() }.into());
            }
            if let Some(before) = turned.replace(next) {
                return Err(no_value_after(before, &at));
            }
        } else if let Some(next) = named(plan, word, now.as_ref()).filter(|_| turned.is_none()) {
            match bare.replace(word.clone()) {
                Some(bare) => {
                    point_in(plan, &bare)?;
                    return Err(no_value(&bare));
                }
                None => (at, now) = (next.to_string(), Some(next)),
            }
        } else if let Some(wrong) = misspelt(word, now.as_ref()) {
            return Err(wrong.into());
        } else if let Some(whole) = apart(out.last(), word).filter(|_| turned.is_none()) {
            return Err(Refusal::FractionApart { whole, fraction: shown(word).into_owned() }.into());
        } else {
            bare = None;
            out.push(Value { point: at.clone(), facing: turned.take().or(facing), text: word.clone() });
        }
    }
    match (turned, bare) {
        (Some(facing), _) => Err(no_value_after(facing, &at)),
        (None, Some(bare)) => Err(no_value(&bare)),
        (None, None) => Ok(out),
    }
}

fn no_value_after(facing: Facing, point: &str) -> SessionError {
    Refusal::NoValueAfter { facing: facing.word(), point: shown(point).into_owned() }.into()
}

fn no_value(point: &str) -> SessionError {
    Refusal::NoValue(shown(point).into_owned()).into()
}

/// The whole number before a fraction, as in `5 27/32` without quotes: one value or two.
fn apart(last: Option<&Value>, word: &str) -> Option<String> {
    let is_fraction =
        word.starts_with(|c: char| c.is_ascii_digit()) && word.contains('/') && !word.contains("mm");
    let digits = |text: &str| text.strip_prefix('-').unwrap_or(text).bytes().all(|b| b.is_ascii_digit());
    last.map(|value| value.text.clone()).filter(|text| is_fraction && digits(text))
}

/// A word that is no value and near to a facing, where one can be.
fn misspelt(word: &str, now: Option<&Point>) -> Option<NotKnown> {
    let is_word = now?.kind().reverses() && word.chars().all(char::is_alphabetic);
    let wrong = is_word.then(|| NotKnown::word("facing", word, Facing::TYPED.map(|(word, _)| word)))?;
    wrong.nearest.is_some().then_some(wrong)
}

/// A further point; a word that begins like a number is a value.
fn named(plan: &Plan, word: &str, now: Option<&Point>) -> Option<Point> {
    let letter = word.contains('@') || word.starts_with(char::is_alphabetic);
    if letter { one(plan, word, now) } else { None }
}

fn one(plan: &Plan, word: &str, now: Option<&Point>) -> Option<Point> {
    match plan.point_named(word, now) {
        Named::One(point) => Some(point),
        Named::Several(_) | Named::None => None,
    }
}
