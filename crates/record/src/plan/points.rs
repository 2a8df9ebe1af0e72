//! Every point a plan knows.

use super::Plan;
use crate::{Point, PointKind};
use quantity::Kind;

impl Plan {
    /// Every point that the plan knows, in the order of work and along the span.
    #[must_use]
    pub fn points(&self) -> Vec<Point> {
        let mut out = Vec::new();
        for post in &self.posts {
            out.push(Point::at(PointKind::Level, &post.name));
            out.push(Point::at(PointKind::Cross, &post.name));
        }
        for diagonal in self.bays.iter().flat_map(|b| &b.diagonals) {
            out.push(Point::at(PointKind::Diagonal, diagonal));
        }
        for station in &self.stations {
            out.push(Point::at(PointKind::Spacing, &station.name));
        }
        for kind in [PointKind::Offset, PointKind::Walk] {
            self.along_spars(kind, &mut out);
        }
        for station in &self.stations {
            out.push(Point::at(PointKind::Incidence, &station.name));
        }
        for kind in [PointKind::Height, PointKind::Plumb] {
            self.along_spars(kind, &mut out);
        }
        for kind in [PointKind::Bore, PointKind::BoreAft, PointKind::BoreUp] {
            out.extend(self.bushes.iter().map(|b| Point::at(kind, &b.name)));
        }
        out.extend(self.spots.iter().map(|s| Point::at(PointKind::Spot, &s.name)));
        out
    }

    fn along_spars(&self, kind: PointKind, out: &mut Vec<Point>) {
        for spar in &self.spars {
            out.extend(self.stations.iter().map(|s| Point::on(kind, &spar.name, &s.name)));
        }
    }

    /// The quantity measured at a point; `None` for a point that the plan does not know.
    #[must_use]
    pub fn quantity_of(&self, point: &Point) -> Option<Kind> {
        let place = point.place();
        let known = match point.kind() {
            PointKind::Level | PointKind::Cross => self.posts.iter().any(|p| p.name == place),
            PointKind::Diagonal => self.bays.iter().any(|b| b.diagonals.iter().any(|d| d == place)),
            PointKind::Spacing | PointKind::Incidence => self.station(place).is_some(),
            PointKind::Offset | PointKind::Walk | PointKind::Height | PointKind::Plumb => {
                self.station(place).is_some() && point.spar().is_some_and(|s| self.spar(s).is_some())
            }
            PointKind::Bore | PointKind::BoreAft | PointKind::BoreUp => {
                self.bushes.iter().any(|b| b.name == place)
            }
            PointKind::Spot => return self.spots.iter().find(|s| s.name == place).map(|s| s.quantity),
        };
        if known { point.kind().quantity() } else { None }
    }
}
