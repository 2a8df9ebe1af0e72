//! A whole wing with something of every kind, a builder who measures it well, and a log that is clear.
#![allow(dead_code, reason = "each test file uses a part of it")]

use numerics::rng::Rng;
use record::point::{Design, Judgement};
use record::{At, Entry, Facing, InstrumentCheck, Plan, Point, Reading, StageBegun, What};

/// Which kinds of point a plan asks for at the end: a station's twist and a spar's shape can be measured in several
/// ways.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Angles and offsets from a line.
    Angles,
    /// Heights of two spars, and a level walked along them.
    Heights,
    /// Distances from plumb lines; the wing stands on its leading edge.
    Plumb,
}

impl Way {
    pub const ALL: [Self; 3] = [Self::Angles, Self::Heights, Self::Plumb];
}

const STATIONS: usize = 8;

/// One of everything that is rigged, and the points it asks for.
const RIGGED: &str = r#"[fuselage]
pitch = 0.3
roll = 0.3
[[angle]]
name = "left wing"
of = "dihedral"
side = "left"
design = 5.0
tolerance = 0.3
[[angle]]
name = "right wing"
of = "rise"
side = "right"
design = 5.0
base = 3000
tolerance = 0.3
[[angle]]
name = "left wing"
of = "incidence"
side = "left"
design = 2.0
tolerance = 0.3
[[angle]]
name = "fin"
of = "upright"
tolerance = 0.3
[[angle]]
name = "left wing"
of = "sweep"
side = "left"
design = 3.0
base = 2500
tolerance = 0.3
[[control]]
name = "left aileron"
laid = "fore-aft"
hinge_sweep = 3.0
hinge_dihedral = 5.0
up = { lower = 18.0, upper = 24.0 }
down = { lower = 16.0, upper = 22.0 }
play = 2.0
[[cable]]
name = "rudder left"
lower = 250.0
upper = 350.0
[[bolt]]
name = "spar bolt"
lower = 20.0
upper = 30.0
lever = 250
extension = 50
drag_rule = "add"
[[mark]]
name = "tail"
aft = 4300
right = 0
[[mark]]
name = "nose"
aft = -1500
right = 0
[[mark]]
name = "left"
aft = 0
right = -4000
[[mark]]
name = "right"
aft = 0
right = 4000
[[distance]]
name = "tail-left"
from = "tail"
to = "left"
tolerance = 5
[[distance]]
name = "tail-right"
from = "tail"
to = "right"
tolerance = 5
[[distance]]
name = "nose-left"
from = "nose"
to = "left"
tolerance = 5
[[distance]]
name = "nose-right"
from = "nose"
to = "right"
tolerance = 5
[[symmetry]]
name = "wing"
pair = [{ left = "tail-left", right = "tail-right" }, { left = "nose-left", right = "nose-right" }]
yaw = 0.1
===, "pitch@*", "roll@*", "dihedral@*", "rise@*", "rig-incidence@*", "upright@*", "sweep@*", "distance@*", "neutral@*", "travel-*@*", "play@*", "tension@*", "drag@*", "torque@*""#;

/// The text of the plan.
pub fn plan_text(way: Way) -> String {
    let attitude = if way == Way::Plumb { "leading-edge-down" } else { "chord-level" };
    let (twist, shape) = match way {
        Way::Angles => ("incidence@*", "offset@*"),
        Way::Heights => ("height@*", "walk@*"),
        Way::Plumb => ("plumb@*", "offset@*"),
    };
    let mut text = format!(
        "format = 1\n[wing]\nname = \"whole\"\nside = \"left\"\nattitude = \"{attitude}\"\n\
         [tolerance]\nsetting = 0.5\nwashout = 0.3\nstation = 0.3\nneighbour = 0.4\nstraightness = 1.5\n\
         level = 0.15\ncross = 0.15\nsquare = 0.2\nspacing = 2.0\n"
    );
    for i in 0..STATIONS {
        let (span, incidence) = (500.0 * i as f64, 2.0 - 0.3 * i as f64);
        text += &format!(
            "[[station]]\nname = \"S{}\"\nspan = {span:?}\nchord = 1400.0\nincidence = {incidence:.2}\n",
            i + 1
        );
    }
    for (name, aft) in [("front", 300), ("rear", 1000)] {
        text += &format!("[[spar]]\nname = \"{name}\"\naft_root = {aft}\naft_tip = {aft}\n");
    }
    text += "[[post]]\nname = \"root-post\"\nspan = 0\n\
             foot = [{ name = \"root foot\", aft = 400, travel = 10, screw = { per_turn = 1.5, clockwise = \"raises\" } }]\n\
             [[bay]]\nname = \"bay\"\na = 800\nb = 600\ndiagonals = [\"D1\", \"D2\"]\n\
             [shaft]\nname = \"tube\"\ndiameter = 30.0\nclearance = 0.05\n";
    for (i, span) in [400, 1700, 3000].into_iter().enumerate() {
        text += &format!("[[bush]]\nname = \"B{}\"\nspan = {span}\nbore = 30.4\n", i + 1);
    }
    text += "[[spot]]\nname = \"bolt\"\nquantity = \"torque\"\nlower = 8.0\nupper = 11.0\n\
             [[spot]]\nname = \"gap\"\nquantity = \"length\"\nlower = 0.0\nupper = 1.0\n";
    for (name, kind, resolution, accuracy, repeatability) in [
        ("level", "inclinometer", 0.02, 0.02, 0.01),
        ("gauge", "caliper", 0.02, 0.02, 0.01),
        ("wrench", "torque-wrench", 0.1, 0.1, 0.05),
        ("tensiometer", "tensiometer", 2.0, 2.0, 1.0),
    ] {
        text += &format!(
            "[[instrument]]\nname = \"{name}\"\nkind = \"{kind}\"\nresolution = {resolution}\naccuracy = {accuracy}\n\
             repeatability = {repeatability}\nchecked = \"2030-01-01\"\ndue = \"2031-01-01\"\n"
        );
    }
    let rigged = if way == Way::Angles { RIGGED } else { "" };
    let (rig, wanted) = rigged.split_once("===").unwrap_or_default();
    text += rig;
    text += "[[stage]]\nname = \"jig\"\nrequires = [\"level@*\", \"cross@*\"]\nopen = [\"brace\"]\n";
    text += &format!(
        "[[stage]]\nname = \"close\"\nrequires = [\"level@*\", \"cross@*\", \"diagonal@*\", \"spacing@*\", \"{twist}\", \
         \"{shape}\", \"bore*\", \"spot@*\"{wanted}]\n"
    );
    text
}

/// A check of the level by reversal.
pub fn checked(passed: bool) -> What {
    What::InstrumentCheck(InstrumentCheck {
        instrument: "level".to_owned(),
        method: "reversal".to_owned(),
        found: 0.3,
        u: 0.01,
        passed,
    })
}

/// A point that was watched for a minute and shifted by that much, in degrees or millimetres.
pub fn shifted(point: Point, by: f64) -> What {
    What::Drift {
        point,
        mean: 0.0,
        least: 0.0,
        most: by,
        samples: 60,
        seconds: 60,
        temperature: None,
        shift: Some((by, At::from_millis(1_900_000_000_000)).into()),
    }
}

/// What an instrument without error would show, facing forward.
pub fn truth(plan: &Plan, point: &Point) -> f64 {
    let row = point.kind().row();
    match (row.design, row.judgement) {
        (Design::Unknown, Judgement::Square) => 1000.0,
        (Design::Unknown, Judgement::Twist) => {
            let station = plan.station(point.place()).unwrap();
            let front = plan.spars.first().is_some_and(|s| Some(s.name.as_str()) == point.spar());
            let apart = 700.0 * libm::sin(station.incidence.value().to_radians());
            if front { 500.0 + apart } else { 500.0 }
        }
        (Design::Unknown, Judgement::Clearance) => 100.0,
        (Design::Unknown, Judgement::OwnLimits) => {
            let spot = plan.spots.iter().find(|s| s.name == point.place()).unwrap();
            let both = spot.limits.and_then(|l| Some(f64::midpoint(l.lower?, l.upper?)));
            both.unwrap_or(9.0)
        }
        (Design::Unknown, _) => 0.0,
        (Design::Rig, _) => plan.design_of(point).unwrap_or_else(|| match point.kind().word() {
            "travel-up" => 21.0,
            "travel-down" => -19.0,
            "play" | "drag" => 1.0,
            "tension" => 300.0,
            "torque" => 26.0 / 1.2,
            _ => 0.0,
        }),
        _ => plan.design_of(point).unwrap() + plan.fixture_of(point),
    }
}

/// A log in the making.
#[derive(Clone)]
pub struct Build {
    pub plan: Plan,
    pub entries: Vec<Entry>,
    pub round: u32,
}

impl Build {
    pub fn new(way: Way) -> Self {
        let text = plan_text(way);
        let plan = Plan::parse(&text).unwrap();
        let mut build = Self { plan, entries: Vec::new(), round: 1 };
        build.happens(What::Started { plan: text, program: "test".to_owned() });
        build
    }

    pub fn happens(&mut self, what: What) -> u64 {
        let seq = self.entries.len() as u64 + 1;
        let at = At::from_millis(1_900_000_000_000 + 60_000 * seq as i64);
        self.entries.push(Entry { seq, at, by: "builder".to_owned(), offset: None, what });
        seq
    }

    pub fn stage(&mut self, name: &str) {
        self.round += 1;
        self.happens(What::Stage(StageBegun::new(name)));
    }

    /// A reading that shows this value.
    pub fn reading(&self, point: &Point, value: f64, facing: Option<Facing>) -> Reading {
        let quantity = self.plan.quantity_of(point).unwrap();
        let instrument = self.plan.instruments.iter().find(|i| i.kind.quantity() == Some(quantity)).unwrap();
        Reading {
            facing,
            instrument: Some(instrument.name.clone()),
            round: self.round,
            ..Reading::of(point.clone(), quantity, value, instrument.resolution)
        }
    }

    /// The readings of a point as a careful builder takes them, in both facings if the instrument can be turned; the
    /// error of each is drawn from the instrument's claims.
    pub fn readings(&self, point: &Point, rng: &mut Rng) -> Vec<Reading> {
        let truth = truth(&self.plan, point);
        let zero = 0.01;
        let facings: &[Option<Facing>] =
            if point.kind().reverses() { &[Some(Facing::Forward), Some(Facing::Aft)] } else { &[None] };
        let taken = facings.iter().map(|facing| {
            let blank = self.reading(point, 0.0, *facing);
            let named =
                self.plan.instruments.iter().find(|i| Some(&i.name) == blank.instrument.as_ref()).unwrap();
            let sign = facing.map_or(1.0, Facing::sign);
            let seated = sign * truth + zero + named.repeatability.unwrap() * rng.normal();
            let shown = (seated / named.resolution).round() * named.resolution;
            Reading { value: shown, text: format!("{shown}"), ..blank }
        });
        taken.collect()
    }

    /// Reads all that a stage requires.
    pub fn measure(&mut self, stage: &str, rng: &mut Rng) {
        let points = self.plan.stage(stage).map(|s| s.requires.clone()).unwrap();
        for point in points {
            for reading in self.readings(&point, rng) {
                self.happens(What::Reading(reading));
            }
        }
    }

    /// The whole build, in order, well measured, with nothing left open.
    pub fn clear(way: Way, seed: u64) -> Self {
        let mut rng = Rng::new(seed);
        let mut build = Self::new(way);
        build.stage("jig");
        build.measure("jig", &mut rng);
        build.happens(What::OpenItem(record::OpenItem {
            item: "brace".to_owned(),
            action: record::OpenAction::Closed,
            reason: None,
        }));
        build.stage("close");
        build.measure("close", &mut rng);
        build
    }

    /// Every point that the closing stage requires.
    pub fn required(&self) -> Vec<Point> {
        self.plan.closing_stage().map(|s| s.requires.clone()).unwrap()
    }
}
