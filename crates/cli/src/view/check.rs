//! The whole check.

use super::wrap::{self, wrap};
use super::{change, gate, geometry, judged, paint, plot, stations, trust};
use assess::view::{Assessment, ReasonKind, StepView, Twist};
use quantity::shown::{count, fixed};
use record::GateState;

/// Which of it is printed.
#[derive(Clone, Copy, Debug, Default)]
pub struct Extent {
    /// Every station, reason and point, however many.
    pub all: bool,
    /// What fits a small terminal: the next thing, the gate, its causes.
    pub brief: bool,
}

/// Everything, for a person.
pub fn text(a: &Assessment, extent: Extent) -> String {
    if extent.brief {
        return brief(a);
    }
    let mut out = vec![head(a), String::new()];
    out.extend(gate::headline(&a.gate));
    out.extend(gate::causes(&a.gate, extent.all));
    out.push(gate::tally(&a.gate));
    out.push(String::new());
    if let Some(twist) = &a.twist {
        out.extend(plot::profile(twist, a.previous.as_ref()));
        out.push(String::new());
        out.extend(stations::table(twist, &a.points, extent.all));
        out.push(String::new());
        out.extend(parts(twist));
        section(&mut out, "", trust::zeros(a));
    } else {
        out.push("No twist profile yet: fewer than two stations have usable readings.".to_owned());
    }
    if let Some(changes) = &a.changes {
        section(&mut out, &format!("Since {}", changes.since), change::lines(changes));
    }
    section(&mut out, "Also measured", geometry::lines(a));
    section(&mut out, "Left open", trust::open(a));
    section(&mut out, "To know before trusting this", trust::doubts(a));
    section(&mut out, "Signed", trust::signatures(a));
    section(&mut out, "The plan was changed", trust::plan_changes(a));
    section(&mut out, "Cannot be judged", trust::unjudged(a));
    section(&mut out, "Next", next(a));
    out.push(String::new());
    out.push(paint::faint(&wrap("", CAUTION)));
    out.join("\n")
}

/// At most this many lines.
const BRIEF: usize = 24;

/// The next thing to do, the gate and its causes, in 24 lines at most.
fn brief(a: &Assessment) -> String {
    let mut out = vec![head(a), String::new()];
    out.extend(next(a).into_iter().take(1).map(|line| format!("NEXT   {}", line.trim_start())));
    out.push(String::new());
    out.extend(gate::headline(&a.gate));
    let tally = gate::tally(&a.gate);
    let lines = |parts: &[String]| parts.iter().map(|p| p.lines().count().max(1)).sum::<usize>();
    let room = BRIEF.saturating_sub(lines(&out) + lines(std::slice::from_ref(&tally)));
    out.extend(gate::brief(&a.gate, room));
    out.push(tally);
    out.join("\n")
}

/// Stands under every check.
pub const CAUTION: &str = "jigtrue measures and records; it does not approve. The kit maker's data, the local authority and a \
                       licensed person stand above it.";

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

fn head(a: &Assessment) -> String {
    let stage = match (&a.stage, a.stage_number) {
        (Some(name), Some(n)) => format!("stage {} of {}: {name}", n.number, n.of),
        (Some(name), None) => format!("stage: {name}"),
        (None, _) => "no stage has begun".to_owned(),
    };
    let at = a.last_entry_at.as_deref().unwrap_or("");
    let entries = format!("{}, last {at}", count(a.entries, "entry", "entries"));
    let wing = paint::strong(&a.wing);
    let gap = wrap::WIDTH.saturating_sub(wrap::width(&a.wing) + wrap::width(&stage)).max(2);
    format!("{wing}{}{stage}\n{:>width$}", " ".repeat(gap), entries, width = wrap::WIDTH)
}

fn parts(twist: &Twist) -> Vec<String> {
    let mut out = vec![
        judged::head(),
        judged::found("setting", &twist.setting),
        judged::found("washout error", &twist.washout_error),
    ];
    let size = |s: &StepView| s.finding.judged().map_or(0.0, |j| j.value.abs());
    let worst = twist
        .neighbours
        .iter()
        .max_by(|a, b| a.finding.verdict().cmp(&b.finding.verdict()).then(size(a).total_cmp(&size(b))));
    if let Some(worst) = worst {
        let name = format!("worst step {} to {}", worst.from, worst.to);
        out.push(judged::found(&name, &worst.finding));
    }
    if twist.order > 0 {
        let degrees = count(twist.dof as u64, "degree", "degrees");
        let chi2 = fixed(twist.chi2, 2);
        out.push(format!("  curve of order {}: chi squared {chi2} on {degrees} of freedom", twist.order));
    }
    out.extend(twist.remarks.iter().map(|r| wrap("  ", r)));
    out
}

/// What is left to do once everything the stage wants was measured.
fn after_measuring(a: &Assessment) -> Vec<String> {
    let has = |kind: ReasonKind| a.gate.reasons.iter().any(|r| r.kind == kind);
    let words = if a.stage.is_none() {
        "say which stage the build is in: jigtrue stage LOG NAME"
    } else if has(ReasonKind::Outside) || has(ReasonKind::Undecided) {
        "jigtrue advise LOG says what to move"
    } else if has(ReasonKind::Stage) {
        "when the build gets to the next stage: jigtrue stage LOG NAME"
    } else if has(ReasonKind::Open) {
        "see to what is left open, then: jigtrue open-item LOG \"...\" --close"
    } else if a.gate.state == GateState::Clear && a.signatures.iter().all(|s| s.entries_since > 0) {
        "it can be signed: jigtrue sign LOG --capacity ... --statement ..."
    } else {
        return Vec::new();
    };
    vec![wrap("  ", words)]
}

fn next(a: &Assessment) -> Vec<String> {
    let Some(first) = a.wanted.first() else { return after_measuring(a) };
    let facing = a
        .points
        .iter()
        .find(|p| &p.point == first)
        .and_then(|p| p.facing_wanted)
        .map(|f| format!(", facing {}", f.word()))
        .unwrap_or_default();
    let more = match a.wanted.len() - 1 {
        0 => "the last one wanted at this stage".to_owned(),
        n => format!("{n} more after it at this stage"),
    };
    let mut out = vec![wrap("  ", &format!("measure {first}{facing}; {more}"))];
    if a.gate.reasons.iter().any(|r| r.kind == ReasonKind::Outside) {
        out.push(wrap("  ", "for what is outside: jigtrue advise LOG says what to move"));
    }
    out
}
