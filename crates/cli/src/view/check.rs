//! The whole check.

use super::profile::Rows;
use super::wrap::{self, wrap};
use super::{Listed, change, gate, geometry, judged, paint, profile, stations, trust, wings};
use assess::view::{Assessment, ObligationKind, StepView, Twist, Verdict};
use quantity::Units;
use quantity::shown::{count, fixed};
use record::Entry;
use record::plan::Side;
use session::next::Next;

/// At most this many lines; a terminal with fewer gets the short form.
pub const BRIEF: usize = 24;

const NO_PROFILE: &str = "No twist profile yet: fewer than two stations have usable readings.";

/// Printed under every check.
pub const CAUTION: &str = "jigtrue measures and records; it does not approve. The kit maker's data, the local authority and a \
                       licensed person stand above it.";

#[derive(Clone, Copy, Debug, Default)]
pub struct Extent {
    /// Every station, reason and point, however many.
    pub listed: Listed,
    /// What fits a small terminal: the next thing, the gate, its causes.
    pub brief: bool,
    pub plot: bool,
}

/// What there is to show of a wing.
pub struct Seen<'a> {
    pub assessment: &'a Assessment,
    pub entries: &'a [Entry],
    pub units: Units,
    /// The next thing to do; `None` for a stage that has ended.
    pub next: Option<Next>,
}

pub fn text(seen: &Seen<'_>, extent: Extent) -> String {
    let (a, units) = (seen.assessment, seen.units);
    if extent.plot {
        let rows = if extent.listed == Listed::All || wrap::rows().is_none_or(|rows| rows >= BRIEF) {
            Rows::All
        } else {
            Rows::NotWithin
        };
        let drawn = profile::profile(a, units, rows);
        return if drawn.is_empty() { NO_PROFILE.to_owned() } else { drawn.join("\n") };
    }
    let mut out = vec![head(a, seen.entries), String::new()];
    if let Some(next) = &seen.next {
        out.push(next_line(next));
        out.push(String::new());
    }
    out.extend(gate::headline(&a.gate, a.side));
    let tally = gate::tally(&a.gate);
    if extent.brief {
        let lines = |parts: &[String]| parts.iter().map(|p| p.lines().count().max(1)).sum::<usize>();
        let room = BRIEF.saturating_sub(lines(&out) + lines(std::slice::from_ref(&tally)));
        out.extend(gate::brief(&a.gate, room));
        out.push(tally);
        return out.join("\n");
    }
    out.extend(gate::causes(&a.gate, extent.listed));
    out.push(tally);
    section(&mut out, "After the closing", wings::after(a, extent.listed));
    out.push(String::new());
    if let Some(twist) = &a.twist {
        let rows = if extent.listed == Listed::All { Rows::All } else { Rows::Worst };
        out.extend(profile::profile(a, units, rows));
        out.push(String::new());
        out.extend(stations::table(twist, &a.points, units, extent.listed));
        out.push(String::new());
        out.extend(parts(twist, units));
        section(&mut out, "", trust::zeros(a, units));
    } else if a.side != Side::Both {
        out.push(NO_PROFILE.to_owned());
    }
    if let Some(changes) = &a.changes {
        section(&mut out, &format!("Since {}", changes.since), change::lines(changes, units));
    }
    section(&mut out, "Wings from their jigs", wings::lines(a, units));
    section(&mut out, "Also measured", geometry::lines(a, units));
    section(&mut out, "Left open", trust::open(a));
    section(&mut out, "To know before trusting this", trust::doubts(a, seen.entries));
    section(&mut out, "Notes", trust::notes(seen.entries));
    section(&mut out, "Signed", trust::signatures(a));
    section(&mut out, "The plan was changed", trust::plan_changes(a));
    section(&mut out, "Cannot be judged", trust::unjudged(a));
    out.push(String::new());
    out.push(paint::faint(&wrap("", CAUTION)));
    out.join("\n")
}

/// The next thing to do, as a command and what it concerns.
pub fn next_line(next: &Next) -> String {
    wrap("NEXT   ", &format!("jigtrue {}: {}", next.command, next.why))
}

fn section(out: &mut Vec<String>, title: &str, lines: Vec<String>) {
    if lines.is_empty() {
        return;
    }
    if !title.is_empty() {
        out.push(String::new());
        out.push(paint::strong(title));
    }
    out.extend(lines);
}

/// The wing with its stage, and how much is in its log.
pub fn head(a: &Assessment, entries: &[Entry]) -> String {
    let stage = match (&a.stage, a.stage_number) {
        (Some(name), Some(n)) => format!("stage {} of {}: {name}", n.number, n.of),
        (Some(name), None) => format!("stage: {name}"),
        (None, _) => "no stage has begun".to_owned(),
    };
    let wing = paint::strong(&a.wing);
    let free = wrap::terminal().checked_sub(wrap::width(&a.wing) + wrap::width(&stage));
    let gap = match free {
        Some(free) if free >= 2 => " ".repeat(free),
        _ => "\n".to_owned(),
    };
    let chain = a.gate.obligations.iter().find(|o| o.kind == ObligationKind::Record && o.about == "chain");
    let whole = match chain.map(|o| o.state) {
        Some(Verdict::Within) => "whole",
        Some(Verdict::Outside) => "BROKEN",
        _ => "not checked",
    };
    let number = count(a.entries, "entry", "entries");
    let last = last(a, entries).map(|last| format!("; last {last}")).unwrap_or_default();
    format!("{wing}{gap}{stage}\n{number}, {whole}{last}")
}

/// When the last entry was written, by its writer's clock and in UTC, and by whom.
fn last(a: &Assessment, entries: &[Entry]) -> Option<String> {
    let at = a.last_entry_at.as_deref()?;
    let Some(entry) = entries.iter().rev().find(|e| e.at.to_string() == at) else {
        return Some(at.to_owned());
    };
    Some(format!("{} by {}", both_times(entry), entry.by))
}

/// An entry's time by its writer's clock, and in UTC if that differs.
fn both_times(entry: &Entry) -> String {
    let here = entry.when().to_string();
    if entry.offset.is_none_or(|offset| offset.minutes() == 0) {
        return here;
    }
    let utc = entry.at.to_string();
    format!("{here} ({} UTC)", utc.get(11..16).unwrap_or(&utc))
}

fn parts(twist: &Twist, units: Units) -> Vec<String> {
    let mut out = vec![
        judged::head(),
        judged::found("setting", &twist.setting, units),
        judged::found("washout error", &twist.washout_error, units),
    ];
    let size = |s: &StepView| s.finding.judged().map_or(0.0, |j| j.value.abs());
    let worst = twist
        .neighbours
        .iter()
        .max_by(|a, b| a.finding.verdict().cmp(&b.finding.verdict()).then(size(a).total_cmp(&size(b))));
    if let Some(worst) = worst {
        let name = format!("worst step {} to {}", worst.from, worst.to);
        out.push(judged::found(&name, &worst.finding, units));
    }
    if twist.order > 0 {
        let degrees = count(twist.dof, "degree", "degrees");
        let chi2 = fixed(twist.chi2, 2);
        let curve = format!("curve of order {}: chi squared {chi2} on {degrees} of freedom", twist.order);
        out.push(wrap("  ", &curve));
    }
    out.extend(twist.remarks.iter().map(|r| wrap("  ", r)));
    out
}
