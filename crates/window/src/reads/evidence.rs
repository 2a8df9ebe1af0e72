//! What an obligation rests on: value and limit, readings by number, who, when, with what, why it is still fresh.

use super::board::Item;
use crate::model::Wing;
use crate::words;
use assess::view::{Judged, ObligationKind};
use quantity::shown::K95;
use record::{Entry, What};

/// A value on the scale of its limits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnScale {
    /// The value.
    pub value: f64,
    /// Its standard uncertainty.
    pub u: f64,
    /// The ends of its 95 % interval.
    pub ends: [f64; 2],
    /// Lower limit.
    pub lower: Option<f64>,
    /// Upper limit.
    pub upper: Option<f64>,
    /// Its unit.
    pub unit: &'static str,
}

fn of(j: &Judged) -> OnScale {
    let ends = [j.lower95, j.upper95];
    OnScale { value: j.value, u: j.u, ends, lower: j.lower, upper: j.upper, unit: j.unit.base_symbol() }
}

/// The judged value of an obligation, where it has one.
#[must_use]
pub fn value(wing: &Wing, item: &Item) -> Option<OnScale> {
    let a = &wing.assessment;
    let about = item.about.as_str();
    let twist = a.twist.as_ref();
    match item.kind {
        ObligationKind::Setting => twist.and_then(|t| t.setting.judged().map(of)),
        ObligationKind::Washout => twist.and_then(|t| t.washout_error.judged().map(of)),
        ObligationKind::Station => {
            let t = twist?;
            let s = t.stations.iter().find(|s| s.name == about)?;
            Some(OnScale {
                value: s.twist_error_deg?,
                u: s.u_deg?,
                ends: [s.lower95_deg?, s.upper95_deg?],
                lower: t.lower_deg,
                upper: t.upper_deg,
                unit: "deg",
            })
        }
        ObligationKind::Level => {
            a.posts.iter().find(|p| p.post == about)?.level.as_ref().map(|t| of(&t.tilt))
        }
        ObligationKind::Cross => {
            a.posts.iter().find(|p| p.post == about)?.cross.as_ref().map(|t| of(&t.tilt))
        }
        ObligationKind::Straightness => a.spars.iter().find(|s| s.spar == about).map(|s| of(&s.minimum_zone)),
        ObligationKind::Spacing => a.spacing.iter().find(|s| s.station == about).map(|s| of(&s.deviation)),
        ObligationKind::Square => a.bays.iter().find(|b| b.bay == about).map(|b| of(&b.out_of_square)),
        ObligationKind::Clearance => a.bore_line.as_ref().map(|b| of(&b.clearance)),
        ObligationKind::Rigging => a.rigging.iter().find(|r| r.name == about).map(|r| of(&r.judged)),
        ObligationKind::Spot | ObligationKind::Point => {
            let named =
                |v: &&assess::view::PointView| v.point.place() == about || v.point.to_string() == about;
            let v = a.points.iter().find(named)?;
            let (value, u) = (v.value?, v.u?);
            Some(OnScale {
                value,
                u,
                ends: [value - K95 * u, value + K95 * u],
                lower: v.lower,
                upper: v.upper,
                unit: v.unit.base_symbol(),
            })
        }
        _ => None,
    }
}

/// A line of evidence.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// What it is.
    pub left: String,
    /// What it says.
    pub right: String,
}

/// The lines of an obligation: what was found, the entries behind it, instruments, freshness.
#[must_use]
pub fn lines(wing: &Wing, item: &Item, most: usize) -> Vec<Line> {
    let line = |left: &str, right: String| Line { left: left.to_owned(), right };
    let mut out = vec![line("Found", item.words.clone())];
    if let Some(settles) = &item.settles {
        out.push(line("Settles it", settles.clone()));
    }
    let mut with: Vec<&str> = Vec::new();
    let room = most.saturating_sub(out.len() + 2);
    for (n, seq) in item.evidence.iter().enumerate() {
        let Some(entry) = Entry::find(&wing.entries, *seq) else { continue };
        if let What::Reading(r) = &entry.what {
            with.extend(
                r.instrument.as_deref().filter(|i| !with.contains(i)).into_iter().collect::<Vec<_>>(),
            );
        }
        if n + 1 == room && item.evidence.len() > room {
            out.push(line("and", format!("{} more entries", item.evidence.len() - n)));
        } else if n < room {
            out.push(line(&format!("#{seq}"), entry_words(entry)));
        }
    }
    if item.evidence.is_empty() {
        out.push(line("Readings", "none that count".to_owned()));
    } else {
        let last = item.evidence.iter().max().copied().unwrap_or_default();
        let stale = item.mark == crate::draw::marks::Mark::Stale;
        let fresh = if stale { "no: overtaken since" } else { "nothing moved or done since touches it" };
        out.push(line("Fresh", format!("{fresh} (#{last})")));
    }
    let known = |name: &&str| wing.assessment.instruments.iter().find(|i| i.name == *name);
    let due = |name: &&str| match known(name).and_then(|i| i.due.clone()) {
        Some(due) => format!("{name}, check runs out {due}"),
        None => format!("{name}, no check date"),
    };
    if !with.is_empty() {
        out.push(line("Instruments", with.iter().map(due).collect::<Vec<_>>().join("; ")));
    }
    out.truncate(most);
    out
}

/// An entry in a line.
#[must_use]
pub fn entry_words(entry: &record::Entry) -> String {
    let (at, by) = (words::at(entry.at), &entry.by);
    match &entry.what {
        What::Reading(r) => {
            let facing = r.facing.map_or(String::new(), |f| format!(" {}", f.word()));
            let with = r.instrument.as_ref().map_or(String::new(), |i| format!(", {i}"));
            format!("{}{facing} {}{with}, {by}, {at}", r.point.place(), words::reading(r))
        }
        What::Move(m) => format!("{} moved, {}, {by}, {at}", m.support, m.text),
        What::Stage(s) => format!("stage {} begun, {by}, {at}", s.name),
        What::Rework(r) => format!("reworked: {}, {by}, {at}", r.what),
        What::OpenItem(i) => format!("{}, {by}, {at}", i.item),
        What::Signed(s) => format!("signed by {} as {}, {at}", s.who, s.capacity),
        What::Wing(w) => format!("log of {} taken up, {by}, {at}", w.name),
        What::Note { text } => format!("{text}, {by}, {at}"),
        What::Withdrawn { seq, reason } => format!("#{seq} withdrawn: {reason}, {by}, {at}"),
        What::Instrument(i) => format!("instrument {}, {by}, {at}", i.name),
        What::InstrumentCheck(c) => {
            format!("check of {}: {}, {by}, {at}", c.instrument, if c.passed { "passed" } else { "FAILED" })
        }
        What::Replanned { reason, .. } => format!("plan changed: {reason}, {by}, {at}"),
        _ => format!("{by}, {at}"),
    }
}
