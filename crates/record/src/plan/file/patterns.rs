//! `incidence@*`, `offset@front:*`: patterns of points, with `*` for any run of characters as in a POSIX shell.

use super::table::{Mistakes, Name, nearest};
use crate::Point;
use crate::plan::Plan;
use std::collections::BTreeSet;

/// Every point of the plan, by name.
pub struct Patterns<'m> {
    points: Vec<(String, Point)>,
    mistakes: &'m Mistakes<'m>,
}

impl<'m> Patterns<'m> {
    /// Of this plan.
    pub fn of(plan: &Plan, mistakes: &'m Mistakes<'m>) -> Self {
        Self { points: plan.points().into_iter().map(|p| (p.to_string(), p)).collect(), mistakes }
    }

    /// The points the patterns name, each once, in the plan's order. A pattern that names none is a mistake.
    pub fn expand(&self, patterns: Vec<Name>) -> Vec<Point> {
        let mut hit = BTreeSet::new();
        for (pattern, span) in patterns {
            let before = hit.len();
            let mut any = false;
            for (i, (name, _)) in self.points.iter().enumerate() {
                if matches(&pattern, name) {
                    any = true;
                    hit.insert(i);
                }
            }
            if !any && hit.len() == before {
                let right = nearest(&pattern, self.points.iter().map(|(n, _)| n.as_str()))
                    .map(|near| format!("did you mean `{near}`?"))
                    .or_else(|| pattern.parse::<Point>().err().map(|e| e.why.to_owned()));
                self.mistakes.note(span, format!("`{pattern}` names no point of this plan"), right);
            }
        }
        hit.into_iter().filter_map(|i| self.points.get(i).map(|(_, p)| p.clone())).collect()
    }
}

/// Greedy matching of `*`: each part between stars is found as early as possible.
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
mod tests {
    use super::matches;

    #[test]
    fn stars_stand_for_any_run() {
        for (pattern, name, hit) in [
            ("incidence@*", "incidence@S1", true),
            ("incidence@S1", "incidence@S1", true),
            ("incidence@S1", "incidence@S10", false),
            ("incidence@S1*", "incidence@S10", true),
            ("*@front:*", "offset@front:S3", true),
            ("*:S3", "offset@front:S33", false),
            ("o*t@*:S*3", "offset@front:S33", true),
            ("*", "anything", true),
            ("", "anything", false),
        ] {
            assert_eq!(matches(pattern, name), hit, "{pattern} {name}");
        }
    }
}
