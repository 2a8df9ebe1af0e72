//! Entries, names and numbers as the sheet writes them.

use quantity::Unit;
use quantity::shown::Scale;

/// Entries as ranges: `#171 to #194`, `#3, #9`.
pub(super) fn entries(seqs: impl IntoIterator<Item = u64>) -> String {
    let mut all: Vec<u64> = seqs.into_iter().collect();
    all.sort_unstable();
    all.dedup();
    let mut runs: Vec<(u64, u64)> = Vec::new();
    for seq in all {
        match runs.last_mut() {
            Some((_, last)) if *last + 1 == seq => *last = seq,
            _ => runs.push((seq, seq)),
        }
    }
    let shown = |(first, last): &(u64, u64)| match last - first {
        0 => format!("#{first}"),
        1 => format!("#{first}, #{last}"),
        _ => format!("#{first} to #{last}"),
    };
    match runs.as_slice() {
        [] => String::new(),
        [(first, _), .., (_, last)] if runs.len() > 3 => {
            format!("#{first} to #{last}, in {} parts", runs.len())
        }
        few => few.iter().map(shown).collect::<Vec<_>>().join(", "),
    }
}

/// `+0.35 ± 0.04°` for `+0.35 ±0.04°`: print has space around the sign.
pub(super) fn spaced(shown: &str) -> String {
    let mut out = String::with_capacity(shown.len() + 2);
    let mut before = ' ';
    let mut rest = shown.chars().peekable();
    while let Some(c) = rest.next() {
        out.push(c);
        let follows = rest.peek().is_some_and(|next| next.is_ascii_digit() || *next == '?');
        if c == '±' && (before.is_ascii_digit() || before == '\'') && follows {
            out.push(' ');
        }
        if c != ' ' {
            before = c;
        }
    }
    out
}

/// What angles are in, for a heading.
pub(crate) fn degrees(angle: Scale) -> &'static str {
    match angle.unit() {
        Unit::ArcMinute => "degrees and minutes",
        _ => "degrees",
    }
}

/// A probability: `> 99.9 %`.
pub(super) fn percent(p: f64) -> String {
    let text = quantity::shown::percent(p);
    text.replace('>', "> ").replace('<', "< ")
}

/// The first few of many, and how many more.
pub(super) fn few(all: &[String], most: usize) -> String {
    let shown = all.iter().take(most).cloned().collect::<Vec<_>>().join(", ");
    match all.len().saturating_sub(most) {
        0 => shown,
        more => format!("{shown} and {more} more"),
    }
}

/// A name without the number at its end: the common part of a row of places.
pub(super) fn stem(name: &str) -> &str {
    name.trim_end_matches(|c: char| c.is_ascii_digit())
}

/// Names in plan order as a range: `S2 to S12`.
pub(super) fn range(names: &[&str]) -> String {
    match names {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [one, two] => format!("{one}, {two}"),
        [first, .., last] => format!("{first} to {last}"),
    }
}

#[cfg(test)]
mod tests;
