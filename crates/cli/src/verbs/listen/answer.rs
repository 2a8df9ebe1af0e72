//! The summary of a run.

use bench::Bench;
use record::{Facing, What};
use serde::Serialize;
use session::{Session, shown};

#[derive(Serialize)]
pub struct Answer {
    event: &'static str,
    port: String,
    instrument: String,
    taken: Vec<TakenView>,
    still_wanted: Vec<String>,
    #[serde(flatten)]
    heard: Heard,
}

/// What came from the port.
#[derive(Default, Serialize)]
pub struct Heard {
    pub counts: Counts,
    /// The last line that did not fit the instrument's file.
    pub unfit_line: Option<String>,
    /// The fault of the last thing received that is not a value.
    pub last_fault: Option<String>,
}

#[derive(Clone, Debug, Serialize)]
pub struct TakenView {
    pub seq: u64,
    pub point: String,
    pub facing: Option<&'static str>,
    pub value: f64,
    pub unit: &'static str,
    pub samples: u32,
    pub unsettled: bool,
    pub withdrawn: bool,
}

impl TakenView {
    pub fn all(session: &Session, bench: &Bench) -> Vec<Self> {
        let taken = bench.taken().iter().filter_map(|it| {
            let entry = session.entries().iter().rev().find(|entry| entry.seq == it.seq)?;
            let What::Reading(reading) = &entry.what else { return None };
            Some(Self {
                seq: it.seq,
                point: reading.point.to_string(),
                facing: reading.facing.map(Facing::word),
                value: reading.value,
                unit: reading.quantity.base_symbol(),
                samples: reading.samples.unwrap_or(1),
                unsettled: reading.unsettled,
                withdrawn: it.withdrawn,
            })
        });
        taken.collect()
    }
}

#[derive(Clone, Copy, Debug, Default, Serialize)]
pub struct Counts {
    pub values: u64,
    /// Things received that are not values.
    pub faults: u64,
    /// Lines among these that do not fit the instrument's file.
    pub unfit: u64,
    /// Values dropped because the queue was full.
    pub missed: u64,
    /// How often the port was lost.
    pub lost: u64,
}

impl Answer {
    pub fn of(session: &Session, bench: &Bench, port: &str, heard: Heard) -> Self {
        Self {
            event: "ended",
            port: shown(port).into_owned(),
            instrument: bench.device().facts.name.clone(),
            taken: TakenView::all(session, bench),
            still_wanted: session.assessment().wanted.iter().map(ToString::to_string).collect(),
            heard,
        }
    }

    pub fn text(&self) -> String {
        let count = self.taken.iter().filter(|taken| !taken.withdrawn).count();
        let mut text = format!("{} taken.", quantity::shown::counted(count, "reading", "readings"));
        match self.still_wanted.as_slice() {
            [] => text.push_str(" Nothing more is wanted at this stage."),
            [only] => text.push_str(&format!(" Still wanted: {}.", shown(only))),
            [first, rest @ ..] => {
                text.push_str(&format!(" Still wanted: {} and {} more.", shown(first), rest.len()));
            }
        }
        let Heard { counts, unfit_line, last_fault } = &self.heard;
        if let Some(line) = unfit_line {
            let lines = quantity::shown::count(counts.unfit, "line does", "lines do");
            text.push_str(&format!(" {lines} not fit the instrument's file; the last: `{}`.", shown(line)));
        }
        if let (None, Some(fault)) = (unfit_line, last_fault) {
            let times = quantity::shown::count(counts.faults, "time", "times");
            text.push_str(&format!(
                " {times} something came that is not a value; the last: {}.",
                shown(fault)
            ));
        }
        text
    }
}
