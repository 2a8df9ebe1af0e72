//! The marks of verdicts, by shape and not by colour.

use assess::view::Verdict;

/// The mark of a verdict; a value without a tolerance has `+`.
pub const fn of(verdict: Option<Verdict>) -> char {
    match verdict {
        Some(Verdict::Within) => '●',
        Some(Verdict::Outside) => '▲',
        Some(Verdict::CannotJudge) => '▬',
        Some(Verdict::Doubtful) => '▽',
        Some(Verdict::Undecided) => '⬖',
        Some(Verdict::Stale) => '⊘',
        Some(Verdict::Missing) => '□',
        None => '+',
    }
}

pub fn verdict_of(mark: char) -> Option<Verdict> {
    Verdict::WORST_FIRST.into_iter().find(|v| of(Some(*v)) == mark)
}
