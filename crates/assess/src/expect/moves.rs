//! Moves that no support can make.

use super::Question;
use super::said::Left;
use quantity::{Kind, Millimetres};
use record::Move;
use record::plan::Plan;

/// The question to ask about a move of a support or foot: it moves nothing, or, with what it moved before, exceeds
/// its travel.
#[must_use]
pub fn move_question<'m>(
    plan: &Plan,
    support: &str,
    amount: Millimetres,
    earlier: impl IntoIterator<Item = &'m Move>,
) -> Option<Question> {
    let feet = plan.posts.iter().flat_map(|p| &p.feet).map(|f| (&f.name, f.travel));
    let mut all = plan.supports.iter().map(|s| (&s.name, s.travel)).chain(feet);
    let travel = all.find(|(name, _)| name.as_str() == support)?.1;
    let so_far = earlier.into_iter().filter(|m| m.support == support).map(|m| m.amount.value()).sum();
    let support = support.to_owned();
    if amount.value() == 0.0 {
        return Some(Question::NothingMoved { support });
    }
    let Left { least, most } = Left::of(travel, so_far);
    // A little slack: sums of eighths of a turn are rounded.
    let slack = 1e-6;
    if amount.value() >= least - slack && amount.value() <= most + slack {
        return None;
    }
    let scale = plan.units.scale(Kind::Length);
    Some(Question::BeyondTravel { support, by: amount, travel, so_far, scale })
}
