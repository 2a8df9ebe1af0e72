//! Level of the posts, along the span and across.

use super::{Values, makeup, normal};
use crate::advice::feet::{self, Axis, Lean, TiltU, level_feet};
use crate::history::Fold;
use crate::judge::judged;
use crate::view::{PostView, Tilt, Verdict};
use quantity::Degrees;
use record::plan::Plan;
use record::{Limits, Point, PointKind};

/// The posts with at least one tilt measured.
pub fn posts(plan: &Plan, fold: &Fold<'_>, values: &Values) -> Vec<PostView> {
    plan.posts
        .iter()
        .filter_map(|post| {
            let moved = |foot: &str| {
                fold.moves.iter().filter(|m| m.3.support == foot).map(|m| m.3.amount.value()).sum()
            };
            let standing = feet::standing(post, moved);
            let tilt = |kind: PointKind, what: &str, limits: Option<Limits<Degrees>>| {
                let measured = values.get(&Point::at(kind, &post.name))?;
                let value = measured.estimate.value;
                let judged = judged(
                    &plan.rule,
                    format!("{what} of {}", post.name),
                    "deg",
                    value,
                    normal(&measured.estimate),
                    limits.map(|l| l.map(|d| d.value())),
                    &makeup(measured),
                );
                let moves = match (judged.verdict, kind) {
                    (Some(Verdict::Within), _) => Vec::new(),
                    (_, _) => {
                        let axis = if kind == PointKind::Level { Axis::Along } else { Axis::Across };
                        let tilt = TiltU { deg: value, u_deg: judged.u };
                        level_feet(&standing, &Lean::on(axis, tilt)).moves
                    }
                };
                Some(Tilt {
                    tilt: judged,
                    turns: moves.iter().map(|m| (m.foot.clone(), m.signed())).collect(),
                    moves: moves.into_iter().map(|m| m.words).collect(),
                })
            };
            let level = tilt(PointKind::Level, "level", plan.tolerances.level);
            let cross = tilt(PointKind::Cross, "cross level", plan.tolerances.cross);
            (level.is_some() || cross.is_some()).then(|| PostView {
                post: post.name.clone(),
                span_mm: post.span.value(),
                level,
                cross,
            })
        })
        .collect()
}
