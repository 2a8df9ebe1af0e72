//! What a turn did, from the tilt before and after it.

use super::super::steps::{self, Grain};
use super::{Axis, TiltU, plane::per_mm};
use quantity::shown::K95;
use record::plan::Post;
use serde::Serialize;

/// How far a foot moved, by the change of the tilt.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FootTurned {
    /// The foot.
    pub foot: String,
    /// How far it moved, positive up, in mm.
    pub mm: f64,
    /// Standard uncertainty of that, in mm.
    pub u_mm: f64,
    /// The same in turns of its screw, clockwise positive, to the nearest eighth or quarter that can be meant; none for
    /// shims.
    pub turns: Option<f64>,
    /// Half width of the 95 % interval of the turns.
    pub give_or_take_turns: Option<f64>,
}

impl FootTurned {}

/// How far one foot moved if the tilt on an axis changed by `change` while the other feet stayed; none where that foot
/// does nothing on that axis, or the plan has no such foot.
#[must_use]
pub fn foot_turned(post: &Post, axis: Axis, foot: &str, change: TiltU) -> Option<FootTurned> {
    let at = post.feet.iter().position(|f| f.name == foot)?;
    let [aft, out] = per_mm(&post.feet, at);
    let slope = match axis {
        Axis::Along => out,
        Axis::Across => -aft,
    };
    if slope.abs() < 1e-9 || !change.deg.is_finite() {
        return None;
    }
    let mm = libm::tan(change.deg.to_radians()) / slope;
    let u_mm = change.u_deg.to_radians() / slope.abs();
    let adjust = &post.feet[at].adjust;
    let per_turn = steps::per_turn(adjust);
    Some(FootTurned {
        foot: foot.to_owned(),
        mm,
        u_mm,
        turns: steps::turns(adjust, Grain::of(adjust, K95 * u_mm).nearest(adjust, mm)),
        give_or_take_turns: per_turn.map(|p| K95 * u_mm / p),
    })
}
