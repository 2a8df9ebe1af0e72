//! The readings of a profile.

use crate::history::Freshness;
use record::Point;
use record::point::Judgement;
use std::collections::BTreeMap;

/// The readings of a profile.
#[derive(Clone)]
pub struct Readings<'f> {
    /// The points that show the twist.
    pub(super) points: BTreeMap<&'f Point, &'f Freshness>,
    /// Whether anything else was measured in several rounds.
    others_again: bool,
}

impl<'f> Readings<'f> {
    /// From these points, as far as they show the twist.
    pub fn of(points: impl Iterator<Item = (&'f Point, &'f Freshness)>) -> Self {
        let (mut twist, mut others_again) = (BTreeMap::new(), false);
        for (point, freshness) in points {
            if point.kind().row().judgement == Judgement::Twist {
                twist.insert(point, freshness);
            } else {
                others_again |= !freshness.earlier.is_empty();
            }
        }
        Self { points: twist, others_again }
    }

    /// Whether anything was measured in several rounds.
    pub(super) fn again(&self) -> bool {
        self.others_again || self.points.values().any(|f| !f.earlier.is_empty())
    }
}

/// Equal readings give equal profiles.
impl PartialEq for Readings<'_> {
    fn eq(&self, other: &Self) -> bool {
        let alike =
            |a: &Freshness, b: &Freshness| std::ptr::eq(a, b) || (a.used == b.used && a.earlier == b.earlier);
        self.points.len() == other.points.len()
            && self.again() == other.again()
            && self.points.iter().zip(&other.points).all(|((p, f), (q, g))| p == q && alike(f, g))
    }
}
