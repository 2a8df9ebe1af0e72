//! Stories of the program `jigtrue`, one program: a file is a filter (`cargo test --workspace --test cli import`).
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::disallowed_methods,
    reason = "a story has files, threads and a clock, and stops where something is missing"
)]

mod acceptance;
mod asked;
mod bad_input;
mod bench_jig;
mod bench_recorded;
#[cfg(unix)]
mod board;
mod cases;
mod compare;
mod contract;
#[cfg(unix)]
mod emulated;
mod engines;
mod failures;
mod formats;
mod handbook;
mod import;
mod import_changed;
mod import_when;
#[cfg(unix)]
mod jig;
#[cfg(unix)]
mod jig_questions;
#[cfg(unix)]
mod jig_terminal;
mod job;
#[cfg(unix)]
mod kill;
#[cfg(unix)]
mod limits;
#[cfg(unix)]
mod listening;
mod load;
mod mathematics;
mod moved_log;
mod nearest;
mod newcomer;
#[cfg(unix)]
mod others;
#[cfg(unix)]
mod output;
mod plan;
#[cfg(unix)]
mod ports;
#[cfg(unix)]
mod ports_instruments;
mod program;
mod rigged;
mod rigging;
mod round;
mod series;
mod sheet;
mod sheet_later;
mod signing;
mod signing_times;
#[cfg(unix)]
mod sketches;
#[cfg(unix)]
mod sketches_sizes;
mod spoilt;
mod spoilt_plans;
mod stages;
mod tables;
mod tension;
mod terminal;
mod trust;
#[cfg(unix)]
mod typing;
#[cfg(unix)]
mod unattended;
mod units;
mod verdicts;
mod weight;
mod which;
mod wings;

#[path = "../../../crates/sheet/tests/sheet/reader/mod.rs"]
mod reader;
#[path = "../../../crates/assess/tests/assess/simulated/mod.rs"]
mod simulated;
#[path = "../../../crates/assess/tests/assess/whole/mod.rs"]
mod whole;
#[path = "../../../crates/assess/tests/assess/wing/mod.rs"]
mod wing;
