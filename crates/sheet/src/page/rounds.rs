//! The rounds that count: what was measured, with what, by whom, when, and the metal's temperature.

use super::Sheet;
use super::words::{entries, few, range};
use crate::flow::{Cell, Column, Row, Stack, Table};
use assess::view::PointView;
use quantity::Kind;
use quantity::shown::Scale;
use quantity::shown::counted;
use std::collections::BTreeMap;

/// Round, instrument, person.
type Key<'k> = (Option<u32>, Option<&'k str>, Option<&'k str>);

/// The rounds that count: what was measured, with what, by whom, when.
pub(super) fn rounds<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    #[derive(Default)]
    struct Round<'p> {
        points: Vec<&'p PointView>,
    }
    let mut rounds: BTreeMap<Key<'_>, Round<'_>> = BTreeMap::new();
    for p in s.a.points.iter().filter(|p| p.value.is_some()) {
        rounds.entry((p.round, p.instrument.as_deref(), p.by.as_deref())).or_default().points.push(p);
    }
    let used: usize = s.a.points.iter().filter(|p| p.value.is_some()).map(|p| p.readings).sum();
    let stale: usize = s.a.points.iter().filter(|p| p.value.is_none()).map(|p| p.readings).sum();
    let withdrawn = s.a.withdrawn.len();
    let note = format!(
        "{}; of the last of each point {stale} are stale; {} withdrawn",
        counted(used, "reading counts", "readings count"),
        if withdrawn == 0 { "nothing is".to_owned() } else { counted(withdrawn, "entry is", "entries are") }
    );
    stack.heading("Rounds that count", &note, None);
    let row = |((round, instrument, by), r): (&Key<'_>, &Round<'_>)| -> Row<'a> {
        let mut times: Vec<&str> = r.points.iter().filter_map(|p| p.when.as_deref()).collect();
        times.sort_unstable();
        let when = match (times.first(), times.last()) {
            (Some(first), Some(last)) if first != last => {
                let (first, last) = (s.minute(first), s.minute(last));
                let day = first.rsplit_once(' ').map_or("", |(day, _)| day);
                let last = last
                    .strip_prefix(day)
                    .filter(|_| !day.is_empty())
                    .map_or(last.clone(), |l| l.trim().to_owned());
                format!("{first} to {last}")
            }
            (Some(first), _) => s.minute(first),
            _ => String::new(),
        };
        vec![
            Cell::strong(round.map_or_else(|| "none".to_owned(), |r| r.to_string())),
            Cell::text(instrument.unwrap_or("not named")),
            Cell::Text(kinds(&r.points)),
            Cell::text(by.unwrap_or("not named")),
            Cell::Text(when),
            Cell::text(r.points.iter().map(|p| p.readings).sum::<usize>().to_string()),
            Cell::Text(entries(r.points.iter().flat_map(|p| p.entries.iter().copied()))),
            Cell::Text(metal(&r.points, s.a.units.scale(Kind::Temperature))),
        ]
    };
    let rows: Vec<Row<'a>> = rounds.iter().map(row).collect();
    if rows.is_empty() {
        stack.paragraph("", "No reading counts.");
        return;
    }
    let columns = [
        Column::count("round"),
        Column::text("instrument"),
        Column::words("what"),
        Column::text("by"),
        Column::text("when"),
        Column::count("readings"),
        Column::text("entries"),
        Column::text("metal"),
    ];
    stack.table(Table::new("Rounds that count", columns, rows));
}

/// `incidence S1 to S12, level root-post`.
fn kinds(points: &[&PointView]) -> String {
    let mut kinds: Vec<(&str, Vec<&str>)> = Vec::new();
    for p in points {
        let word = p.point.kind().word();
        match kinds.iter_mut().find(|(known, _)| *known == word) {
            Some((_, places)) => places.push(p.point.place()),
            None => kinds.push((word, vec![p.point.place()])),
        }
    }
    let said: Vec<String> = kinds.iter().map(|(word, places)| format!("{word} {}", range(places))).collect();
    few(&said, 4)
}

/// The temperatures taken with some readings.
fn metal(points: &[&PointView], scale: Scale) -> String {
    if points.iter().all(|p| p.unit != Kind::Length) {
        return "–".to_owned();
    }
    let taken = points.iter().flat_map(|p| &p.behind).filter_map(|r| r.temperature_c);
    let (low, high) = taken.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), t| (l.min(t), h.max(t)));
    if low > high {
        "not taken".to_owned()
    } else if low == high {
        scale.exact_with(low)
    } else {
        format!("{} to {}", scale.exact(low), scale.exact_with(high))
    }
}
