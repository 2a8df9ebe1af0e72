//! Level of the posts, along the span and across.

use super::{Values, makeup, normal};
use crate::advice::feet::{self, Axis, Lean, TiltU, level_feet};
use crate::history::Fold;
use crate::judge::{doubted, judged};
use crate::view::{FootTurns, JudgedBy, PostView, Tilt, Verdict};
use quantity::{Degrees, Kind};
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
            let tilt = |kind: PointKind,
                        axis,
                        judged_by: fn(String) -> JudgedBy,
                        limits: Option<Limits<Degrees>>| {
                let measured = values.get(&Point::at(kind, &post.name))?;
                let value = measured.estimate.value;
                let judged = doubted(
                    judged(
                        plan,
                        judged_by(post.name.clone()).to_string(),
                        Kind::Angle,
                        value,
                        normal(&measured.estimate),
                        limits.map(|l| l.map(|d| d.value())),
                        &makeup(measured),
                    ),
                    [measured],
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
            let level = tilt(PointKind::Level, Axis::Along, JudgedBy::Level, plan.tolerances.level);
            let cross = tilt(PointKind::Cross, Axis::Across, JudgedBy::Cross, plan.tolerances.cross);
            (level.is_some() || cross.is_some()).then(|| PostView {
                post: post.name.clone(),
                span_mm: post.span.value(),
                level,
                cross,
            })
        })
        .collect()
}
