//! Reading a plan from its TOML text.

mod alike;
mod checks;
mod instruments;
mod judging;
mod limits;
mod mistake;
mod parts;
mod patterns;
mod rigging;
mod spots;
mod stages;
mod supports;
mod units;
mod wing;

pub use mistake::Mistake;

use super::Plan;
use crate::Instrument;
use checks::Names;
use mistake::{Mistakes, Table};
use quantity::table::{FileErrors, MOST_ITEMS, Source, document};
use toml::Spanned;
use toml::de::DeTable;

/// The mistakes found in a plan, in text order; never empty.
pub type PlanErrors = FileErrors<Mistake>;

/// The plan format that this program reads.
const FORMAT: u32 = 1;

impl Plan {
    /// The longest plan read, in bytes.
    pub const MAX_BYTES: usize = 4 << 20;
    /// The most items in any list of a plan.
    pub const MAX_ITEMS: usize = MOST_ITEMS;
    /// The most points in a plan: stations, and for heights and the like stations times spars.
    pub const MAX_POINTS: usize = 200_000;

    /// Reads a plan.
    ///
    /// # Errors
    /// Every mistake found, with line, column, the text in question and what to write instead.
    pub fn parse(text: &str) -> Result<Self, PlanErrors> {
        Self::parse_from(text, Source::Written)
    }

    /// Reads a plan that a log holds. There, what an earlier program accepted is not a mistake but a remark: the
    /// person who began the log was not told, and cannot change what is written.
    ///
    /// # Errors
    /// Every other mistake, as [`Plan::parse`].
    pub fn parse_logged(text: &str) -> Result<Self, PlanErrors> {
        Self::parse_from(text, Source::Log)
    }

    fn parse_from(text: &str, source: Source) -> Result<Self, PlanErrors> {
        let mistakes = Mistakes::of(text, source);
        let plan = read(text, &mistakes);
        let plan = plan.map(|plan| Self { remarks: mistakes.remarks(), ..plan });
        mistakes.finish(plan, "plan")
    }
}

impl Instrument {
    /// Reads an instrument from a text of its own: the keys of a plan's `[[instrument]]`, with its tables as
    /// `[[table]]`.
    ///
    /// # Errors
    /// Every mistake found, as for a plan.
    pub fn parse(text: &str) -> Result<Self, PlanErrors> {
        let mistakes = Mistakes::of(text, Source::Written);
        let read = || {
            let root = parsed(text, &mistakes)?;
            let table = Table::new(root.get_ref(), 0..0, "an instrument", &mistakes);
            let found = instruments::instrument(&table, &mut Names::new(&mistakes));
            table.finish();
            found
        };
        let instrument = read();
        mistakes.finish(instrument, "instrument")
    }
}

fn read(text: &str, mistakes: &Mistakes<'_>) -> Option<Plan> {
    let root = parsed(text, mistakes)?;
    let table = Table::new(root.get_ref(), 0..0, "a plan", mistakes);
    check_format(&table)?;
    let plan = parts::plan(&table);
    table.finish();
    plan
}

/// The text as TOML; one that is too long or empty is not even parsed.
fn parsed<'t>(text: &'t str, mistakes: &Mistakes<'_>) -> Option<Spanned<DeTable<'t>>> {
    let refused = if text.len() > Plan::MAX_BYTES {
        Mistake::TooLong { most: Plan::MAX_BYTES >> 20, bytes: text.len() }
    } else if text.trim().is_empty() {
        Mistake::Empty
    } else {
        return document(text, mistakes);
    };
    mistakes.note(0..0, refused, Some("is this the right file?".to_owned()));
    None
}

/// `None` if the plan has another format, so that nothing else in it can be checked.
fn check_format(table: &Table<'_, '_>) -> Option<()> {
    let Some(value) = table.value("format") else {
        table.missing("format", "write format = 1 at the top");
        return Some(());
    };
    match table.whole("format") {
        Some(found) if found > FORMAT => {
            let newer = Mistake::Newer { found, known: FORMAT };
            table.mistakes().note(value.span(), newer, Some("a newer program is needed".to_owned()));
            None
        }
        Some(0) => {
            table.wrong(value, "format", "1");
            Some(())
        }
        _ => Some(()),
    }
}
