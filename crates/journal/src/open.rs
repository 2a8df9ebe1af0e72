//! Starting a log, and opening one.

use crate::append;
use crate::error::{Damage, Fault, JournalError, NotALog};
use crate::file::{self, Identity, Located};
use crate::hash::Head;
use crate::length;
use crate::schema::{self, APPLICATION_ID, Alteration};
use crate::whole;
use record::{What, When};
use rusqlite::config::DbConfig;
use rusqlite::limits::Limit;
use rusqlite::{Connection, ErrorCode, OpenFlags, TransactionBehavior};
use std::fs::{self, OpenOptions};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

/// How long to wait for another program's turn.
const PATIENCE: Duration = Duration::from_secs(10);
/// How long between two attempts.
const A_MOMENT: Duration = Duration::from_millis(2);

/// An open log.
#[derive(Debug)]
pub struct Journal {
    pub(crate) conn: Connection,
    pub(crate) path: PathBuf,
    /// Its path with links resolved.
    pub(crate) real: PathBuf,
    pub(crate) alteration: Option<Alteration>,
    pub(crate) files: Vec<(PathBuf, Identity)>,
    /// Where the write-ahead log is.
    pub(crate) wal: PathBuf,
    /// Whether to wait for another program's turn.
    pub(crate) waits: Arc<AtomicBool>,
    access: Access,
}

/// What a log was opened for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Access {
    /// To read and append.
    Append,
    Read,
}

impl Journal {
    /// Starts a log at `path` with its first entry, which holds the plan's text and the program's name and version.
    ///
    /// # Errors
    /// If something is at `path` already, or the file cannot be written.
    pub fn create(
        path: &Path,
        plan: &str,
        program: &str,
        when: impl Into<When>,
        by: &str,
    ) -> Result<Self, JournalError> {
        let io = |e| JournalError::io(path, e);
        let real = std::path::absolute(path).map_err(io)?;
        if is_unmerged(&real) {
            return Err(JournalError::new(path, Fault::Leftover));
        }
        let made = match OpenOptions::new().write(true).create_new(true).open(&real) {
            Ok(_) => true,
            // A start that was killed at once leaves an empty file; the transaction below settles who gets it.
            Err(_) if fs::metadata(&real).is_ok_and(|found| found.is_file() && found.len() == 0) => false,
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => {
                let folder = real.parent().unwrap_or(&real).to_owned();
                return Err(JournalError::because(path, Fault::NoFolder(folder), e));
            }
            Err(e) => return Err(io(e)),
        };
        let what = What::Started { plan: plan.to_owned(), program: program.to_owned() };
        let done = write_first(path, &real, when.into(), by, &what)
            .and_then(|()| file::sync_names(&real).map_err(io));
        if let Err(error) = done {
            // An empty file would only be in the way; a file with content belongs to another program that started it
            // meanwhile.
            if made && fs::metadata(&real).is_ok_and(|found| found.len() == 0) {
                let _ = fs::remove_file(&real);
            }
            return Err(error);
        }
        let identity = Identity::at(&real);
        Self::open(path).inspect_err(|_| {
            // A log that nobody could open would only be in the way. Its one entry was not acknowledged.
            if made && Identity::at(&real) == identity {
                let _ = fs::remove_file(&real);
            }
        })
    }

    /// Opens the log at `path` to read and append.
    ///
    /// # Errors
    /// If it is missing, not a log, newer than this program, damaged, or cannot be written.
    pub fn open(path: &Path) -> Result<Self, JournalError> {
        let mut found = file::locate(path)?;
        if found.linked {
            // The second name may be one that a backup had until it was kept.
            whole::clear(found.real.parent().unwrap_or(Path::new("/")));
            found = file::locate(path)?;
        }
        if found.linked {
            // Each name would have its own part beside it, and entries written under one replace those under the other.
            return Err(JournalError::new(path, Fault::SecondName));
        }
        let conn = connect(path, &found.real, OpenFlags::SQLITE_OPEN_READ_WRITE)?;
        if conn.is_readonly("main").map_err(|e| JournalError::sqlite(path, e))? {
            // SQLite falls back to reading where it may not write. Report a foreign or newer file before a read-only
            // one.
            return Err(match identify(path, &conn) {
                Err(error) if error.fault != Fault::Denied => error,
                _ => JournalError::new(path, Fault::ReadOnly),
            });
        }
        Self::settle(path, &found, conn, Access::Append)
    }

    /// Opens the log at `path` for reading only, even where nothing can be written.
    ///
    /// # Errors
    /// As [`Journal::open`], and if its newest entries are not yet merged and the folder cannot be written.
    pub fn open_read_only(path: &Path) -> Result<Self, JournalError> {
        let found = file::locate(path)?;
        let real = &found.real;
        // A writing connection that only reads leaves no files beside the log; a reading one does.
        let writing = connect(path, real, OpenFlags::SQLITE_OPEN_READ_WRITE).and_then(|conn| {
            conn.pragma_update(None, "query_only", true).map_err(|e| JournalError::sqlite(path, e))?;
            Self::settle(path, &found, conn, Access::Read)
        });
        match writing {
            // On a full disk nobody else can write either.
            Err(JournalError { fault: Fault::ReadOnly | Fault::Denied | Fault::Full, .. }) => {}
            done => return done,
        }
        if is_unmerged(real) || file::is_there(real, "-journal") {
            let conn = connect(path, real, OpenFlags::SQLITE_OPEN_READ_ONLY)?;
            return Self::settle(path, &found, conn, Access::Read).map_err(|e| match e.fault {
                Fault::Denied | Fault::ReadOnly => JournalError::new(path, Fault::Unmerged),
                _ => e,
            });
        }
        let uri = immutable_uri(real);
        let conn =
            connect(path, Path::new(&uri), OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI)?;
        Self::settle(path, &found, conn, Access::Read)
    }

    /// The path it was opened by.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Whether entries can be appended.
    pub const fn is_writable(&self) -> bool {
        matches!(self.access, Access::Append)
    }

    fn settle(
        path: &Path,
        found: &Located,
        mut conn: Connection,
        access: Access,
    ) -> Result<Self, JournalError> {
        let sqlite = |e| JournalError::sqlite(path, e);
        identify(path, &conn)?;
        conn.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, false).map_err(sqlite)?;
        if access == Access::Append {
            let mode = to_shared_mode(&conn).map_err(sqlite)?;
            if mode != "wal" {
                return Err(JournalError::new(path, Fault::Unsuitable));
            }
            conn.pragma_update(None, "synchronous", "FULL").map_err(sqlite)?;
            // Only macOS obeys these two; its plain fsync does not reach the platter.
            conn.pragma_update(None, "fullfsync", true).map_err(sqlite)?;
            conn.pragma_update(None, "checkpoint_fullfsync", true).map_err(sqlite)?;
            conn.pragma_update(None, "journal_size_limit", 8 << 20).map_err(sqlite)?;
        }
        let alteration = {
            let tx = conn.unchecked_transaction().map_err(sqlite)?;
            altered(&tx, path, &found.real)?
        };
        let wal = file::beside(&found.real, "-wal");
        let mut files = vec![(path.to_owned(), found.identity)];
        files.extend(Identity::at(&wal).map(|found| (wal.clone(), found)));
        let waits = Arc::new(AtomicBool::new(true));
        let patient = Arc::clone(&waits);
        let wait = move |times| patient.load(Ordering::Relaxed) && wait_a_moment(times);
        conn.busy_handler(Some(wait)).map_err(sqlite)?;
        let (path, real) = (path.to_owned(), found.real.clone());
        let journal = Self { conn, path, real, alteration, files, wal, waits, access };
        journal.still_there()?;
        Ok(journal)
    }

    /// Refuses if the files at the paths are no longer the open ones.
    pub(crate) fn still_there(&self) -> Result<(), JournalError> {
        if self.files.iter().all(|(path, identity)| Identity::at(path) == Some(*identity)) {
            Ok(())
        } else {
            Err(self.error(Fault::Replaced))
        }
    }

    pub(crate) fn error(&self, fault: Fault) -> JournalError {
        JournalError::new(&self.path, fault)
    }

    pub(crate) fn sqlite(&self, error: rusqlite::Error) -> JournalError {
        JournalError::sqlite(&self.path, error)
    }
}

/// What differs from the layout and the length that this crate made, inside the caller's transaction.
pub fn altered(conn: &Connection, path: &Path, real: &Path) -> Result<Option<Alteration>, JournalError> {
    let layout = schema::alteration(conn).map_err(|e| JournalError::sqlite(path, e))?;
    let length = length::alteration(conn, real)?;
    Ok(layout.into_iter().chain(length).reduce(Alteration::and))
}

/// Opens the database `real` with settings under which a hostile file can do no harm.
fn connect(path: &Path, real: &Path, flags: OpenFlags) -> Result<Connection, JournalError> {
    let flags = flags | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let configure = |conn: &mut Connection| {
        conn.busy_handler(Some(wait_a_moment))?;
        // Closing must not merge what may turn out to be someone else's database; it only removes our own traces.
        let unmerged = is_unmerged(real);
        conn.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, unmerged)?;
        conn.set_db_config(DbConfig::SQLITE_DBCONFIG_DEFENSIVE, true)?;
        conn.set_db_config(DbConfig::SQLITE_DBCONFIG_TRUSTED_SCHEMA, false)?;
        conn.pragma_update(None, "cell_size_check", true)?;
        let most = i32::try_from(crate::MAX_BODY_BYTES * 2).unwrap_or(i32::MAX);
        conn.set_limit(Limit::SQLITE_LIMIT_LENGTH, most)?;
        conn.set_prepared_statement_cache_capacity(32);
        Ok(())
    };
    Connection::open_with_flags(real, flags)
        .and_then(|mut conn| configure(&mut conn).map(|()| conn))
        .map_err(|e| JournalError::sqlite(path, e))
}

/// Called while another program has its turn. The waits are short and equal: with SQLite's own, which grow, a waiting
/// program would hardly ever get a turn between the entries of one that writes without a pause.
fn wait_a_moment(times: i32) -> bool {
    let waited = A_MOMENT.saturating_mul(times.unsigned_abs());
    if waited < PATIENCE {
        std::thread::sleep(A_MOMENT);
    }
    waited < PATIENCE
}

/// Turns the write-ahead log on and returns the mode the file is then in. SQLite refuses this immediately, without
/// waiting, while another program looks at a file that was only just started, so the waiting is here.
pub fn to_shared_mode(conn: &Connection) -> rusqlite::Result<String> {
    let mut waited = Duration::ZERO;
    loop {
        match conn.pragma_update_and_check(None, "journal_mode", "wal", |row| row.get(0)) {
            Err(e) if e.sqlite_error_code() == Some(ErrorCode::DatabaseBusy) && waited < PATIENCE => {
                std::thread::sleep(A_MOMENT);
                waited += A_MOMENT;
            }
            done => return done,
        }
    }
}

/// Whether entries wait beside the database to be merged into it.
fn is_unmerged(real: &Path) -> bool {
    file::is_there(real, "-wal")
}

/// Refuses a database that is not a log, or is a newer one.
fn identify(path: &Path, conn: &Connection) -> Result<(), JournalError> {
    let number = |name| {
        conn.pragma_query_value(None, name, |row| row.get::<_, i32>(0))
            .map_err(|e| JournalError::sqlite(path, e))
    };
    if number("application_id")? != APPLICATION_ID {
        return Err(JournalError::new(path, Fault::NotALog(NotALog::Foreign)));
    }
    match number("user_version")? {
        known if schema::knows(known) => Ok(()),
        newer if newer > schema::FORMAT => Err(JournalError::new(path, Fault::Newer(newer))),
        other => Err(JournalError::new(path, Fault::Damaged(Damage::Format(other)))),
    }
}

/// Lays the file out and writes the first entry in one transaction with a rollback journal, so that the file itself
/// is whole before it is ever shared.
fn write_first(path: &Path, real: &Path, when: When, by: &str, what: &What) -> Result<(), JournalError> {
    let sqlite = |e| JournalError::sqlite(path, e);
    let mut conn = connect(path, real, OpenFlags::SQLITE_OPEN_READ_WRITE)?;
    conn.pragma_update(None, "synchronous", "EXTRA").map_err(sqlite)?;
    conn.pragma_update(None, "fullfsync", true).map_err(sqlite)?;
    let tx = conn.transaction_with_behavior(TransactionBehavior::Immediate).map_err(sqlite)?;
    let objects: i64 =
        tx.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0)).map_err(sqlite)?;
    if objects > 0 {
        return Err(JournalError::new(path, Fault::Exists));
    }
    schema::lay_out(&tx).map_err(sqlite)?;
    append::insert(&tx, &Head::genesis(), when, by, what).map_err(|e| e.at(path))?;
    tx.commit().map_err(sqlite)?;
    conn.close().map_err(|(_, e)| sqlite(e))
}

/// The file as an SQLite URI for read-only media: no locks, no files beside it.
fn immutable_uri(real: &Path) -> String {
    let mut uri = String::from("file:");
    for byte in real.as_os_str().as_encoded_bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'/' | b'-' | b'_' | b'.' => {
                uri.push(char::from(*byte))
            }
            b'\\' if cfg!(windows) => uri.push('/'),
            _ => uri.push_str(&format!("%{byte:02X}")),
        }
    }
    uri + "?immutable=1"
}
