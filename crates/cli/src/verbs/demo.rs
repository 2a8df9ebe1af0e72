//! `demo`: an invented job, played through.

use super::sheet::stamp;
use crate::exit::Exit;
use crate::show::Show;
use crate::view::check::{Extent, Seen, text};
use assess::view::{Finding, Verdict};
use clap::Args;
use record::What;
use serde::Serialize;
use session::demo::{CASES, LOG, Step, play};
use session::next::next;
use session::{NotKnown, Session, SessionError, Sign};
use sheet::{Form, Paper};
use std::path::Path;

/// The name of the sheet that the demo leaves.
const SHEET: &str = "demo-sheet.pdf";

#[derive(Debug, Args)]
pub struct Demo {
    /// Another shipped case: two-post, hold, sixty, upright, rigged
    #[arg(long, default_value = "two-post")]
    case: String,
}

#[derive(Serialize)]
struct Answer {
    case: String,
    log: &'static str,
    sheet: &'static str,
    entries: u64,
    gate: &'static str,
}

impl Demo {
    pub fn run(self, show: &Show) -> Result<Exit, SessionError> {
        let case = CASES.iter().find(|c| c.name == self.case);
        let case =
            case.ok_or_else(|| NotKnown::word("shipped case", &self.case, CASES.map(|case| case.name)))?;
        let what = if case.plan.contains("[aeroplane]") {
            "An invented aeroplane with invented readings, from wings on to rigged.\n"
        } else {
            "An invented wing with invented readings, from empty jig to closing gate.\n"
        };
        show.text(what)?;
        let mut told = 0;
        let mut session =
            play(case, Path::new(LOG), &mut |session, step| tell(show, session, step, &mut told))?;
        if session.assessment().gate.state == record::GateState::Clear {
            let taken = session.sign(Sign {
                who: Some("inspector".to_owned()),
                capacity: "inspector (invented)".to_owned(),
                statement: "seen and found in order".to_owned(),
                as_seen: false,
                key: None,
            })?;
            show.text(&format!("signed      {}\n", taken.ack))?;
        }
        let assessment = session.assessment_by_stage();
        let pdf = sheet::pdf(&assessment, &stamp(&session, &assessment, Paper::A4, Form::Full))
            .map_err(SessionError::because)?;
        session::write_whole(Path::new(SHEET), &[Path::new(LOG)], &pdf)?;
        let session = show.of(session);
        let assessment = session.assessment();
        let next = Some(next(&assessment, &session.advice()));
        let units = session.plan().shown_in;
        let seen = Seen { assessment: &assessment, entries: session.entries(), units, next };
        show.text(&text(&seen, Extent::default()))?;
        show.text(&format!("\nLeft here: {LOG} and {SHEET}. To look into them:"))?;
        let begun: Vec<&String> = session.entries().iter().filter_map(|e| stage_of(&e.what)).collect();
        if let Some(before) = begun.iter().rev().nth(1) {
            show.text(&format!("  jigtrue check {LOG} --stage \"{before}\""))?;
        }
        show.text(&format!("  jigtrue verify {LOG} --sheet {SHEET}"))?;
        if show.json {
            let entries = session.head().entries;
            let gate = assessment.gate.state.word();
            let answer = Answer { case: self.case, log: LOG, sheet: SHEET, entries, gate };
            show.answer(String::new, &answer)?;
        }
        Ok(Exit::Done)
    }
}

fn stage_of(what: &What) -> Option<&String> {
    match what {
        What::Stage(begun) => Some(&begun.name),
        _ => None,
    }
}

/// Prints the findings before a stage begins, before the first of several moves and at the end; and every move.
fn tell(show: &Show, session: &Session, step: Option<&Step>, told: &mut u64) -> Result<(), SessionError> {
    let next_move = step.filter(|s| s.action == "move");
    let begins = step.is_none_or(|s| s.action == "stage");
    let entries = session.head().entries;
    let rework = step.filter(|s| s.action == "rework");
    let found_out = entries > 1 && (begins || rework.is_some() || (next_move.is_some() && entries != *told));
    if found_out {
        standing(show, session)?;
    }
    if let Some(rework) = rework {
        let now = session.assessment();
        for r in now.rigging.iter().filter(|r| r.judged.verdict == Some(Verdict::Outside)) {
            show.text(&format!(
                "  outside     {} {}, limit {}",
                r.name,
                r.judged.shown(),
                r.judged.limits()
            ))?;
        }
        show.text(&format!("  put right   {}", rework.note))?;
    }
    let Some(step) = next_move else { return Ok(()) };
    if found_out && session.plan().support(&step.what).is_some() {
        for advised in &session.advice().steps {
            show.text(&format!("  advice      {}", advised.words))?;
        }
    }
    show.text(&format!("  moved       {}: {}", step.what, step.value))?;
    *told = entries + 1;
    Ok(())
}

/// The stage in one line, and what the feet need.
fn standing(show: &Show, session: &Session) -> Result<(), SessionError> {
    let a = session.assessment();
    let stage = a.stage.clone().unwrap_or_default();
    let verdict = a.stage_verdict.map_or("not judged", |v| v.word());
    let twist = a.twist.as_ref().map_or_else(String::new, |t| {
        let words = |f: &Finding| match f {
            Finding::Judged(j) => {
                format!("{} {}", j.what, j.shown())
            }
            Finding::Not(not) => format!("{} not known", not.what),
        };
        format!("; {}, {}", words(&t.washout_error), words(&t.setting))
    });
    show.text(&format!("{:<14}{verdict}{twist}", stage + " "))?;
    let tilts = a.posts.iter().flat_map(|p| [&p.level, &p.cross]).flatten();
    for advice in tilts.flat_map(|t| &t.moves) {
        show.text(&format!("  advice      {advice}"))?;
    }
    Ok(())
}
