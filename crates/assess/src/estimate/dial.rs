//! Converts dial readings to forces with the instrument's own table.

use crate::history::Used;
use crate::sound::{NoDial, Unusable};
use record::plan::Plan;
use record::{Instrument, Point};
use std::sync::Arc;

/// Dial readings as forces.
pub struct ByTable {
    /// The readings, with value, step and instrument data in N.
    pub used: Vec<Used>,
    /// The cable that the table is for.
    pub cable: String,
    /// Limit of error of the table, N.
    pub accuracy: Option<f64>,
}

/// The readings as forces; `None` if none is a dial reading.
///
/// # Errors
/// If a dial was read and its instrument has no table for the cable, or the reading is outside the table; or if the
/// instrument has tables and no dial was read.
pub fn by_table(plan: &Plan, point: &Point, used: &[Used]) -> Result<Option<ByTable>, Unusable> {
    let divisions = |u: &Used| u.facts.as_deref().is_some_and(Instrument::shows_divisions);
    if !used.iter().any(|u| u.reading.dial.is_some() || divisions(u)) {
        return Ok(None);
    }
    let cable = plan.rigging.cables.iter().find(|c| c.name == point.place());
    let mut out = ByTable { used: Vec::with_capacity(used.len()), cable: String::new(), accuracy: None };
    for u in used {
        let entry = u.seq;
        let (Some(dial), Some(facts)) = (u.reading.dial, u.facts.as_deref().filter(|f| f.shows_divisions()))
        else {
            return Err(Unusable::Dial { entry, why: NoDial::NoTable });
        };
        let not = |why: record::NoForce| Unusable::Dial { entry, why: why.into() };
        let table = facts.table_for(cable).map_err(not)?;
        let found = facts.force(cable, dial.shown).map_err(not)?;
        out.cable.clone_from(&table.cable);
        out.accuracy = [out.accuracy, table.accuracy].into_iter().flatten().reduce(f64::max);
        let mut one = u.clone();
        let reading = Arc::make_mut(&mut one.reading);
        reading.value = found.force;
        reading.resolution = dial.step * found.slope;
        one.facts = Some(Arc::new(Instrument {
            resolution: facts.resolution * found.slope,
            accuracy: facts.accuracy.map(|a| a * found.slope),
            repeatability: facts.repeatability.map(|r| r * found.slope),
            tables: Vec::new(),
            ..facts.clone()
        }));
        out.used.push(one);
    }
    Ok(Some(out))
}
