//! Every point a plan knows.

use super::Plan;
use crate::point::{Design, Place};
use crate::{Point, PointKind};
use quantity::{Kind, nearest};

impl Plan {
    /// Every point that the plan knows, in the order of work and along the span.
    #[must_use]
    pub fn points(&self) -> Vec<Point> {
        let mut out = Vec::with_capacity(self.point_count());
        // Read both tilts of a post before going to the next post.
        for post in &self.posts {
            out.extend(on(Place::Post).map(|kind| Point::at(kind, &post.name)));
        }
        for kind in PointKind::all().filter(|k| k.row().place != Place::Post) {
            if kind.on_spar() {
                for spar in &self.spars {
                    out.extend(self.stations.iter().map(|s| Point::on(kind, &spar.name, &s.name)));
                }
            } else {
                out.extend(self.places(kind).map(|place| Point::at(kind, place)));
            }
        }
        out
    }

    /// How many points the plan knows.
    #[must_use]
    pub fn point_count(&self) -> usize {
        PointKind::all()
            .map(|kind| self.places(kind).count() * if kind.on_spar() { self.spars.len() } else { 1 })
            .sum()
    }

    /// The places where a kind of point can be: the names of posts, diagonals, stations, bushes or spot checks.
    fn places(&self, kind: PointKind) -> Box<dyn Iterator<Item = &str> + '_> {
        match kind.row().place {
            Place::Post => Box::new(self.posts.iter().map(|p| p.name.as_str())),
            Place::Diagonal => Box::new(self.bays.iter().flat_map(|b| &b.diagonals).map(String::as_str)),
            Place::Bush => Box::new(self.bushes.iter().map(|b| b.name.as_str())),
            Place::Spot => Box::new(self.spots.iter().map(|s| s.name.as_str())),
            Place::Rig => Box::new(self.rigging.places(kind).into_iter()),
            Place::Station | Place::Spar => Box::new(self.stations.iter().map(|s| s.name.as_str())),
        }
    }

    /// The quantity measured at a point; `None` if the point is not in the plan.
    #[must_use]
    pub fn quantity_of(&self, point: &Point) -> Option<Kind> {
        if point.kind().row().place == Place::Spot {
            return self.spot(point.place()).map(|s| s.quantity);
        }
        if point.kind().row().place == Place::Rig {
            return self.rigging.quantity_of(point);
        }
        let place = match point.kind().row().place {
            Place::Station | Place::Spar => self.station(point.place()).is_some(),
            _ => self.places(point.kind()).any(|place| place == point.place()),
        };
        let spar = !point.kind().on_spar() || point.spar().is_some_and(|s| self.spar(s).is_some());
        if place && spar { point.kind().quantity() } else { None }
    }

    /// The design value of a point, in the base unit; `None` if the plan does not say.
    #[must_use]
    pub fn design_of(&self, point: &Point) -> Option<f64> {
        match point.kind().row().design {
            Design::Unknown => None,
            Design::Zero => Some(0.0),
            Design::Incidence => self.station(point.place()).map(|s| s.incidence.value()),
            Design::Distance => self.station(point.place()).map(|s| (s.span - self.wing.root).value()),
            Design::Rig => self.rigging.design_of(point),
            Design::Bore => self.bushes.iter().find(|b| b.name == point.place()).map(|b| b.bore.value()),
        }
    }

    /// How much more than its incidence a true section reads because of what the instrument rests on, in degrees; 0
    /// for everything but incidence.
    #[must_use]
    pub fn fixture_of(&self, point: &Point) -> f64 {
        match point.kind().row().design {
            Design::Incidence => self.station(point.place()).map_or(0.0, |s| s.fixture.value()),
            Design::Unknown | Design::Zero | Design::Distance | Design::Bore | Design::Rig => 0.0,
        }
    }

    /// The point that a mistyped one probably meant, if one is near; a `*` counts as a typing slip.
    #[must_use]
    pub fn nearest_point(&self, text: &str) -> Option<Point> {
        let (word, place) = text.trim().split_once('@')?;
        let with_places = PointKind::all().filter(|kind| self.places(*kind).next().is_some());
        let word = nearest(word, with_places.map(PointKind::word))?;
        let kind = PointKind::all().find(|kind| kind.word() == word)?;
        if !kind.on_spar() {
            return nearest_or_first(place, self.places(kind)).map(|place| Point::at(kind, place));
        }
        let (spar, station) = place.split_once(':').unwrap_or(("*", place));
        let spar = nearest_or_first(spar, self.spars.iter().map(|s| s.name.as_str()))?;
        let station = nearest_or_first(station, self.places(kind))?;
        Some(Point::on(kind, spar, station))
    }

    /// A sentence about the places that the plan has for a kind of point.
    pub(crate) fn places_of(&self, kind: PointKind) -> String {
        const SHOWN: usize = 12;
        let mut names: Vec<&str> = self.places(kind).take(SHOWN + 1).collect();
        if names.is_empty() {
            return format!("the plan has no place for {} points", kind.word());
        }
        if kind.on_spar() && self.spars.is_empty() {
            return format!("{} points lie on spars, and the plan has none", kind.word());
        }
        if names.len() > SHOWN {
            names.truncate(SHOWN);
            names.push("and more");
        }
        format!("{} points can be at {}", kind.word(), names.join(", "))
    }
}

/// The kinds of point at such a place.
fn on(place: Place) -> impl Iterator<Item = PointKind> {
    PointKind::all().filter(move |kind| kind.row().place == place)
}

/// The nearest name; for a pattern, the first name that begins with the part before the star.
fn nearest_or_first<'p>(given: &str, mut names: impl Iterator<Item = &'p str>) -> Option<&'p str> {
    match given.split_once('*') {
        Some((start, _)) => names.find(|name| name.starts_with(start)),
        None => nearest(given, names),
    }
}
