//! Finds the point that a person's short word means.

use super::Plan;
use crate::Point;
use crate::point::Design;

/// What a word means among the points of a plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Named {
    One(Point),
    /// Several points, none more likely than the others.
    Several(Vec<Point>),
    None,
}

impl Plan {
    /// The point that a word means: written in full (`height@rear:S9`), or by its place alone (`S4`, `BR2`). If
    /// several things are measured there, it is the one of the same kind as `now`, else the incidence. Case is
    /// ignored unless two names differ only by case.
    #[must_use]
    pub fn point_named(&self, word: &str, now: Option<&Point>) -> Named {
        let word = word.trim();
        if word.contains('@') {
            return match word.parse::<Point>() {
                Ok(point) if self.quantity_of(&point).is_some() => Named::One(point),
                _ => Named::None,
            };
        }
        let all = self.points();
        let exactly: Vec<&Point> = all.iter().filter(|p| p.place() == word).collect();
        let found = if exactly.is_empty() {
            all.iter().filter(|p| p.place().eq_ignore_ascii_case(word)).collect()
        } else {
            exactly
        };
        let like_now = now
            .and_then(|now| found.iter().find(|p| p.kind() == now.kind() && p.spar() == now.spar()).copied());
        let incidence = || found.iter().find(|p| p.kind().row().design == Design::Incidence).copied();
        match (like_now.or_else(incidence), found.as_slice()) {
            (Some(point), _) => Named::One(point.clone()),
            (None, []) => Named::None,
            (None, [only]) => Named::One((*only).clone()),
            (None, several) => Named::Several(several.iter().map(|p| (*p).clone()).collect()),
        }
    }
}
