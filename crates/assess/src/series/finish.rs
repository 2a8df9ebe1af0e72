//! From what was taken in to the series.

use super::gather::{First, FoundOn, Gathering, Kept, OtherWing};
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
        self.in_order();
        let (mine, others): (Vec<&Kept>, Vec<&Kept>) = self.wings.iter().partition(|w| w.same_jig);
        let mine: Vec<&[Event]> = mine.into_iter().map(|w| w.events.as_slice()).collect();
        let other_jig = others.into_iter().map(|w| w.row.log.clone()).collect();
        let stiffness = plan.as_ref().and_then(|plan| stiffness(plan, &mine, other_jig));
        let (figures, unmeasured) = (summary::figures(&self), summary::unmeasured(&self));
        let creeps = summary::creeps(&self);
        let instruments = drift::instruments(&self);
        let mut series = Series {
            format: FORMAT,
            wing: self.wings.first().map(|w| w.row.wing.clone()),
            stage,
            geometry: plan.as_ref().map(geometry::geometry).unwrap_or_default(),
            jig: plan.as_ref().map(geometry::jig).unwrap_or_default(),
            wings: self.wings.into_iter().map(|w| w.row).collect(),
            not_counted: self.not_counted,
            figures,
            unmeasured,
            creeps,
            instruments,
            stiffness,
            remarks: vec![],
        };
        series.remarks = summary::remarks(&series);
        Ok(series)
    }

    /// Sorts the wings in the order in which they were finished, whatever order they were named in.
    fn in_order(&mut self) {
        let mut order: Vec<usize> = (0..self.wings.len()).collect();
        order.sort_by(|a, b| {
            let key = |i: &usize| (self.wings[*i].at, &self.wings[*i].row.log);
            key(a).cmp(&key(b))
        });
        let mut rank = vec![0; order.len()];
        order.iter().enumerate().for_each(|(place, i)| rank[*i] = place);
        for column in &mut self.columns {
            column.values.iter_mut().for_each(|v| v.of.wing = rank[v.of.wing]);
            column.values.sort_by_key(|v| v.of.wing);
            column.lacking.iter_mut().for_each(|l| l.wing = rank[l.wing]);
            column.lacking.sort_by_key(|l| l.wing);
        }
        for values in self.changes.values_mut() {
            values.iter_mut().for_each(|of| of.wing = rank[of.wing]);
            values.sort_by_key(|of| of.wing);
        }
        self.found.iter_mut().for_each(|f| f.wing = rank[f.wing]);
        self.found.sort_by_key(|FoundOn { wing, found }| (found.at, *wing));
        let mut wings: Vec<(usize, Kept)> = rank.into_iter().zip(std::mem::take(&mut self.wings)).collect();
        wings.sort_by_key(|(place, _)| *place);
        self.wings = wings.into_iter().map(|(_, wing)| wing).collect();
        self.columns.sort_by_key(|c| c.kind);
        self.not_counted.sort_by(|a, b| a.log.cmp(&b.log));
    }
}
