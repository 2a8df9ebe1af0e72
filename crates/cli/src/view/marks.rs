//! The marks of verdicts, by shape and not by colour.

use assess::view::{MarkShape, Verdict};

/// The mark of a verdict; a value without a tolerance has `+`.
pub const fn of(verdict: Option<Verdict>) -> char {
    let Some(verdict) = verdict else { return '+' };
    match verdict.mark() {
        MarkShape::Circle => '●',
        MarkShape::Triangle => '▲',
        MarkShape::Bar => '▬',
        MarkShape::HalfTriangle => '▽',
        MarkShape::HalfDiamond => '⬖',
        MarkShape::StruckRing => '⊘',
        MarkShape::Square => '□',
    }
}

/// How many there are of each verdict, in this order and without zeros: `● 7 within`.
pub fn counts(order: [Verdict; 7], all: impl Iterator<Item = Verdict> + Clone) -> Vec<String> {
    let one = |verdict: Verdict| {
        let n = all.clone().filter(|v| *v == verdict).count();
        (n > 0).then(|| format!("{} {n} {}", of(Some(verdict)), verdict.word()))
    };
    order.into_iter().filter_map(one).collect()
}

pub fn verdict_of(mark: char) -> Option<Verdict> {
    Verdict::WORST_FIRST.into_iter().find(|v| of(Some(*v)) == mark)
}
