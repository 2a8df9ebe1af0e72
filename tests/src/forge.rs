//! A log rebuilt by somebody who knows how: entries changed, and every later hash made to fit.

use journal::Head;
use rusqlite::Connection;
use std::path::Path;

/// One row of the table, without its hash.
#[derive(Clone, Debug)]
pub struct Row {
    /// Milliseconds since 1970.
    pub at: i64,
    /// Who wrote it.
    pub by: String,
    /// What happened, in a word.
    pub kind: String,
    /// The rest of it.
    pub body: String,
}

/// Changes the entries of a log that nobody has open and rebuilds the whole chain and the file's own count.
///
/// # Panics
/// If the log cannot be written.
pub fn forge(log: &Path, change: impl FnOnce(&mut Vec<Row>)) {
    let mut conn = Connection::open(log).expect("the log opens");
    let mut rows: Vec<Row> = {
        let mut query = conn
            .prepare("SELECT at, \"by\", kind, body FROM entry ORDER BY seq")
            .expect("a table of entries");
        let row = |r: &rusqlite::Row<'_>| {
            Ok(Row { at: r.get(0)?, by: r.get(1)?, kind: r.get(2)?, body: r.get(3)? })
        };
        query.query_map([], row).expect("rows").map(|r| r.expect("a row")).collect()
    };
    change(&mut rows);
    let guards = guards(&conn);
    let tx = conn.transaction().expect("a transaction");
    for (name, _) in &guards {
        tx.execute_batch(&format!("DROP TRIGGER {name}")).expect("the guard goes");
    }
    tx.execute_batch("DELETE FROM entry").expect("the entries go");
    let mut head = Head::genesis();
    for Row { at, by, kind, body } in &rows {
        let hash = head.link(*at, by.as_bytes(), kind.as_bytes(), body.as_bytes());
        head = Head { seq: head.seq + 1, hash };
        let values = rusqlite::params![head.seq.cast_signed(), at, by, kind, body, hash.0];
        tx.execute("INSERT INTO entry VALUES (?1, ?2, ?3, ?4, ?5, ?6)", values).expect("an entry");
    }
    tx.execute("UPDATE sqlite_sequence SET seq = ?1", [head.seq.cast_signed()]).expect("the count");
    for (_, sql) in &guards {
        tx.execute_batch(sql).expect("the guard is back");
    }
    tx.commit().expect("the forgery is written");
}

/// The guards of a log: name and text of each.
fn guards(conn: &Connection) -> Vec<(String, String)> {
    let mut query =
        conn.prepare("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'").expect("guards");
    let all = query.query_map([], |r| Ok((r.get(0)?, r.get(1)?))).expect("rows");
    all.map(|r| r.expect("a row")).collect()
}

/// Changes rows of a log without its guards, which are restored, and leaves the hashes as they are.
///
/// # Panics
/// If the log cannot be written, or nothing is changed.
pub fn change_rows(log: &Path, sql: &str) {
    let conn = Connection::open(log).expect("the log opens");
    let guards = guards(&conn);
    for (name, _) in &guards {
        conn.execute_batch(&format!("DROP TRIGGER {name}")).expect("the guard goes");
    }
    assert!(conn.execute(sql, []).expect("a change") > 0, "nothing is changed");
    for (_, sql) in &guards {
        conn.execute_batch(sql).expect("the guard is back");
    }
}
