//! Reading a plan from its TOML text.

mod checks;
mod error;
mod parts;
mod patterns;
mod supports;
mod table;

pub use error::{PlanError, PlanErrors};

use super::Plan;
use error::PlanError as Mistake;
use table::{Mistakes, Table};
use toml::de::DeTable;

/// The version of the plan's form that this program reads.
const FORMAT: u32 = 1;
/// The longest plan read, in bytes.
const MAX_BYTES: usize = 4 << 20;
/// The most of anything that a plan may list.
const MOST: usize = 10_000;

impl Plan {
    /// Reads a plan.
    ///
    /// # Errors
    /// Every mistake found, each with line, column, the offending text and what would be right.
    pub fn parse(text: &str) -> Result<Self, PlanErrors> {
        let mistakes = Mistakes::in_text(text);
        let alone = |what: String, right: &str| {
            PlanErrors(vec![Mistake::at(text, 0..0, what, Some(right.to_owned()))])
        };
        if text.len() > MAX_BYTES {
            return Err(alone(
                format!("a plan has at most {} MiB; this has {} bytes", MAX_BYTES >> 20, text.len()),
                "is this the right file?",
            ));
        }
        if text.bytes().take(1 << 12).any(|b| b == 0) {
            return Err(alone("this is not text".to_owned(), "is this the right file?"));
        }
        let root = match DeTable::parse(text) {
            Ok(root) => root,
            Err(error) => {
                let span = error.span().unwrap_or(0..0);
                mistakes.note(span, error.message(), Some("a plan is written in TOML 1.0".to_owned()));
                return Err(PlanErrors(mistakes.finish()));
            }
        };
        let table = Table::new(root.get_ref(), 0..0, "a plan", &mistakes);
        check_format(&table);
        let plan = parts::plan(&table, MOST);
        table.finish();
        match plan {
            Some(plan) if mistakes.none() => Ok(plan),
            _ => {
                if mistakes.none() {
                    mistakes.note(0..0, "the plan is not complete", None);
                }
                Err(PlanErrors(mistakes.finish()))
            }
        }
    }
}

fn check_format(table: &Table<'_, '_>) {
    let Some(value) = table.value("format") else {
        table.missing("format", "write format = 1 at the top");
        return;
    };
    match table.whole("format") {
        Some(FORMAT) | None => {}
        Some(newer) if newer > FORMAT => table.mistakes().note(
            value.span(),
            format!("this plan is of format {newer}; this program reads format {FORMAT}"),
            Some("a newer program is needed".to_owned()),
        ),
        Some(_) => table.wrong(value, "format", "1"),
    }
}
