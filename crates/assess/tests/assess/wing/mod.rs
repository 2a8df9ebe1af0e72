//! A test wing: a plan with equal stations, and entries added one by one.
#![allow(dead_code, reason = "each test program uses a part of it")]

use quantity::{Degrees, InstrumentKind, Kind, Millimetres};
use record::plan::{
    Acceptance, Attitude, ByName, Identity, Plan, Rule, Side, Spar, Stage, Station, Tolerances, Wing,
};
use record::{At, Entry, Facing, Instrument, Limits, Point, PointKind, Reading, StageBegun, What};

/// Spans from 0 to 4000 mm, design incidence from 2 degrees at the root to -1 at the tip.
pub fn plan(stations: usize) -> Plan {
    let eta: Vec<f64> = (0..stations).map(|i| i as f64 / (stations - 1) as f64).collect();
    let plan = at(4000.0, &eta);
    let incidences = incidences(&plan);
    Plan {
        tolerances: Tolerances {
            setting: Some(Limits::plus_minus(Degrees::new(0.5))),
            washout: Some(Limits::plus_minus(Degrees::new(0.3))),
            station: Some(Limits::plus_minus(Degrees::new(0.3))),
            ..Tolerances::default()
        },
        stages: vec![stage("ribs on", &plan, &[]), stage("ready to skin", &plan, &incidences)],
        instruments: vec![level()],
        ..plan
    }
}

/// Stations at these fractions of the span, with the same design incidence; no stages, tolerances or instruments.
pub fn at(span_mm: f64, eta: &[f64]) -> Plan {
    let station = |(i, e): (usize, &f64)| Station {
        name: format!("S{}", i + 1),
        span: Millimetres::new(span_mm * e),
        chord: Millimetres::new(1400.0),
        incidence: Degrees::new(2.0 - 3.0 * e),
        fixture: Degrees::new(0.0),
        height_angle: Degrees::new(0.0),
    };
    let spar = |name: &str, aft: f64| Spar {
        name: name.to_owned(),
        aft_root: Millimetres::new(aft),
        aft_tip: Millimetres::new(aft),
    };
    Plan {
        wing: Wing {
            name: "test wing".to_owned(),
            side: Side::Left,
            attitude: Attitude::ChordLevel,
            root: Millimetres::new(0.0),
            tip: Millimetres::new(span_mm),
            material: None,
            plumb: None,
            note: None,
            identity: Identity::default(),
        },
        rule: Rule { acceptance: Acceptance::Guarded, level: 0.95, max_order: None },
        tolerances: Tolerances::default(),
        stations: eta.iter().enumerate().map(station).collect(),
        spars: vec![spar("front", 300.0), spar("rear", 900.0)],
        supports: Vec::new(),
        posts: Vec::new(),
        lines: Vec::new(),
        bays: Vec::new(),
        shaft: None,
        bushes: Vec::new(),
        spots: Vec::new(),
        rigging: record::plan::Rigging::default(),
        record_only: Vec::new(),
        reworks: Vec::new(),
        stages: Vec::new(),
        instruments: Vec::new(),
        units: quantity::Units::INSIDE,
        shown_in: quantity::Units::INSIDE,
        remarks: Vec::new(),
        station_places: ByName::default(),
        spot_places: ByName::default(),
    }
}

fn incidences(plan: &Plan) -> Vec<Point> {
    plan.stations.iter().map(|s| Point::at(PointKind::Incidence, &s.name)).collect()
}

/// A stage that asks for the incidence of every station.
pub fn stage(name: &str, plan: &Plan, disturbs: &[Point]) -> Stage {
    Stage {
        name: name.to_owned(),
        requires: incidences(plan),
        disturbs: disturbs.to_vec(),
        open: Vec::new(),
        closes: false,
    }
}

/// A level with a 0.1 degree display.
pub fn level() -> Instrument {
    Instrument {
        number: Some("0417".to_owned()),
        accuracy: Some(0.2),
        repeatability: Some(0.05),
        ..Instrument::of("beam level", InstrumentKind::Inclinometer, 0.1)
    }
}

/// A log in the making.
pub struct Log {
    pub entries: Vec<Entry>,
    pub round: u32,
}

impl Log {
    pub fn new() -> Self {
        let mut log = Self { entries: Vec::new(), round: 1 };
        log.happens(What::Started { plan: String::new(), program: "test".to_owned() });
        log
    }

    pub fn happens(&mut self, what: What) -> u64 {
        let seq = self.entries.len() as u64 + 1;
        let at = At::from_millis(1_900_000_000_000 + 60_000 * seq as i64);
        self.entries.push(Entry { seq, at, by: "builder".to_owned(), offset: None, what });
        seq
    }

    pub fn stage(&mut self, name: &str) -> u64 {
        self.round += 1;
        // Most stories begin at the end: the stage before it is skipped on purpose.
        let begun = |e: &Entry| matches!(&e.what, What::Stage(s) if s.name == "ribs on");
        let over = name == "ready to skin" && !self.entries.iter().any(begun);
        let passed: Vec<String> = over.then(|| "ribs on".to_owned()).into_iter().collect();
        let reason = over.then(|| "measured at the end".to_owned());
        self.happens(What::Stage(StageBegun { name: name.to_owned(), passed, unmet: Vec::new(), reason }))
    }

    pub fn withdraw(&mut self, seq: u64) -> u64 {
        self.happens(What::Withdrawn { seq, reason: "misread".to_owned() })
    }

    /// A reading of the beam level as displayed.
    pub fn angle(&mut self, station: &str, facing: Facing, shown: f64) -> u64 {
        let point = Point::at(PointKind::Incidence, station);
        let reading = reading(point, Kind::Angle, shown, Some(facing), self.round);
        self.happens(What::Reading(reading))
    }

    /// A reversal pair: what a level with that zero error shows of a true incidence.
    pub fn pair(&mut self, station: &str, truth: f64, zero: f64) {
        self.angle(station, Facing::Forward, truth + zero);
        self.angle(station, Facing::Aft, -truth + zero);
    }
}

/// Makes it a reading of this value, in the base unit.
pub fn shows(reading: &mut Reading, value: f64) {
    reading.value = value;
    reading.text = value.to_string();
}

/// A reading with the beam level.
pub fn reading(point: Point, quantity: Kind, value: f64, facing: Option<Facing>, round: u32) -> Reading {
    Reading {
        facing,
        instrument: Some("beam level".to_owned()),
        round,
        ..Reading::of(point, quantity, value, 0.1)
    }
}
