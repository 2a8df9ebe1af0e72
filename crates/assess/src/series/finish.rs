//! From what was taken in to the series.

use super::columns::Columns;
use super::gather::{First, Gathering, Kept, OtherWing};
use super::stiffness::stiffness;
use super::view::Series;
use super::{drift, geometry, summary};
use crate::advice::observed::Event;

/// Version of the form.
const FORMAT: u32 = 1;

impl Gathering {
    /// What they teach together. `stage` is the stage at whose end every log was cut.
    ///
    /// # Errors
    /// If some are of another kind of wing than the first.
    pub fn finish(mut self, stage: Option<String>) -> Result<Series, OtherWing> {
        let (first, plan) = match self.first.take() {
            Some(First { log, plan }) => (log, Some(plan)),
            None => (String::new(), None),
        };
        if !self.differs.is_empty() {
            return Err(OtherWing { first, differs: self.differs });
        }
        self.wings.sort_by_cached_key(|one| (one.wing.at, one.wing.log.clone()));
        self.not_counted.sort_by(|a, b| a.log.cmp(&b.log));
        let (mine, others): (Vec<&Kept>, Vec<&Kept>) = self.wings.iter().partition(|one| one.same_jig);
        let mine: Vec<&[Event]> = mine.into_iter().map(|one| one.wing.events.as_slice()).collect();
        let other_jig = others.into_iter().map(|one| one.wing.log.clone()).collect();
        let stiffness = plan.as_ref().and_then(|plan| stiffness(plan, &mine, other_jig));
        let all = Columns::of(self.wings.into_iter().map(|one| one.wing));
        let mut series = Series {
            format: FORMAT,
            wing: all.wings.first().map(|w| w.wing.clone()),
            stage,
            geometry: plan.as_ref().map(geometry::geometry).unwrap_or_default(),
            jig: plan.as_ref().map(geometry::jig).unwrap_or_default(),
            not_counted: self.not_counted,
            figures: summary::figures(&all),
            unmeasured: summary::unmeasured(&all),
            creeps: summary::creeps(&all),
            instruments: drift::instruments(&all),
            wings: all.wings,
            stiffness,
            remarks: vec![],
        };
        series.remarks = summary::remarks(&series);
        Ok(series)
    }
}
