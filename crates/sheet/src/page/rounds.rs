//! The rounds that count: what was measured, with what, by whom, when, and the metal's temperature.

use super::Sheet;
use super::words::{entries, few, range};
use crate::flow::{Cell, Stack, Table};
use assess::view::PointView;
use quantity::Kind;
use quantity::shown::Scale;
use quantity::shown::counted;
use std::collections::BTreeMap;

/// Round, instrument, person.
type Key<'k> = (Option<u32>, Option<&'k str>, Option<&'k str>);

/// The rounds that count: what was measured, with what, by whom, when.
pub(super) fn rounds<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let mut rounds: BTreeMap<Key<'_>, Vec<&PointView>> = BTreeMap::new();
    for p in s.a.points.iter().filter(|p| p.value.is_some()) {
        rounds.entry((p.round, p.instrument.as_deref(), p.by.as_deref())).or_default().push(p);
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
    if rounds.is_empty() {
        stack.paragraph("", "No reading counts.");
        return;
    }
    let readings = |points: &[&PointView]| points.iter().map(|p| p.readings).sum::<usize>();
    let warm = s.a.units.scale(Kind::Temperature);
    let rounds: Vec<(Key<'_>, Vec<&PointView>)> = rounds.into_iter().collect();
    let table = Table::of("Rounds that count", &rounds)
        .count("round", |((round, ..), _)| {
            Cell::strong(round.map_or_else(|| "none".to_owned(), |r| r.to_string()))
        })
        .text("instrument", |((_, instrument, _), _)| Cell::text(instrument.unwrap_or("not named")))
        .words("what", |(_, points)| Cell::text(kinds(points)))
        .text("by", |((.., by), _)| Cell::text(by.unwrap_or("not named")))
        .text("when", |(_, points)| Cell::text(times(s, points)))
        .count("readings", |(_, points)| Cell::text(readings(points).to_string()))
        .text("entries", |(_, p)| Cell::text(entries(p.iter().flat_map(|p| p.entries.iter().copied()))))
        .text("metal", |(_, points)| Cell::text(metal(points, warm)));
    stack.table(table);
}

/// `8 Jun 10:53 to 11:20`.
fn times(s: &Sheet<'_>, points: &[&PointView]) -> String {
    let times = || points.iter().filter_map(|p| p.when.as_deref());
    match (times().min(), times().max()) {
        (Some(first), Some(last)) if first != last => {
            let (first, last) = (s.minute(first), s.minute(last));
            let day = first.rsplit_once(' ').map_or("", |(day, _)| day);
            let rest = last.strip_prefix(day).filter(|_| !day.is_empty());
            format!("{first} to {}", rest.map_or(last.as_str(), str::trim))
        }
        (Some(first), _) => s.minute(first),
        _ => String::new(),
    }
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
