//! Work on one thing: its readings become stale, and so do those that the plan's rules add.

use super::write::worded;
use super::{Session, Taken, points};
use crate::refusal::Refusal;
use crate::{SessionError, shown};
use quantity::shown::count;
use record::{Point, Rework, What};

impl Session {
    /// Records that points were worked on. `S9` alone means `incidence@S9`; a pattern such as `bore-*@B3` is refused,
    /// because each thing worked on must be named.
    ///
    /// # Errors
    /// If a point is not in the plan, none is named, the work is not described, or the log cannot be written.
    pub fn rework(&mut self, named: &[String], what: &str) -> Result<Taken, SessionError> {
        self.refresh()?;
        let what = worded(what, Refusal::ReworkedHow)?;
        let mut all: Vec<Point> = Vec::new();
        for name in named {
            let point = points::point_in(&self.plan, name)?.point;
            if !all.contains(&point) {
                all.push(point);
            }
        }
        if all.is_empty() {
            return Err(Refusal::ReworkedWhat.into());
        }
        let before = self.assessment();
        let fresh = |a: &assess::Assessment| -> Vec<Point> {
            a.points
                .iter()
                .filter(|p| p.stale_because.is_none() && !p.entries.is_empty())
                .map(|p| p.point.clone())
                .collect()
        };
        let was = fresh(&before);
        let entry = self.append(None, &What::Rework(Rework { points: all.clone(), what }))?;
        let now = fresh(&self.assessment());
        let stale: Vec<String> = was
            .iter()
            .filter(|point| !now.contains(point))
            .map(|point| shown(&point.to_string()).into_owned())
            .collect();
        let names: Vec<String> = all.iter().map(|point| shown(&point.to_string()).into_owned()).collect();
        let mut ack = format!("{} rework {}", entry.seq, names.join(", "));
        match stale.as_slice() {
            [] => ack.push_str("; nothing measured there is affected"),
            points => ack.push_str(&format!(
                "; {} stale, to be measured again: {}",
                count(points.len(), "point is", "points are"),
                points.join(", ")
            )),
        }
        Ok(Taken::new(entry, ack))
    }
}
