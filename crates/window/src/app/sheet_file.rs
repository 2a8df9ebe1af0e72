//! Writing the inspection sheet beside the log.

use session::{Session, SessionError};
use sheet::{Form, Paper, SheetError, Stamp};
use std::path::{Path, PathBuf};

#[derive(Debug, thiserror::Error)]
pub enum NoSheet {
    #[error("The sheet could not be laid out: {0}")]
    Layout(#[from] SheetError),
    #[error(transparent)]
    Unwritten(#[from] SessionError),
}

pub fn path(log: &Path) -> PathBuf {
    log.with_extension("pdf")
}

/// Writes it and returns its path.
///
/// # Errors
/// If it cannot be laid out or written.
pub fn write(session: &Session) -> Result<PathBuf, NoSheet> {
    let to = path(session.path());
    let session::LogHead { entries, hash: head } = session.head();
    let assessment = session.assessment_by_stage();
    let stamp = Stamp {
        title: "Inspection sheet".to_owned(),
        plan_sha256: session.plan_sha256(),
        head,
        entries,
        made_at: assessment.last_entry_at.clone().unwrap_or_default(),
        program: concat!("jigtrue ", env!("CARGO_PKG_VERSION")).to_owned(),
        paper: Paper::A4,
        form: Form::Full,
    };
    let pdf = sheet::pdf(&assessment, &stamp)?;
    session::write_whole(&to, &[session.path()], &pdf)?;
    Ok(to)
}
