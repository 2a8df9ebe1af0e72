//! Moves that no support can make.

use super::Question;
use quantity::{Kind, Millimetres};
use record::Move;
use record::plan::{Plan, Travel};

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
    let Travel { minus, plus } = all.find(|(name, _)| name.as_str() == support)?.1;
    let by = amount.value();
    let so_far: f64 = earlier.into_iter().filter(|m| m.support == support).map(|m| m.amount.value()).sum();
    let (least, most) = (-minus.value() - so_far, plus.value() - so_far);
    if by == 0.0 {
        let expected = "a screw that was turned".to_owned();
        return Some(Question { expected, why: format!("a move of `{support}` by zero changes nothing") });
    }
    // A little slack: sums of eighths of a turn are rounded.
    let slack = 1e-6;
    if by >= least - slack && by <= most + slack {
        return None;
    }
    let scale = plan.units.scale(Kind::Length);
    let with = |mm| scale.signed_with(mm, 2);
    let expected = format!("{} to {}", scale.signed(least, scale.decimals(2)), with(most));
    let moved = if so_far == 0.0 { String::new() } else { format!(", of which {} are used", with(so_far)) };
    let why = format!(
        "{} takes `{support}` beyond its travel of {} down or forward and {} up or aft{moved}; {expected} is left",
        with(by),
        scale.exact_with(minus.value()),
        scale.exact_with(plus.value())
    );
    Some(Question { expected, why })
}
