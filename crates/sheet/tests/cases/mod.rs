//! Assessments made by hand: an invented wing with invented figures.
#![allow(dead_code, reason = "each test file uses some of the cases")]

mod compare;
mod hold;
mod parts;

pub use compare::left_and_right;
pub use hold::hold;
pub use parts::*;

use assess::Assessment;
use sheet::{Paper, Stamp};

/// A stamp with made-up fingerprints.
pub fn stamp(paper: Paper) -> Stamp {
    Stamp {
        title: "Inspection sheet".to_owned(),
        plan_sha256: "3f9ac1d07be24586a1f0c9d8e7b6a59483726150f1e2d3c4b5a6978877665544".to_owned(),
        head: "b8175e02c4d96f3a7b1c8d0e5f2a4936d7c8b9a0e1f2a3b4c5d6e7f8091a2b3c".to_owned(),
        entries: 214,
        made_at: "2031-04-05T16:07:08Z".to_owned(),
        program: "jigtrue 0.1.0".to_owned(),
        paper,
    }
}

/// Twelve stations, everything within, every part of a sheet present and in order.
pub fn clear() -> Assessment {
    let mut a = bare("Tarnmere, left wing", 12, 0.06, Some(0.3));
    a.stage = Some("ready to skin".to_owned());
    a.stage_number = Some(assess::view::StageNumber { number: 5, of: 5 });
    a.posts = posts(false);
    a.spars = spars(12, false);
    a.bays = bays();
    a.spacing = spacing(12);
    a.bore_line = Some(bore_line(true));
    a.rows = rows();
    a.changes = Some(changes(12, 0.004));
    a.previous = Some(previous(12));
    a.instruments = instruments();
    a.zeros = zeros(false);
    a.moves = moves(3);
    a.signatures = signatures();
    a.open_items = open_items(false);
    a
}

/// Sixty stations with two points each: a long sheet.
pub fn sixty() -> Assessment {
    let mut a = bare("Tarnmere, sixty stations", 60, 0.05, Some(0.25));
    a.stage = Some("rear spar on".to_owned());
    a.stage_number = Some(assess::view::StageNumber { number: 4, of: 5 });
    a.spars = spars(60, false);
    a.changes = Some(changes(60, 0.002));
    a.previous = Some(previous(60));
    a.instruments = instruments();
    a.zeros = zeros(false);
    a.moves = moves(40);
    a
}
