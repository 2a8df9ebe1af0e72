//! Withdrawals grouped: those that one person made for one reason, one after the other.

use super::Sheet;
use super::words::entries;
use assess::view::WithdrawnView;
use quantity::shown::counted;

/// Withdrawals by one person for one reason.
pub(super) struct Withdrawals<'a> {
    all: Vec<&'a WithdrawnView>,
}

impl Sheet<'_> {
    /// All withdrawals, in entry order.
    pub(super) fn withdrawals(&self) -> Vec<Withdrawals<'_>> {
        let same = |a: &WithdrawnView, b: &WithdrawnView| a.by == b.by && a.reason == b.reason;
        let groups = self.a.withdrawn.chunk_by(same);
        groups.map(|group| Withdrawals { all: group.iter().collect() }).collect()
    }

    /// When, by whom and by which entries, what, and why.
    pub(super) fn withdrawal(&self, w: &Withdrawals<'_>) -> String {
        let Some(first) = w.all.first() else { return String::new() };
        let by = entries(w.all.iter().map(|w| w.withdrawn_by));
        format!(
            "withdrawn by {} on {}, {by}: {}; {}",
            first.by,
            self.day(&first.when),
            w.what(),
            first.reason
        )
    }
}

impl Withdrawals<'_> {
    pub(super) fn entries(&self) -> impl Iterator<Item = u64> {
        self.all.iter().map(|w| w.entry)
    }

    /// What was withdrawn, with the values of one point after its name: `incidence@S1 = 2.05 deg, -1.95 deg`.
    fn what(&self) -> String {
        let mut said: Vec<(&str, Vec<&str>)> = Vec::new();
        for w in &self.all {
            let (point, value) = w.what.split_once(" = ").unwrap_or((&w.what, ""));
            match said.last_mut() {
                Some((last, values)) if *last == point && !value.is_empty() => values.push(value),
                _ => said.push((point, vec![value])),
            }
        }
        let one = |(point, values): &(&str, Vec<&str>)| match values.as_slice() {
            [""] => (*point).to_owned(),
            values => format!("{point} = {}", values.join(", ")),
        };
        said.iter().map(one).collect::<Vec<_>>().join("; ")
    }

    /// The same for the first page: a single one by its value, many by their number.
    pub(super) fn brief(&self) -> String {
        match self.all.as_slice() {
            [] => String::new(),
            [one] => format!("{}: {}", one.what, one.reason),
            [first, ..] => format!("{}: {}", counted(self.all.len(), "entry", "entries"), first.reason),
        }
    }
}
