//! The evidence of an obligation: value and limit, readings by number, who, when, with what, and why it is still
//! fresh.

use super::board::Item;
use crate::model::Wing;
use crate::words;
use assess::view::{JigChange, Judged, ObligationKind, Verdict, WingFound, WingView};
use quantity::Kind;
use quantity::shown::{self, K95};
use record::calendar;
use record::{Entry, What, WingSigned};

/// A value on the scale of its limits.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OnScale {
    pub value: f64,
    pub u: f64,
    /// The ends of its 95 % interval.
    pub ends: [f64; 2],
    pub lower: Option<f64>,
    pub upper: Option<f64>,
    pub kind: Kind,
}

fn of(j: &Judged) -> OnScale {
    let ends = [j.lower95, j.upper95];
    OnScale { value: j.value, u: j.u, ends, lower: j.lower, upper: j.upper, kind: j.unit }
}

/// The judged value of an obligation, if it has one.
pub fn value(wing: &Wing, item: &Item) -> Option<OnScale> {
    // A decided obligation shows the values of then; only the present ones are known here.
    if item.decided.is_some() {
        return None;
    }
    let a = &wing.assessment;
    let about = item.of.about.as_str();
    let twist = a.twist.as_ref();
    let post = || a.posts.iter().find(|p| p.post == about);
    let judged = match item.of.kind {
        ObligationKind::Setting => twist?.setting.judged()?,
        ObligationKind::Washout => twist?.washout_error.judged()?,
        ObligationKind::Station => {
            let t = twist?;
            let s = t.stations.iter().find(|s| s.name == about)?;
            return Some(OnScale {
                value: s.twist_error_deg?,
                u: s.u_deg?,
                ends: [s.lower95_deg?, s.upper95_deg?],
                lower: t.lower_deg,
                upper: t.upper_deg,
                kind: Kind::Angle,
            });
        }
        ObligationKind::Level => &post()?.level.as_ref()?.tilt,
        ObligationKind::Cross => &post()?.cross.as_ref()?.tilt,
        ObligationKind::Straightness => &a.spars.iter().find(|s| s.spar == about)?.minimum_zone,
        ObligationKind::Spacing => &a.spacing.iter().find(|s| s.station == about)?.deviation,
        ObligationKind::Square => &a.bays.iter().find(|b| b.bay == about)?.out_of_square,
        ObligationKind::Clearance => &a.bore_line.as_ref()?.clearance,
        ObligationKind::Rigging => &a.rigging.iter().find(|r| r.name == about)?.judged,
        ObligationKind::Spot | ObligationKind::Point => {
            let named =
                |v: &&assess::view::PointView| v.point.place() == about || v.point.to_string() == about;
            let v = a.points.iter().find(named)?;
            let (value, u) = (v.value?, v.u?);
            let ends = [value - K95 * u, value + K95 * u];
            return Some(OnScale { value, u, ends, lower: v.lower, upper: v.upper, kind: v.unit });
        }
        _ => return None,
    };
    Some(of(judged))
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    pub left: String,
    pub right: String,
}

/// The lines of an obligation: what was found, the entries behind it, instruments, freshness.
pub fn lines(wing: &Wing, item: &Item) -> Vec<Line> {
    let mut out = vec![line("Found", item.of.words.clone())];
    out.extend(item.settles.iter().map(|settles| line("Settles it", settles.clone())));
    let mut with: Vec<&str> = Vec::new();
    for seq in &item.of.evidence {
        let Some(entry) = Entry::find(&wing.entries, *seq) else {
            out.push(line(&format!("#{seq}"), "older than the entries held here".to_owned()));
            continue;
        };
        if let What::Reading(r) = &entry.what {
            with.extend(r.instrument.as_deref().filter(|i| !with.contains(i)));
        }
        out.push(line(&format!("#{seq}"), entry_words(wing, entry)));
    }
    out.push(fresh(item));
    let known = |name: &&str| wing.assessment.instruments.iter().find(|i| i.name == *name);
    let due = |name: &&str| match known(name).and_then(|i| i.due.clone()) {
        Some(due) => format!("{name}, check runs out {due}"),
        None => format!("{name}, no check date"),
    };
    if !with.is_empty() {
        out.push(line("Instruments", with.iter().map(due).collect::<Vec<_>>().join("; ")));
    }
    out
}

fn line(left: &str, right: String) -> Line {
    Line { left: left.to_owned(), right }
}

/// Whether its evidence still holds.
fn fresh(item: &Item) -> Line {
    let Some(last) = item.of.evidence.iter().max() else {
        return line("Readings", "none that count".to_owned());
    };
    match item.decided {
        Some(entry) => line("Fresh", format!("as it was when it was decided, at entry {entry}")),
        None if item.of.state == Verdict::Stale => line("Fresh", format!("no: overtaken since (#{last})")),
        None => line("Fresh", format!("nothing moved or done since touches it (#{last})")),
    }
}

/// What is known about a wing from its own log, and its twist since the jig.
pub fn of_wing(wing: &Wing, w: &WingView) -> Vec<Line> {
    let mut out = vec![line("Found", w.words.clone())];
    out.extend(w.settles.iter().map(|settles| line("Settles it", settles.clone())));
    out.push(line("Side", w.side.word().to_owned()));
    let Some(t) = &w.taken else {
        out.push(line("Its log", "not taken up yet".to_owned()));
        return out;
    };
    let or = |text: &Option<String>| text.clone().unwrap_or_else(|| "not in its plan".to_owned());
    out.push(line("Its plan", t.wing.clone()));
    out.push(line(
        "Serial",
        format!("{}; drawing {}, issue {}", or(&t.serial), or(&t.drawing), or(&t.issue)),
    ));
    let decided = t.decided.map_or_else(
        || "not decided: no stage after the closing one had begun".to_owned(),
        |entry| format!("decided at its entry {entry}"),
    );
    out.push(line("Its gate", format!("{}, {decided}", t.gate.word().to_uppercase())));
    for s in &t.signed {
        out.push(line("Signed", signed(s)));
    }
    if t.signed.is_empty() {
        out.push(line("Signed", "by nobody".to_owned()));
    }
    out.push(line("Its log now", found(&w.found)));
    out.push(line("File", t.log.clone()));
    out.push(line("Head", format!("entry {}, {}", t.entries, record::hex::grouped(&t.head, 16))));
    out.push(line("Taken up", format!("#{}, {}, {}", t.on.entry, t.on.by, calendar::full(&t.on.when))));
    out.extend(w.changes.iter().map(|c| since_the_jig(wing, c)));
    out
}

fn signed(s: &WingSigned) -> String {
    let said = format!("{} as {}, at its entry {}, gate {}", s.who, s.capacity, s.entry, s.gate.word());
    let against = [
        (!s.sound, "the signature does not hold".to_owned()),
        (!s.same_plan, "under another plan".to_owned()),
        (s.uncovered > 0, format!("{} entries came after what was seen", s.uncovered)),
    ];
    let against = against.into_iter().filter(|(so, _)| *so).map(|(_, words)| words);
    [said].into_iter().chain(against).collect::<Vec<_>>().join("; ")
}

fn found(found: &WingFound) -> String {
    match found {
        WingFound::NotLookedFor => "not looked for".to_owned(),
        WingFound::NotAtHand => "not found".to_owned(),
        WingFound::Unread { why } => format!("CANNOT BE READ: {why}"),
        WingFound::AsTakenUp => "whole, as it was taken up".to_owned(),
        WingFound::GoneOn { entries, .. } => {
            format!("whole, gone on by {}", shown::counted(*entries, "entry", "entries"))
        }
        WingFound::Changed { why } => format!("CHANGED: {why}"),
    }
}

fn since_the_jig(wing: &Wing, c: &JigChange) -> Line {
    let (angles, j) = (wing.angles(), &c.change);
    let value = words::judged(angles, j.value, j.u, [j.lower, j.upper]);
    let verdict = j.verdict.map_or_else(String::new, |v| format!(": {}", v.word()));
    let (then, now) = (words::signed_unit(angles, c.jig_deg, 2), words::signed_unit(angles, c.now_deg, 2));
    let real = if c.real { "more than measurement" } else { "no more than measurement" };
    let limit = words::limit(angles, j.lower, j.upper);
    let right = format!("{value}{verdict}, {limit}; {then} in the jig, {now} now: {real}");
    Line { left: format!("{} from {}", c.station, c.from), right }
}

pub fn entry_words(wing: &Wing, entry: &record::Entry) -> String {
    let (at, by) = (words::written(entry), &entry.by);
    match &entry.what {
        What::Reading(r) => {
            let with = r.instrument.as_ref().map_or(String::new(), |i| format!(", {i}"));
            let value = words::reading(&wing.plan, r);
            format!("{}{} {value}{with}, {by}, {at}", r.point.place(), words::faced(r))
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
