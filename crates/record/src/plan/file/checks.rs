//! Rules that hold between the parts of a plan.

use super::alike::{Alike, looks};
use super::mistake::{Mistake, Mistakes, Table};
use crate::plan::{Bush, Plan, Shaft, Station};
use quantity::Millimetres;
use quantity::table::Written;
use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, BTreeSet};

/// The names in use, by what they name.
pub struct Names<'m> {
    mistakes: &'m Mistakes<'m>,
    taken: BTreeSet<(&'static str, String)>,
    alike: BTreeMap<(&'static str, String), Alike>,
    small: BTreeMap<(&'static str, String), String>,
}

impl<'m> Names<'m> {
    /// No names yet.
    pub fn new(mistakes: &'m Mistakes<'m>) -> Self {
        Self { mistakes, taken: BTreeSet::new(), alike: BTreeMap::new(), small: BTreeMap::new() }
    }

    /// Takes a name. A name already in use is reported as a mistake and still returned.
    pub fn take(&mut self, of: &'static str, name: Option<Written>) -> Option<String> {
        let Written { text: name, span } = name?;
        if !self.taken.insert((of, name.clone())) {
            let taken = Mistake::NameTaken { of, name: name.clone() };
            self.mistakes.note(span, taken, Some("give each its own name".to_owned()));
        } else if let Some(other) = self.looks_like(of, &name) {
            let right = "one of them has letters of another alphabet or invisible characters; type it again";
            let alike = Mistake::LooksLike { of, name: name.clone(), other };
            self.mistakes.note(span, alike, Some(right.to_owned()));
        } else if let Some(other) = self.same_in_small(of, &name) {
            let right = "a typed name is found whatever its capitals: give each a name of its own";
            let capitals = Mistake::OnlyCapitals { of, name: name.clone(), other };
            self.mistakes.accepted_once(span, capitals, Some(right.to_owned()));
        }
        Some(name)
    }
}

impl Names<'_> {
    /// The earlier name that differs from this one only in capitals.
    fn same_in_small(&mut self, of: &'static str, name: &str) -> Option<String> {
        match self.small.entry((of, name.to_lowercase())) {
            Entry::Vacant(free) => {
                free.insert(name.to_owned());
                None
            }
            Entry::Occupied(before) => Some(before.get().clone()),
        }
    }

    /// The earlier name that this one looks like, unless both are plain ASCII, which a person can tell apart by
    /// typing.
    fn looks_like(&mut self, of: &'static str, name: &str) -> Option<String> {
        let plain = name.is_ascii();
        match self.alike.entry((of, looks(name))) {
            Entry::Vacant(free) => {
                free.insert(Alike { name: name.to_owned(), all_plain: plain });
                None
            }
            Entry::Occupied(mut before) => {
                let Alike { name, all_plain } = before.get_mut();
                let alike = !(plain && *all_plain);
                *all_plain &= plain;
                alike.then(|| name.clone())
            }
        }
    }
}

/// Stations nearer than this are one place: no tape is read more closely. Two of them on one rib would count as two ribs that agree,
/// and the ribs would seem not to scatter.
const ONE_PLACE: Millimetres = Millimetres::new(0.1);

/// Checks that there are at least two stations, at different places.
pub fn check_stations(root: &Table<'_, '_>, stations: &[Station]) {
    let listed = root.value("station");
    let span = listed.map_or(0..0, toml::Spanned::span);
    let given = root.count("station");
    if given < 2 {
        if listed.is_some_and(|v| !v.get_ref().is_array()) {
            return;
        }
        root.mistakes().note(
            span,
            Mistake::FewStations(given),
            Some("write a [[station]] with name, span, chord and incidence for each".to_owned()),
        );
        return;
    }
    // Stations that could not be read have their own mistakes.
    if stations.len() != given {
        return;
    }
    if let Some(first) = stations.first()
        && stations.iter().all(|s| s.span == first.span)
    {
        let same = Mistake::AllAtOneSpan { count: given, span: first.span };
        return root.mistakes().note(span, same, None);
    }
    let mut sorted: Vec<(usize, &Station)> = stations.iter().enumerate().collect();
    sorted.sort_by(|(_, a), (_, b)| a.span.value().total_cmp(&b.span.value()));
    for ((_, a), (place, b)) in sorted.iter().zip(sorted.iter().skip(1)) {
        if b.span - a.span >= ONE_PLACE || root.mistakes().full() {
            continue;
        }
        let (first, second) = (a.name.clone(), b.name.clone());
        let at = root.span_of("station", *place, "span");
        if a.span == b.span {
            let same = Mistake::TwoAtOneSpan { first, second, span: b.span };
            root.mistakes().note(at, same, None);
        } else {
            let right = "give each rib one station, and measure it again in another round";
            let near = Mistake::OnePlace { first, second };
            root.mistakes().accepted_once(at, near, Some(right.to_owned()));
        }
    }
}

/// Checks that the shaft is thinner than every bore.
pub fn check_shaft(root: &Table<'_, '_>, shaft: Option<&Shaft>, bushes: &[Bush]) {
    let Some(shaft) = shaft.filter(|_| bushes.len() == root.count("bush")) else { return };
    for (place, bush) in bushes.iter().enumerate() {
        if bush.bore <= shaft.diameter && !root.mistakes().full() {
            let narrow = Mistake::NarrowBore { bush: bush.name.clone(), shaft: shaft.diameter };
            root.mistakes().note(root.span_of("bush", place, "bore"), narrow, None);
        }
    }
}

/// Checks that the points are few enough to list; `None` if there are too many.
pub fn check_size(root: &Table<'_, '_>, plan: &Plan) -> Option<()> {
    let (points, most) = (plan.point_count(), Plan::MAX_POINTS);
    if points <= most {
        return Some(());
    }
    let span = root.value("spar").or(root.value("station")).map_or(0..0, toml::Spanned::span);
    let right = Some("each spar has points at every station".to_owned());
    root.mistakes().note(span, Mistake::ManyPoints { points, most }, right);
    None
}
