//! The tests of the plan and the entries in one program: linking each by itself took longer than running it.

mod entry_json;
mod plan_changes;
mod plan_limits;
mod plan_reading;
mod plan_refusals;
mod plan_wrong_values;
mod plans;
mod rigging_plan;
mod withdrawals;
mod words;
