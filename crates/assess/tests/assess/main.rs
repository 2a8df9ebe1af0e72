//! Judgements and advice on whole wings; a file is a filter.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::disallowed_methods,
    reason = "a test stops where something is missing"
)]

mod acceptance;
mod acceptance_wrong;
mod asked;
mod asked_seldom;
mod bush_advice;
mod compared;
mod coverage;
mod datums;
mod drift;
mod facts;
mod gate;
mod holds;
mod in_order;
mod invariants;
mod jig;
mod jig_advice;
mod jig_cost;
mod jig_feet;
mod jig_influence;
mod jig_promises;
mod jig_rounds;
mod jig_search;
mod metamorphic;
mod owed;
mod published;
mod reopened;
mod rigging;
mod rigging_published;
mod rigging_sisters;
mod rigging_tools;
mod series;
mod shape;
mod simulated;
mod spar_advice;
mod spoilt;
mod spoilt_decisions;
mod stage_within;
mod stands_out;
mod whole;
mod wing;
mod words;
mod worst;
