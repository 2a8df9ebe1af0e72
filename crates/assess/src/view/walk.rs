//! Everything judged by a value of its own, in whatever view it is.

use super::{Assessment, Judged, ObligationKind as K, PostView};

/// One thing that is judged.
pub struct One<'a, J> {
    pub kind: K,
    /// Its name in the plan.
    pub about: &'a str,
    pub judged: J,
}

const fn one<J>(kind: K, about: &str, judged: J) -> One<'_, J> {
    One { kind, about, judged }
}

impl Assessment {
    /// Posts, spars, bays, spacings, the shaft and rigged values. The twist has judgements of its own, and spot
    /// checks are points.
    pub(crate) fn judged(&self) -> impl Iterator<Item = One<'_, &Judged>> {
        let tilts = self.posts.iter().flat_map(|PostView { post, level, cross, .. }| {
            let level = level.iter().map(move |t| one(K::Level, post, &t.tilt));
            level.chain(cross.iter().map(move |t| one(K::Cross, post, &t.tilt)))
        });
        tilts
            .chain(self.spars.iter().map(|v| one(K::Straightness, &v.spar, &v.minimum_zone)))
            .chain(self.bays.iter().map(|v| one(K::Square, &v.bay, &v.out_of_square)))
            .chain(self.spacing.iter().map(|v| one(K::Spacing, &v.station, &v.deviation)))
            .chain(self.bore_line.iter().map(|v| one(K::Clearance, &v.shaft, &v.clearance)))
            .chain(self.rigging.iter().map(|v| one(K::Rigging, &v.name, &v.judged)))
    }

    /// The same, mutable.
    pub(crate) fn judged_mut(&mut self) -> impl Iterator<Item = One<'_, &mut Judged>> {
        let tilts = self.posts.iter_mut().flat_map(|PostView { post, level, cross, .. }| {
            let post: &str = post;
            let level = level.iter_mut().map(move |t| one(K::Level, post, &mut t.tilt));
            level.chain(cross.iter_mut().map(move |t| one(K::Cross, post, &mut t.tilt)))
        });
        tilts
            .chain(self.spars.iter_mut().map(|v| one(K::Straightness, &v.spar, &mut v.minimum_zone)))
            .chain(self.bays.iter_mut().map(|v| one(K::Square, &v.bay, &mut v.out_of_square)))
            .chain(self.spacing.iter_mut().map(|v| one(K::Spacing, &v.station, &mut v.deviation)))
            .chain(self.bore_line.iter_mut().map(|v| one(K::Clearance, &v.shaft, &mut v.clearance)))
            .chain(self.rigging.iter_mut().map(|v| one(K::Rigging, &v.name, &mut v.judged)))
    }
}
