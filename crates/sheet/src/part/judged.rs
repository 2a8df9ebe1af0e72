//! A judged value as cells of a table: the same columns wherever one stands.

use crate::flow::{Cell, Column, Row};
use crate::number::{decimals, limits, probability, rounded, unit_word};
use assess::view::Judged;
use quantity::Kind;

/// Heads of the columns that [`cells`] fills.
pub(crate) fn columns() -> [Column; 5] {
    [
        Column::figures("value"),
        Column::figures("u"),
        Column::figures("limits"),
        Column::figures("P within"),
        Column::text("verdict", 90.0),
    ]
}

/// Value, standard uncertainty, limits, probability of conformity, verdict.
pub(crate) fn cells(judged: &Judged) -> [Cell; 5] {
    let places = decimals(judged.unit.base_symbol(), Some(judged.u));
    let unit = unit_word(judged.unit.base_symbol());
    let mark = if judged.unit == Kind::Angle { unit.to_owned() } else { format!(" {unit}") };
    [
        Cell::Text(format!("{}{mark}", rounded(judged.value, places))),
        Cell::Text(rounded(judged.u, places)),
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

/// What would decide an undecided value.
pub(crate) fn decide(words: &str) -> String {
    format!("What would decide it: {}", words.strip_prefix("would decide it: ").unwrap_or(words))
}
