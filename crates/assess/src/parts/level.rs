//! Level of the posts, along the span and across.

use super::{Values, makeup, normal};
use crate::advice::feet::foot_moves;
use crate::advice::steps::travel_left;
use crate::history::Fold;
use crate::judge::judged;
use crate::view::{PostView, Tilt, Verdict};
use quantity::{Degrees, Millimetres};
use record::plan::{Plan, Post, Travel};
use record::{Limits, Point, PointKind};

/// The posts with at least one tilt measured.
pub fn posts(plan: &Plan, fold: &Fold<'_>, values: &Values) -> Vec<PostView> {
    plan.posts
        .iter()
        .filter_map(|post| {
            let standing = as_it_stands(post, fold);
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
                    (_, PointKind::Level) => foot_moves(&standing, value, 0.0),
                    (_, _) => foot_moves(&standing, 0.0, value),
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

/// The post with the travel its feet have left after the moves recorded so far.
fn as_it_stands(post: &Post, fold: &Fold<'_>) -> Post {
    let mut standing = post.clone();
    for foot in &mut standing.feet {
        let moved = fold.moves.iter().filter(|m| m.3.support == foot.name).map(|m| m.3.amount.value()).sum();
        let (minus, plus) = travel_left(foot.travel, moved);
        foot.travel = Travel { minus: Millimetres::new(minus), plus: Millimetres::new(plus) };
    }
    standing
}
