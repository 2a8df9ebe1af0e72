//! Posts, by their feet.

use super::super::feet::{self, Axis, Lean, TiltU, level_feet};
use super::super::finding::{Finding, Remedy, TiltExpected};
use super::super::steps::moved_mm;
use super::Sources;
use crate::view::{Obligation, ObligationKind, PostView, Tilt, Verdict};
use quantity::shown::K95;
use record::plan::Post;
use std::collections::BTreeMap;

/// One finding for each post that leans, for both directions together: the same feet correct both.
pub(super) fn findings(from: Sources<'_>, outs: &[&Obligation]) -> Vec<Finding> {
    let mut found = Vec::new();
    let tilts = |o: &&&Obligation| matches!(o.kind, ObligationKind::Level | ObligationKind::Cross);
    let mut by_post: BTreeMap<&str, Vec<&Obligation>> = BTreeMap::new();
    outs.iter().filter(tilts).for_each(|o| by_post.entry(o.about.as_str()).or_default().push(o));
    for post in &from.plan.posts {
        let Some(own) = by_post.get(post.name.as_str()) else { continue };
        let Some(worst) = own.iter().max_by_key(|o| o.state) else { continue };
        let view = from.assessment.posts.iter().find(|p| p.post == post.name);
        let (remedy, mend) = match view {
            Some(view) if !own.iter().all(|o| can_wait(o.state)) => mend(from, post, view),
            _ => measure(post, own),
        };
        found.push(Finding {
            kind: worst.kind,
            about: post.name.clone(),
            state: worst.state,
            words: own.iter().map(|o| o.words.as_str()).collect::<Vec<_>>().join("; "),
            with: own.iter().filter(|o| o.kind != worst.kind).map(|o| o.kind.word().to_owned()).collect(),
            remedy,
            mend,
        });
    }
    found
}

/// Doubtful, or cannot be judged: nothing may be turned because of such a value.
const fn can_wait(state: Verdict) -> bool {
    matches!(state, Verdict::Doubtful | Verdict::CannotJudge)
}

fn measure(post: &Post, own: &[&Obligation]) -> (Remedy, Vec<String>) {
    let points = own.iter().map(|o| format!("{}@{}", o.kind.word(), post.name)).collect();
    (Remedy::Measure { points }, vec!["Measure it again, both ways, before you turn a foot.".to_owned()])
}

fn mend(from: Sources<'_>, post: &Post, view: &PostView) -> (Remedy, Vec<String>) {
    let standing = feet::standing(post, |foot| moved_mm(from.fold, foot));
    let out = |tilt: &Option<Tilt>| {
        let judged = &tilt.as_ref()?.tilt;
        let act = !matches!(judged.verdict, Some(Verdict::Within) | None);
        act.then_some(TiltU { deg: judged.value, u_deg: judged.u })
    };
    let lean = Lean { along: out(&view.level), across: out(&view.cross), made: vec![] };
    let advice = level_feet(&standing, &lean, from.plan.shown_in);
    let left = [
        (Axis::Across, lean.across, advice.cross_left_deg),
        (Axis::Along, lean.along, advice.level_left_deg),
    ];
    let expect = left
        .into_iter()
        .filter_map(|(axis, now, expected_deg)| {
            let now = now?;
            Some(TiltExpected { axis, now_deg: now.deg, expected_deg, half95_deg: K95 * now.u_deg })
        })
        .collect();
    let mut mend: Vec<String> = advice.moves.iter().map(|m| m.words.clone()).collect();
    mend.extend(advice.reasons);
    if advice.moves.is_empty() && advice.lacks.is_empty() {
        mend.push(
            "No step of its feet is fine enough: measure it more finely, or put a shim under the level."
                .to_owned(),
        );
    }
    (Remedy::Feet { post: post.name.clone(), moves: advice.moves, lacks: advice.lacks, expect }, mend)
}
