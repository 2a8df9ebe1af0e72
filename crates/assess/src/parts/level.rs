//! Level of the posts, along the span and across.

use super::{Values, makeup, normal};
use crate::judge::judged;
use crate::view::{PostView, Tilt};
use quantity::Degrees;
use record::plan::Plan;
use record::{Limits, Point, PointKind};

/// The posts with at least one tilt measured.
pub fn posts(plan: &Plan, values: &Values) -> Vec<PostView> {
    plan.posts
        .iter()
        .filter_map(|post| {
            let tilt = |kind: PointKind, what: &str, limits: Option<Limits<Degrees>>| {
                let measured = values.get(&Point::at(kind, &post.name))?;
                Some(Tilt {
                    tilt: judged(
                        &plan.rule,
                        format!("{what} of {}", post.name),
                        "deg",
                        measured.estimate.value,
                        normal(&measured.estimate),
                        limits.map(|l| l.map(|d| d.value())),
                        &makeup(measured),
                    ),
                    moves: Vec::new(),
                    turns: Vec::new(),
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
