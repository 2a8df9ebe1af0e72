//! Patterns of points such as `incidence@*` and `offset@front:*`, with `*` for any run of characters, as in a POSIX
//! shell.

use super::mistake::{Mistake, Mistakes};
use crate::Point;
use crate::plan::Plan;
use quantity::table::{Written, quoted};
use std::collections::{BTreeMap, BTreeSet};

/// The most comparisons of a pattern with a point in one plan, to bound the time a plan takes to read.
const MOST_COMPARED: usize = 10_000_000;
/// The most points that all stages of a plan may list together.
const MOST_LISTED: usize = 500_000;

/// Whether every part of the plan could be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Parts {
    /// They could.
    Whole,
    /// Some parts could not be read, so their points are unknown.
    Lacking,
}

/// Every point of the plan, by name.
pub struct Patterns<'p> {
    plan: &'p Plan,
    parts: Parts,
    mistakes: &'p Mistakes<'p>,
    points: Vec<(String, Point)>,
    place: BTreeMap<String, usize>,
    compared: usize,
    listed: usize,
}

impl<'p> Patterns<'p> {
    /// The points of this plan. If parts are missing, a pattern that matches nothing is ignored.
    pub fn of(plan: &'p Plan, parts: Parts, mistakes: &'p Mistakes<'p>) -> Self {
        let points: Vec<(String, Point)> = plan.points().into_iter().map(|p| (p.to_string(), p)).collect();
        let place = points.iter().enumerate().map(|(i, (name, _))| (name.clone(), i)).collect();
        Self { plan, parts, mistakes, points, place, compared: 0, listed: 0 }
    }

    /// The points that the patterns match, each once, in plan order. A pattern that matches none is a mistake.
    pub fn expand(&mut self, patterns: Vec<Written>) -> Vec<Point> {
        let mut hit = BTreeSet::new();
        let innermost = self.plan.stations.first().map(|s| s.name.as_str());
        for Written { text: pattern, span } in patterns {
            if self.mistakes.full() {
                break;
            }
            let mut any = false;
            if let Some(&i) = self.place.get(&pattern) {
                any = true;
                hit.insert(i);
            } else if pattern.contains('*') {
                let start = pattern.split('*').next().unwrap_or_default();
                let begin_so =
                    self.place.range(start.to_owned()..).take_while(|(name, _)| name.starts_with(start));
                for (name, &i) in begin_so {
                    self.compared += 1;
                    if matches(&pattern, name) {
                        any = true;
                        // A step ends at its station. None ends at the innermost one, so `walk@*` does not ask for
                        // it.
                        let (_, point) = &self.points[i];
                        if !(point.kind().row().is_step() && Some(point.place()) == innermost) {
                            hit.insert(i);
                        }
                    }
                }
                if self.compared > MOST_COMPARED {
                    self.mistakes.note(span, Mistake::ManyPatterns, None);
                    break;
                }
            }
            if !any && self.parts == Parts::Whole {
                self.unmatched(&pattern, span);
            }
        }
        self.listed += hit.len();
        if self.listed > MOST_LISTED {
            self.mistakes.note(0..0, Mistake::ManyListed(MOST_LISTED), None);
            return Vec::new();
        }
        hit.into_iter().filter_map(|i| self.points.get(i).map(|(_, p)| p.clone())).collect()
    }

    fn unmatched(&self, pattern: &str, span: std::ops::Range<usize>) {
        let right = match (self.plan.nearest_point(pattern), pattern.parse::<Point>()) {
            (Some(near), _) => Some(format!("did you mean `{near}`?")),
            (None, Ok(point)) => Some(self.plan.places_of(point.kind())),
            (None, Err(error)) => Some(error.why.to_string()),
        };
        self.mistakes.note(span, Mistake::NoPoint(quoted(pattern)), right);
    }
}

/// Greedy matching of `*`: each part between stars is matched as early as possible.
fn matches(pattern: &str, name: &str) -> bool {
    let mut parts = pattern.split('*');
    let Some(mut rest) = parts.next().and_then(|first| name.strip_prefix(first)) else {
        return false;
    };
    let mut parts = parts.peekable();
    if parts.peek().is_none() {
        return rest.is_empty();
    }
    while let Some(part) = parts.next() {
        if parts.peek().is_none() {
            return rest.ends_with(part);
        }
        match rest.find(part) {
            Some(at) => rest = rest.get(at + part.len()..).unwrap_or(""),
            None => return false,
        }
    }
    true
}

#[cfg(test)]
mod tests;
