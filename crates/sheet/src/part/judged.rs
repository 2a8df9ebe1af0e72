//! A judged value as cells of a table: the same columns everywhere.

use crate::flow::{Cell, Column, Row};
use crate::number::{limits, probability};
use assess::view::{Finding, Judged};
use quantity::shown::with_unit;

/// Heads of the columns that [`cells`] fills.
pub(crate) fn columns() -> [Column; 5] {
    [
        Column::figures("value"),
        Column::figures("±95 %"),
        Column::figures("limits"),
        Column::figures("conforms"),
        Column::text("verdict", 90.0),
    ]
}

/// Value, its 95 % half width, limits, probability of conformity, verdict.
pub(crate) fn cells(judged: &Judged) -> [Cell; 5] {
    let with_u = judged.with_u();
    let size = judged.lower.is_none() && judged.upper.is_some();
    let value = if size { with_u.plain() } else { with_u.signed() };
    [
        Cell::Text(value),
        Cell::Text(with_unit(&with_u.half(), judged.unit.base_symbol())),
        Cell::Text(limits(judged.lower, judged.upper)),
        Cell::maybe(judged.probability.map(probability)),
        Cell::Verdict(judged.verdict),
    ]
}

/// A row: what it is, the judged cells, and below it what would decide it.
pub(crate) fn row(first: impl IntoIterator<Item = Cell>, judged: &Judged) -> Row {
    let cells = first.into_iter().chain(cells(judged)).collect();
    Row::new(cells).noted(judged.decide.as_deref().map(decide))
}

/// A row of something that may have no value: then why, below it.
pub(crate) fn finding(first: impl IntoIterator<Item = Cell>, found: &Finding) -> Row {
    match found {
        Finding::Judged(judged) => row(first, judged),
        Finding::Not(not) => {
            let none = || Cell::maybe(None::<String>);
            let cells = [
                none(),
                none(),
                Cell::Text(limits(not.lower, not.upper)),
                none(),
                Cell::Verdict(not.verdict),
            ];
            Row::new(first.into_iter().chain(cells).collect()).noted(Some(not.why.clone()))
        }
    }
}

/// What would decide an undecided value.
pub(crate) fn decide(words: &str) -> String {
    format!("What would decide it: {}", words.strip_prefix("would decide it: ").unwrap_or(words))
}
