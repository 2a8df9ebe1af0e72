//! Level of the posts, along the span and across.

use super::Values;
use crate::advice::feet::{self, Axis, Lean, TiltU, level_feet};
use crate::advice::steps::moved_mm;
use crate::history::Fold;
use crate::judge::{ToJudge, judged};
use crate::view::{FootTurns, ObligationKind as K, PostView, Tilt, Verdict};
use quantity::{Degrees, Kind};
use record::plan::Plan;
use record::{Limits, Point, PointKind};

/// The posts with at least one tilt measured.
pub fn posts(plan: &Plan, fold: &Fold<'_>, values: &Values) -> Vec<PostView> {
    plan.posts
        .iter()
        .filter_map(|post| {
            let standing = feet::standing(post, |foot| moved_mm(fold, foot));
            let tilt = |point: PointKind, axis, kind: K, limits: Option<Limits<Degrees>>| {
                let measured = values.get(&Point::at(point, &post.name))?;
                let value = measured.estimate.value;
                let judged = judged(
                    plan,
                    kind.of(&post.name),
                    ToJudge::of_point(Kind::Angle, value, measured),
                    limits.map(Limits::values),
                );
                let moves = if judged.verdict == Some(Verdict::Within) {
                    Vec::new()
                } else {
                    let tilt = TiltU { deg: value, u_deg: judged.u };
                    level_feet(&standing, &Lean::on(axis, tilt), plan.shown_in).moves
                };
                Some(Tilt {
                    tilt: judged,
                    turns: moves
                        .iter()
                        .map(|m| FootTurns { foot: m.foot.clone(), turns: m.signed() })
                        .collect(),
                    moves: moves.into_iter().map(|m| m.words).collect(),
                })
            };
            let level = tilt(PointKind::Level, Axis::Along, K::Level, plan.tolerances.level);
            let cross = tilt(PointKind::Cross, Axis::Across, K::Cross, plan.tolerances.cross);
            (level.is_some() || cross.is_some()).then(|| PostView {
                post: post.name.clone(),
                span_mm: post.span.value(),
                level,
                cross,
            })
        })
        .collect()
}
