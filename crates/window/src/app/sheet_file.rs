//! Writing the inspection sheet beside the log.

use session::{Session, SessionError};
use sheet::{Form, Paper, Stamp};
use std::path::{Path, PathBuf};

pub fn path(log: &Path) -> PathBuf {
    log.with_extension("pdf")
}

/// Writes it and gives where.
///
/// # Errors
/// When it cannot be laid out or written; the sentence says which.
pub fn write(session: &Session) -> Result<PathBuf, String> {
    let to = path(session.path());
    let (entries, head) = session.head();
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
    let pdf = sheet::pdf(&assessment, &stamp).map_err(|e| format!("The sheet could not be laid out: {e}"))?;
    session::write_whole(&to, &[session.path()], &pdf).map_err(|e: SessionError| e.to_string())?;
    Ok(to)
}
