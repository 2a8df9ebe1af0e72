//! What must hold between the parts of a plan.

use super::table::{Mistakes, Name, Table};
use crate::plan::Station;
use std::collections::BTreeSet;

/// Names taken so far, by what they are names of.
pub struct Names<'m> {
    mistakes: &'m Mistakes<'m>,
    taken: BTreeSet<(&'static str, String)>,
}

impl<'m> Names<'m> {
    /// None yet.
    pub fn new(mistakes: &'m Mistakes<'m>) -> Self {
        Self { mistakes, taken: BTreeSet::new() }
    }

    /// Takes a name; one taken already is noted as a mistake and still handed back.
    pub fn take(&mut self, of: &'static str, name: Option<Name>) -> Option<String> {
        let (name, span) = name?;
        if !self.taken.insert((of, name.clone())) {
            self.mistakes.note(
                span,
                format!("there is already a {of} named `{name}`"),
                Some("give each its own name".to_owned()),
            );
        }
        Some(name)
    }
}

/// At least two stations, at different places.
pub fn check_stations(root: &Table<'_, '_>, stations: &[Station]) {
    let listed = root.value("station");
    let span = listed.map_or(0..0, toml::Spanned::span);
    let given = listed.and_then(|v| v.get_ref().as_array()).map_or(0, |a| a.len());
    if given < 2 {
        root.mistakes().note(
            span,
            format!("a twist profile needs at least two stations; the plan has {given}"),
            Some("write a [[station]] with name, span, chord and incidence for each".to_owned()),
        );
        return;
    }
    // Stations that could not be read have mistakes of their own.
    if let Some(first) = stations.first()
        && stations.len() == given
        && stations.iter().all(|s| s.span == first.span)
    {
        root.mistakes().note(
            span,
            format!("all {given} stations stand at the same span, {}", first.span),
            None,
        );
    }
}
