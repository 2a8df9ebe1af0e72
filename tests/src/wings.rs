//! A small maker's invented wings: one kind, one jig, one level, many logs. What happens to them is known, so that
//! what a series says about them can be checked.

use crate::seeded::Draws;
use journal::{Journal, JournalError, NewEntry};
use quantity::{Kind, Millimetres};
use record::{At, Facing, Move, Point, PointKind, Reading, StageBegun, What, When};
use std::path::Path;

/// The step of the level's display, in degrees.
const STEP: f64 = 0.01;
/// How far the rear spar is moved at the tip support, in mm.
const MOVED_MM: f64 = 2.5;
/// Spans of the stations, in mm.
const SPANS: [f64; 6] = [200.0, 900.0, 1700.0, 2500.0, 3300.0, 4000.0];
/// Distance of the spars, in mm.
const APART: f64 = 600.0;
/// Days from one wing to the next.
const DAYS: i64 = 5;

/// What is true of all wings.
#[derive(Clone, Copy, Debug)]
pub struct Workshop {
    /// How much of the twist put in by geometry arrives, the mean over the wings.
    pub share: f64,
    /// What the rear spar does to station S5, in degrees.
    pub creep_s5: f64,
    /// How much the zero of the level changes from wing to wing, in degrees.
    pub zero_drift: f64,
    /// How much the washout error changes from wing to wing, in degrees.
    pub washout_drift: f64,
}

impl Default for Workshop {
    fn default() -> Self {
        Self { share: 0.6, creep_s5: -0.08, zero_drift: 0.0, washout_drift: 0.0 }
    }
}

/// The plan of a wing.
#[must_use]
pub fn plan(serial: u64) -> String {
    let stations: String = SPANS
        .iter()
        .enumerate()
        .map(|(i, span)| {
            let incidence = 2.0 - 2.5 * span / 4000.0;
            format!(
                "[[station]]\nname = \"S{}\"\nspan = {span}\nchord = 1300\nincidence = {incidence:.4}\n\n",
                i + 1
            )
        })
        .collect();
    let support = |name: &str, span: f64, spar: &str| {
        format!(
            "[[support]]\nname = \"{name}\"\nspan = {span}\nspar = \"{spar}\"\ndirection = \"up\"\ntravel = 12\n\
             screw = {{ per_turn = 1.25, clockwise = \"raises\" }}\n\n"
        )
    };
    format!(
        "format = 1\n\n[wing]\nname = \"invented series wing\"\nside = \"left\"\nattitude = \"chord-level\"\n\
         serial = \"{serial}\"\nroot = 0\ntip = 4000\n\n\
         [tolerance]\nsetting = 0.5\nwashout = 0.4\nstation = 0.4\n\n{stations}\
         [[spar]]\nname = \"front\"\naft_root = 300\naft_tip = 300\n\n\
         [[spar]]\nname = \"rear\"\naft_root = 900\naft_tip = 900\n\n{}{}{}{}\
         [[instrument]]\nname = \"beam level\"\nnumber = \"0417\"\nkind = \"inclinometer\"\nresolution = 0.01\n\
         accuracy = 0.2\nrepeatability = 0.01\nchecked = \"2029-01-10\"\ndue = \"2199-01-10\"\n\n\
         [[stage]]\nname = \"ribs on\"\nrequires = [\"incidence@*\"]\n\n\
         [[stage]]\nname = \"rear spar on\"\nrequires = [\"incidence@*\"]\ndisturbs = [\"incidence@*\"]\n\n\
         [[stage]]\nname = \"ready to skin\"\nrequires = [\"incidence@*\"]\ndisturbs = [\"incidence@*\"]\n",
        support("root front", 0.0, "front"),
        support("root rear", 0.0, "rear"),
        support("tip front", 4000.0, "front"),
        support("tip rear", 4000.0, "rear"),
    )
}

/// What happens to the `n`th wing, after the log was started.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "draws, and a few thousand wings")]
pub fn entries(workshop: Workshop, n: u64) -> Vec<What> {
    let mut draws = Draws::new(n.wrapping_mul(7919) + 17);
    let nth = n as f64;
    let mut normal = || draws.normal();
    let mut wing: Vec<f64> = {
        let (setting, washout) = (0.05 * normal(), 0.05 * normal() + workshop.washout_drift * nth);
        SPANS.iter().map(|s| setting + washout * s / 4000.0 + 0.02 * normal()).collect()
    };
    let share = workshop.share + 0.04 * normal();
    let zero = 0.03 + workshop.zero_drift * nth;
    let mut out = Vec::new();
    let mut round = 0;
    let mut walk = |wing: &[f64], out: &mut Vec<What>, noise: &mut dyn FnMut() -> f64| {
        round += 1;
        for (i, deviation) in wing.iter().enumerate() {
            let truth = 2.0 - 2.5 * SPANS[i] / 4000.0 + deviation;
            for facing in [Facing::Forward, Facing::Aft] {
                let shown = facing.sign() * (truth + 0.008 * noise()) + zero;
                out.push(reading(i + 1, facing, (shown / STEP).round() * STEP, round));
            }
        }
    };
    out.push(What::Stage(StageBegun::new("ribs on")));
    walk(&wing, &mut out, &mut normal);
    let moved = Millimetres::new(MOVED_MM);
    out.push(What::Move(Move::typed("tip rear", moved, "2 turns clockwise")));
    // A rear spar raised at the tip puts the nose down there; half the twist arrives, and all of the tilt, as a rigid
    // part.
    let geometry = |span: f64| -(MOVED_MM / APART).to_degrees() * span / 4000.0;
    let middle = geometry(2000.0);
    wing.iter_mut().zip(SPANS).for_each(|(d, span)| *d += middle + share * (geometry(span) - middle));
    walk(&wing, &mut out, &mut normal);
    out.push(What::Stage(StageBegun::new("rear spar on")));
    wing[4] += workshop.creep_s5 + 0.01 * normal();
    walk(&wing, &mut out, &mut normal);
    out.push(What::Stage(StageBegun::new("ready to skin")));
    walk(&wing, &mut out, &mut normal);
    out
}

fn reading(station: usize, facing: Facing, shown: f64, round: u32) -> What {
    What::Reading(Reading {
        text: format!("{shown:.2}"),
        facing: Some(facing),
        instrument: Some("beam level".to_owned()),
        round,
        ..Reading::of(Point::at(PointKind::Incidence, &format!("S{station}")), Kind::Angle, shown, STEP)
    })
}

/// Writes the log of the `n`th wing.
///
/// # Panics
/// If it cannot be written.
pub fn write(workshop: Workshop, n: u64, log: &Path) {
    let start = 1_900_000_000_000 + n.cast_signed() * DAYS * 86_400_000;
    let at = |k: usize| When::from(At::from_millis(start + 60_000 * i64::try_from(k).unwrap_or(0)));
    let mut journal = Journal::create(log, &plan(n), "stories", at(0), "ann").expect("a log");
    let all = entries(workshop, n).into_iter().enumerate();
    let all = all.map(|(k, what)| Ok::<_, JournalError>(NewEntry::new(at(k + 1), "ann", what)));
    journal.append_many(all).expect("entries");
}
