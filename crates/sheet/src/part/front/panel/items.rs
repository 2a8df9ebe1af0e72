//! The reasons of the panel: each in its own words where they fit, else sorted by kind.

use super::{LEADING, SIZE};
use crate::part::gate::reason_word;
use crate::text::{Face, Typesetter, wrap};
use assess::view::{Reason, ReasonKind};

/// A word and what it is about.
pub(super) struct Item {
    pub word: String,
    pub lines: Vec<String>,
}

/// Height of the items one below the other.
pub(super) fn height(items: &[Item]) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "lines of a reason")]
    let one = |item: &Item| item.lines.len() as f64 * LEADING + 2.0;
    items.iter().map(one).sum()
}

/// Each reason in its own words.
pub(super) fn each(set: &Typesetter, reasons: &[Reason], width: f64) -> Vec<Item> {
    let one = |r: &Reason| Item {
        word: reason_word(r.kind).to_owned(),
        lines: wrap(set, Face::Book, SIZE, &set.visible(&r.words), width),
    };
    reasons.iter().map(one).collect()
}

/// One item for each kind of reason, with their number, cut so that all of them fit.
pub(super) fn by_kind(set: &Typesetter, reasons: &[Reason], width: f64, room: f64) -> Vec<Item> {
    let mut kinds: Vec<(ReasonKind, Vec<&Reason>)> = Vec::new();
    for reason in reasons {
        match kinds.iter_mut().find(|(kind, _)| *kind == reason.kind) {
            Some((_, same)) => same.push(reason),
            None => kinds.push((reason.kind, vec![reason])),
        }
    }
    #[expect(clippy::cast_precision_loss, reason = "a few kinds")]
    let each = room / kinds.len().max(1) as f64;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few lines")]
    let most = ((each - 2.0) / LEADING).floor().max(1.0) as usize;
    kinds.into_iter().map(|(kind, same)| item(set, kind, &same, width, most)).collect()
}

fn item(set: &Typesetter, kind: ReasonKind, same: &[&Reason], width: f64, most: usize) -> Item {
    let word = reason_word(kind);
    let word = if same.len() == 1 { word.to_owned() } else { format!("{} {word}", same.len()) };
    let told: Vec<&str> = match same {
        [one] => vec![one.words.as_str()],
        _ => same.iter().map(|r| r.about.as_deref().unwrap_or(&r.words)).collect(),
    };
    let mut lines = wrap(set, Face::Book, SIZE, &set.visible(&told.join(", ")), width);
    if lines.len() > most {
        lines.truncate(most);
        // Room for the sign that something follows.
        let last = lines.pop().unwrap_or_default();
        let kept =
            wrap(set, Face::Book, SIZE, &last, width - SIZE * 1.2).into_iter().next().unwrap_or_default();
        lines.push(format!("{} …", kept.trim_end_matches(',')));
    }
    Item { word, lines }
}
