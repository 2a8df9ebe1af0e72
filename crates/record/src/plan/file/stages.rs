//! The stages of the build, with their patterns turned into points.

use super::checks::Names;
use super::parts::list;
use super::patterns::Patterns;
use super::table::Table;
use crate::plan::{Plan, Stage};

/// The stages, in their order. Where the plan is not whole, because parts of it could not be read, a pattern that names
/// nothing is no mistake of its own.
pub fn stages(root: &Table<'_, '_>, plan: &Plan, whole: bool, names: &mut Names<'_>) -> Vec<Stage> {
    let mut patterns = Patterns::of(plan, whole, root.mistakes());
    list(root, "stage", "a [[stage]]", |t| stage(t, &mut patterns, names))
}

fn stage(t: &Table<'_, '_>, patterns: &mut Patterns<'_>, names: &mut Names<'_>) -> Option<Stage> {
    let name = names.take("stage", t.name("name"));
    let requires = patterns.expand(t.texts("requires"));
    let disturbs = patterns.expand(t.texts("disturbs"));
    let mut open: Vec<String> = Vec::new();
    for (item, span) in t.texts("open") {
        if open.contains(&item) {
            t.mistakes().note(span, "this is in the list already", None);
        } else {
            open.push(item);
        }
        if open.len() > Plan::MAX_ITEMS / 10 {
            t.missing("end of `open`", "a stage leaves at most 1000 things open");
            break;
        }
    }
    Some(Stage { name: name?, requires, disturbs, open })
}
