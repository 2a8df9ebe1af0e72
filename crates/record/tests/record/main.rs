//! The tests of the plan and the entries as one program: linking each file separately took longer than running it.

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
