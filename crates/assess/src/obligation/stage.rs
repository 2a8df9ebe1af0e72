//! A stage was begun in order, or skipped on purpose, and what it requires was read before the next one began.

use super::judged::own;
use super::met::{Cause, Discharge, Shortfall};
use crate::history::{Fold, Visit};
use crate::view::ObligationKind as K;
use record::Point;
use record::plan::{Plan, Stage};

/// At most this many points are named in a sentence.
const NAMED: usize = 4;

/// The result for a stage of the plan.
pub fn stage(plan: &Plan, fold: &Fold<'_>, index: usize) -> Discharge {
    let Some(stage) = plan.stages.get(index) else { return not_begun(&format!("stage {index}")) };
    let visits: Vec<&Visit> = fold.visits.iter().filter(|v| v.index == Some(index)).collect();
    let passed = fold.visits.iter().rev().find(|v| v.begun.what.passed.contains(&stage.name));
    let Some(last) = visits.last().copied().or(passed) else { return not_begun(&stage.name) };
    let entries: Vec<u64> = visits.iter().copied().chain(passed).map(|v| v.begun.seq).collect();
    if let Some(before) = out_of_order(plan, fold, index, last) {
        let words = format!("{} was begun before {before}", stage.name);
        let settles = format!("begin {} again, or skip {before} with a reason", stage.name);
        return Discharge::unmet(Shortfall::DOUBTFUL, words, entries, own(K::Stage, &stage.name), settles);
    }
    let lacking = lacking(plan, fold, index, stage, &visits);
    if !lacking.is_empty() {
        let names: Vec<String> = lacking.iter().take(NAMED).map(ToString::to_string).collect();
        let more = match lacking.len().saturating_sub(NAMED) {
            0 => String::new(),
            n => format!(" and {n} more"),
        };
        let (unread, names) = (lacking.len(), names.join(", "));
        let words = format!(
            "{}: {unread} of {} points were not read before the next stage began: {names}{more}",
            stage.name,
            stage.requires.len()
        );
        let settles = format!("begin {} again and read them", stage.name);
        return Discharge::unmet(Shortfall::MISSING, words, entries, own(K::Stage, &stage.name), settles);
    }
    let how = if visits.is_empty() { "skipped on purpose" } else { "begun" };
    Discharge::met(entries, format!("{} was {how} (entry {})", stage.name, last.begun.seq))
}

fn not_begun(name: &str) -> Discharge {
    let words = format!("{name} is not begun");
    Discharge::unmet(Shortfall::MISSING, words, Vec::new(), Cause::Stage(name.to_owned()), None)
}

/// A stage before this one that was begun after this one's last beginning: the build went back, and must still return
/// to this one.
fn out_of_order<'p>(plan: &'p Plan, fold: &Fold<'_>, index: usize, last: &Visit) -> Option<&'p str> {
    let later = fold.visits.iter().rev().take_while(|v| v.begun.seq > last.begun.seq);
    let place = |name: &String| plan.stages.iter().position(|s| s.name == *name);
    let places = later.flat_map(|v| v.begun.what.passed.iter().filter_map(place).chain(v.index));
    places.filter(|at| *at < index).min().and_then(|at| plan.stages.get(at)).map(|s| s.name.as_str())
}

/// The points required by the stage that had no counting reading when the next stage began. The closing stage's
/// points are examined where they are judged. A stage left or skipped for a reason still owes its points: a later
/// reading meets them.
fn lacking<'p>(
    plan: &'p Plan,
    fold: &Fold<'_>,
    index: usize,
    stage: &'p Stage,
    visits: &[&Visit],
) -> Vec<&'p Point> {
    let closing = plan.closing_place() == Some(index);
    let lasts = visits.last().is_some_and(|v| v.ended.is_none());
    if closing || lasts {
        return Vec::new();
    }
    let followed = |v: &&&Visit| fold.visits.iter().find(|next| Some(next.begun.seq) == v.ended);
    let on_purpose = visits.is_empty()
        || visits.iter().any(|v| followed(&v).is_some_and(|next| next.begun.what.reason.is_some()));
    let read = |p: &Point| {
        visits.iter().any(|v| v.counted.contains(p))
            || (on_purpose && fold.points.get(p).is_some_and(|f| !f.used.is_empty()))
    };
    stage.requires.iter().filter(|p| !read(p)).collect()
}
