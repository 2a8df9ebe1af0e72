//! Reads supports, posts and feet.

use super::checks::Names;
use super::mistake::{Mistake, Table};
use crate::plan::{Adjust, Clockwise, Direction, Foot, Post, Spar, Support, Travel};
use quantity::table::{Written, quoted};
use quantity::{Kind, Millimetres, nearest};

/// The spar named by `spar`, which must be in the plan.
pub fn known_spar(t: &Table<'_, '_>, spars: &[Spar]) -> Option<Written> {
    let spar = t.wants("spar", "name the spar it belongs to").text("spar")?;
    if spars.iter().any(|s| s.name == spar.text) {
        return Some(spar);
    }
    let right = match nearest(&spar.text, spars.iter().map(|s| s.name.as_str())) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => "each spar needs a [[spar]] of its own".to_owned(),
    };
    t.mistakes().note(spar.span, Mistake::NoSpar(quoted(&spar.text)), Some(right));
    None
}

pub fn support(t: &Table<'_, '_>, spars: &[Spar], names: &mut Names<'_>) -> Option<Support> {
    let name = names.take("support or foot", t.name("name"));
    let span = t.required_length("span");
    let spar = known_spar(t, spars).map(|spar| spar.text);
    let direction = t.required_word("direction", &Direction::WORDS);
    let (travel, adjust) = (travel(t), adjust(t, direction));
    Some(Support {
        name: name?,
        span: span?,
        spar: spar?,
        direction: direction?,
        travel: travel?,
        adjust: adjust?,
    })
}

/// A post with its feet.
pub fn post(t: &Table<'_, '_>, names: &mut Names<'_>) -> Option<Post> {
    let name = names.take("post", t.name("name"));
    let span = t.required_length("span");
    let feet = t.list("foot", "a foot", |f| {
        let name = names.take("support or foot", f.name("name"));
        let aft = f.required_length("aft");
        let out = f.length("out").unwrap_or_default();
        let (travel, adjust) = (travel(f), adjust(f, Some(Direction::Up)));
        Some(Foot { name: name?, aft: aft?, out, travel: travel?, adjust: adjust? })
    });
    Some(Post { name: name?, span: span?, feet })
}

/// `travel = 12` in both directions, or `travel = { minus = 4, plus = 8 }`; absent means no travel.
fn travel(t: &Table<'_, '_>) -> Option<Travel> {
    let Some(value) = t.value("travel") else { return Some(Travel::NONE) };
    if value.get_ref().as_table().is_none() {
        let both = Millimetres::new(t.zero_or_more("travel", Kind::Length)?);
        return Some(Travel { minus: both, plus: both });
    }
    t.inside("travel", "travel", |inner| {
        if !inner.has("minus") && !inner.has("plus") {
            inner.missing("minus or plus", "write { minus = 4, plus = 8 }, in mm");
        }
        let side = |key| Millimetres::new(inner.zero_or_more(key, Kind::Length).unwrap_or(0.0));
        Travel { minus: side("minus"), plus: side("plus") }
    })
}

/// `screw = { per_turn = 1.25, clockwise = "raises" }` or `shims = [0.1, 0.2]`; without either the support is fixed.
fn adjust(t: &Table<'_, '_>, direction: Option<Direction>) -> Option<Adjust> {
    let (screw, shims) = (t.value("screw"), t.value("shims"));
    let adjust = match (screw, shims) {
        (Some(_), Some(at)) => {
            t.mistakes().note(at.span(), Mistake::ScrewAndShims, None);
            return None;
        }
        (None, None) => {
            if t.has("travel") {
                t.missing("screw", "something with travel needs a screw or shims to move it");
            }
            return Some(Adjust::Fixed);
        }
        (Some(_), None) => t.inside("screw", "a screw", |screw| by_screw(screw, direction)).flatten(),
        (None, Some(_)) => by_shims(t),
    };
    t.wants("travel", "say how far it can go: travel = 12, or travel = { minus = 4, plus = 8 }, in mm");
    adjust
}

fn by_screw(t: &Table<'_, '_>, direction: Option<Direction>) -> Option<Adjust> {
    use Clockwise::{Against, Along};
    let per_turn = t.wants("per_turn", "give the travel of one turn, in mm").positive_length("per_turn");
    let words: &[(&str, Clockwise)] = match direction {
        Some(Direction::Aft) => &[("aft", Along), ("forward", Against)],
        Some(Direction::Up) => &[("raises", Along), ("lowers", Against)],
        None => &[("raises", Along), ("lowers", Against), ("aft", Along), ("forward", Against)],
    };
    let clockwise = t.required_word("clockwise", words);
    Some(Adjust::Screw { per_turn: per_turn?, clockwise: clockwise? })
}

fn by_shims(t: &Table<'_, '_>) -> Option<Adjust> {
    let mut shims = t.quantities("shims", Kind::Length);
    shims.sort_by(f64::total_cmp);
    shims.dedup();
    if shims.first().is_none_or(|s| *s <= 0.0) {
        t.refuse("shims", "a list of thicknesses above zero, as in [0.1, 0.2, 0.5]");
        return None;
    }
    Some(Adjust::Shims { thicknesses: shims.into_iter().map(Millimetres::new).collect() })
}
