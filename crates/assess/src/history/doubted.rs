//! Readings in doubt for what is known of their instrument or of a shift.

use super::{Distrust, Fold, Used};
use record::Point;
use std::collections::{BTreeMap, BTreeSet};

impl Fold<'_> {
    /// Reasons to doubt one reading, apart from the others.
    pub fn doubts_of(&self, point: &Point, used: &Used) -> Vec<Distrust> {
        let mut out = Vec::new();
        match (&used.reading.instrument, &used.facts) {
            (None, _) => out.push(Distrust::NoInstrument(point.clone())),
            (Some(name), None) => out.push(Distrust::UnknownInstrument(name.clone())),
            (Some(name), Some(facts)) => {
                // A reading counts for the stage in which it was entered, so it cannot be earlier, whatever time a table
                // gave it.
                let began = self.visits.partition_point(|v| v.begun.seq < used.seq).checked_sub(1);
                let stage = began.and_then(|i| self.visits.get(i)).map(|v| v.begun.when.at);
                let at = stage.map_or(used.at, |began| began.max(used.at));
                if facts.due.as_ref().is_some_and(|due| at.date() > *due) {
                    out.push(Distrust::PastDue(name.clone()));
                }
            }
        }
        if let Some(name) = &used.reading.instrument {
            let failed = self.instruments.under_any_name(name).filter_map(|(checked, known)| {
                known.failed_around(used.seq).map(|entry| Distrust::failed(name, checked, entry))
            });
            out.extend(failed);
        }
        let shift = self.shifts.iter().find(|s| s.seq > used.seq && s.touches(point));
        out.extend(shift.map(|s| Distrust::Shift { watched: s.point.clone(), entry: s.seq }));
        out
    }

    /// Drops earlier rounds with a reading in doubt: they neither count beside the last round nor contradict it.
    pub(super) fn drop_doubted(&mut self) {
        let kept = self.visits.iter().flat_map(|v| v.before.iter().map(|b| &b.points).chain([&v.left]));
        let all = kept.chain(self.profiles.iter().map(|p| &p.points)).chain([&self.points]);
        let earlier =
            all.flatten().flat_map(|(point, f)| f.earlier.iter().flatten().map(move |u| (point, u)));
        let doubted = earlier.filter(|(point, used)| !self.doubts_of(point, used).is_empty());
        let doubted: BTreeSet<u64> = doubted.map(|(_, used)| used.seq).collect();
        if doubted.is_empty() {
            return;
        }
        let kept = self
            .visits
            .iter_mut()
            .flat_map(|v| v.before.iter_mut().map(|b| &mut b.points).chain([&mut v.left]));
        let all = kept.chain(self.profiles.iter_mut().map(|p| &mut p.points)).chain([&mut self.points]);
        for freshness in all.flat_map(BTreeMap::values_mut) {
            freshness.earlier.retain(|round| round.iter().all(|used| !doubted.contains(&used.seq)));
        }
    }
}
