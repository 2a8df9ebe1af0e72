//! `jigtrue` alone: the state of the wing and the next thing to do.

use crate::exit::Exit;
use crate::show::Show;
use crate::view::wrap;
use crate::view::{gate, paint};
use crate::which::unnamed;
use assess::view::{Assessment, ReasonKind, Verdict};
use quantity::shown::count;
use record::GateState;
use serde::Serialize;
use session::next::{Next, next};
use session::which::{VARIABLE, Which, which};
use session::{Session, SessionError, browse, shown};
use std::path::{Path, PathBuf};

const EMPTY: &str = "\
No log here. To begin:
  jigtrue plan > wing.toml     an example plan; make it your wing's
  jigtrue new wing.toml        starts wing.jigtrue
  jigtrue demo                 an invented job to look around in

jigtrue help lists every verb. It measures and records; it does not approve:
the kit maker's data, the local authority and a licensed person stand above it.";

#[derive(Serialize)]
struct Answer {
    logs: Vec<LogView>,
}

#[derive(Clone, Default, Serialize)]
struct LogView {
    log: String,
    wing: Option<String>,
    stage: Option<String>,
    gate: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    next: Option<String>,
}

/// Shows the state of things here.
///
/// # Errors
/// If the log cannot be read or the answer cannot be written.
pub fn run(show: &Show) -> Result<Exit, SessionError> {
    match which(Path::new(".")) {
        Which::NoneHere => show.answer(|| EMPTY.to_owned(), &Answer { logs: Vec::new() })?,
        Which::Several(logs) => several(&logs, show)?,
        Which::Variable(_) | Which::Only(_) => {
            let found = unnamed()?;
            show.remark(&found.aloud);
            one(&found.log, show)?;
        }
    }
    Ok(Exit::Done)
}

fn one(log: &Path, show: &Show) -> Result<(), SessionError> {
    let session = show.of(Session::open_read_only(log)?);
    let a = session.assessment();
    let what = next(&a, &session.advice());
    let view = LogView {
        log: log.display().to_string(),
        wing: Some(a.wing.clone()),
        stage: a.stage.clone(),
        gate: Some(a.gate.state.word()),
        next: Some(what.command.clone()),
    };
    show.answer(|| text(&session, &a, &what), &Answer { logs: vec![view] })
}

fn text(session: &Session, a: &Assessment, what: &Next) -> String {
    let mut out = vec![crate::view::check::head(a, session.entries()), String::new()];
    let measured = |kind: ReasonKind| match kind {
        ReasonKind::Chain => true,
        ReasonKind::Unmet(worst) => worst != Verdict::Missing,
        ReasonKind::Stage | ReasonKind::Open => false,
    };
    if let Some(worst) = a.gate.reasons.first().filter(|r| measured(r.kind)) {
        out.push(paint::marks(&wrap::wrap(&format!("{} ", gate::mark(worst.state)), &shown(&worst.words))));
        out.push(String::new());
    }
    let command = format!("Next   jigtrue {}", what.command);
    out.push(wrap::wrap_hang(&format!("{command:<21}  "), &" ".repeat(23), &what.why));
    out.push(paint::marks(&wrap::wrap("Gate   ", &gate_in_a_line(a))));
    let between = if wrap::terminal() < wrap::WIDTH { "\n       " } else { ";  " };
    out.push(format!("See    jigtrue check   the profile and every reason{between}jigtrue help  the rest"));
    out.join("\n")
}

fn gate_in_a_line(a: &Assessment) -> String {
    let (met, all) = (a.gate.count(Verdict::Within), a.gate.obligations.len());
    if a.gate.state == GateState::Clear {
        return format!("CLEAR: {met} of {all} met");
    }
    format!("HOLD: {met} of {all} met ({})", gate::unmet(&a.gate).join(", "))
}

/// A log in a few words, or why it cannot be read.
struct Row {
    view: LogView,
    words: String,
}

fn several(logs: &[PathBuf], show: &Show) -> Result<(), SessionError> {
    let rows: Vec<Row> = logs.iter().map(|log| row(log)).collect();
    let text = || {
        let name = |row: &Row| shown(&row.view.log).into_owned();
        let widest = rows.iter().map(|row| wrap::width(&name(row))).max().unwrap_or(0).min(40);
        let number = count(rows.len(), "log", "logs");
        let mut out = vec![format!("{number} here. Name one after the verb, or set {VARIABLE}:")];
        out.extend(rows.iter().map(|row| {
            wrap::wrap_hang(
                &format!("  {}   ", wrap::fit(&name(row), widest)),
                &" ".repeat(widest + 5),
                &shown(&row.words),
            )
        }));
        out.join("\n")
    };
    let logs = rows.iter().map(|row| row.view.clone()).collect();
    show.answer(text, &Answer { logs })
}

fn row(log: &Path) -> Row {
    let view = LogView { log: log.display().to_string(), ..LogView::default() };
    match browse::summary(log) {
        Err(why) => Row { view, words: why.to_string() },
        Ok(None) => Row { view, words: "large; not opened for this list".to_owned() },
        Ok(Some(s)) => {
            let gate = s.gate.word();
            let words = format!("{}   {}   {}", s.wing, s.stage, gate.to_uppercase());
            let view = LogView { wing: Some(s.wing), stage: Some(s.stage), gate: Some(gate), ..view };
            Row { view, words }
        }
    }
}
