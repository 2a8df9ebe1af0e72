//! The logs of taken-up wings: whether they are available and unchanged.

use crate::view::wrap::wrap_hang;
use assess::view::WingFound;
use quantity::shown::counted;
use serde::Serialize;
use session::{Session, SessionError, WingLog, shown};
use std::path::Path;

/// How the log of a wing was found.
#[derive(Serialize)]
pub struct Found {
    wing: String,
    log: String,
    entries: u64,
    head: String,
    found: WingFound,
}

/// Every wing of the plan whose log was taken up.
pub fn found(log: &Path, others: &[WingLog]) -> Result<Vec<Found>, SessionError> {
    let session = Session::open_read_only(log)?;
    let found = session.wings_found(others)?;
    let assessment = session.assessed_with(&found);
    let of = |w: assess::view::WingView| {
        let taken = w.taken?;
        let (log, entries, head) = (taken.log, taken.entries, taken.head);
        Some(Found { wing: w.name, log, entries, head, found: w.found })
    };
    Ok(assessment.wings.into_iter().filter_map(of).collect())
}

impl Found {
    /// False if it is not the log that was taken up, or nobody can tell. A log that is not there proves nothing against it.
    pub const fn is_sound(&self) -> bool {
        !matches!(self.found, WingFound::Changed { .. } | WingFound::Unread { .. })
    }

    /// One line for a person.
    pub fn words(&self) -> String {
        let entries = counted(self.entries, "entry", "entries");
        let says = match &self.found {
            WingFound::NotLookedFor => "not looked for".to_owned(),
            WingFound::NotAtHand => "NOT FOUND: not checked; --wing says where it is".to_owned(),
            WingFound::Unread { why } => format!("CANNOT BE READ: {why}"),
            WingFound::AsTakenUp => format!("whole, and as it was taken up: {entries}"),
            WingFound::GoneOn { entries: since, .. } => {
                format!("whole: {entries} as they were taken up, and {since} since")
            }
            WingFound::Changed { why } => format!("CHANGED, it is not the log that was taken up: {why}"),
        };
        wrap_hang("", "    ", &format!("{}, {}: {}", shown(&self.wing), shown(&self.log), shown(&says)))
    }
}
