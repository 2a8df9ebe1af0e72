//! The legend of the profile: only what is in it.

use super::layers;
use crate::draw::{Ink, Pen, Shape, hatch};
use crate::plot::legend::Entry;
use crate::plot::verdict_mark;
use crate::text::Typesetter;
use assess::Verdict;
use assess::view::{PreviousTwist, Twist};

pub(super) fn entries(set: &Typesetter, twist: &Twist, previous: Option<&PreviousTwist>) -> Vec<Entry> {
    let mut out = Vec::new();
    out.push(Entry::new("station by its own readings, 95 % bar", |x, y, size| {
        vec![Shape::line(x, y - size * 0.6, x, y + size * 0.6, Pen::new(Ink::Black, 0.7))]
    }));
    let mut verdicts: Vec<Option<Verdict>> = twist
        .stations
        .iter()
        .map(|s| if s.twist_error_deg.is_none() { Some(absent(s.verdict)) } else { s.verdict })
        .collect();
    verdicts.sort_unstable();
    verdicts.dedup();
    for verdict in verdicts {
        let words = verdict.map_or("no tolerance", Verdict::word);
        out.push(Entry::new(words, move |x, y, size| verdict_mark(verdict, x, y, size * 0.36)));
    }
    if twist.stations.iter().any(|s| s.stands_out) {
        out.push(Entry::new("stands out", |x, y, size| vec![layers::ring(x, y, size * 0.8)]));
    }
    if !twist.band.is_empty() {
        out.push(Entry::new(format!("curve of order {} with its 95 % band", twist.order), |x, y, size| {
            vec![
                Shape::rect(
                    x - size,
                    y - size * 0.4,
                    size * 2.0,
                    size * 0.8,
                    Some(Ink::Sky),
                    Some(Pen::new(Ink::Blue, 0.4)),
                ),
                Shape::line(x - size, y, x + size, y, layers::FIT_PEN),
            ]
        }));
    }
    if twist.lower_deg.is_some() || twist.upper_deg.is_some() {
        out.push(Entry::new("outside the station tolerance", |x, y, size| {
            let (w, h) = (size, size * 0.45);
            let around = [(x - w, y - h), (x + w, y - h), (x + w, y + h), (x - w, y + h)];
            vec![
                Shape::Lines { ends: hatch(&around, size * 0.5), pen: layers::HATCH_PEN },
                Shape::line(x - w, y + h, x + w, y + h, layers::LIMIT_PEN),
            ]
        }));
    }
    if let Some(previous) = previous {
        let words = format!("stage before: {}", set.visible(&previous.stage));
        out.push(Entry::new(words, |x, y, size| {
            vec![Shape::line(x - size, y, x + size, y, layers::BEFORE_PEN)]
        }));
    }
    out
}

/// The verdict of a station without a reading.
fn absent(verdict: Option<Verdict>) -> Verdict {
    verdict.unwrap_or(Verdict::Missing)
}
