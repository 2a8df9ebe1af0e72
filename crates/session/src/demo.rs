//! The shipped cases: invented wings whose building is played back into a log.

use crate::clock::Clock;
use crate::log::{Session, Take};
use crate::refusal::Refusal;
use crate::{BeginStage, Cannot, SessionError, TypedMove};
use record::{At, Facing, OpenAction, What};
use serde::Deserialize;
use std::collections::BTreeSet;
use std::path::Path;

/// The name of the log that the demo writes.
pub const LOG: &str = "demo.jigtrue";
/// The start of the invented building: 2031-06-02 08:00 UTC.
const START: i64 = 1_938_153_600_000;

#[derive(Clone, Copy, Debug)]
pub struct Case {
    /// Its name, which is also that of its folder.
    pub name: &'static str,
    /// Its plan's text.
    pub plan: &'static str,
    pub steps: &'static str,
}

macro_rules! case {
    ($name:literal) => {
        Case {
            name: $name,
            plan: include_str!(concat!("../../../demo-readings/", $name, "/plan.toml")),
            steps: include_str!(concat!("../../../demo-readings/", $name, "/steps.csv")),
        }
    };
}

/// Every shipped case; the first is the one `demo` plays.
pub const CASES: [Case; 5] =
    [case!("two-post"), case!("hold"), case!("sixty"), case!("upright"), case!("rigged")];

#[derive(Clone, Debug, Deserialize)]
pub struct Step {
    /// Minutes since the start.
    pub minute: i64,
    /// `stage`, `take`, `move`, `rework`, `withdraw`, `open`, `close`.
    pub action: String,
    pub what: String,
    pub value: String,
    pub facing: String,
    pub instrument: String,
    #[serde(rename = "temperature_C")]
    pub temperature: String,
    pub by: String,
    /// A remark or a reason.
    pub note: String,
}

/// Called with the session before each step, and the step; at the end with the session and no step.
pub type Watcher<'w> = &'w mut dyn FnMut(&Session, Option<&Step>) -> Result<(), SessionError>;

/// Plays a case into a new log.
///
/// # Errors
/// If the log exists and is not a shipped case's, or cannot be written.
pub fn play(case: &Case, log: &Path, before: Watcher<'_>) -> Result<Session, SessionError> {
    clear_away(log)?;
    let at = |minute: i64| At::from_millis(START + 60_000 * minute);
    let from = Path::new(case.name).join("plan.toml");
    let mut session =
        Session::create_from_text(case.plan, &from, log, Some("builder"), Clock::Set(at(0)).when())?;
    for step in steps(case)? {
        before(&session, Some(&step))?;
        session.set_clock(at(step.minute));
        session.set_who(&step.by);
        happen(&mut session, &step)?;
    }
    before(&session, None)?;
    Ok(session)
}

fn steps(case: &Case) -> Result<Vec<Step>, SessionError> {
    let steps: csv::Result<_> = csv::Reader::from_reader(case.steps.as_bytes()).into_deserialize().collect();
    steps.map_err(|why| Refusal::Steps { case: case.name, why }.into())
}

fn happen(session: &mut Session, step: &Step) -> Result<(), SessionError> {
    let given = |text: &str| (!text.is_empty()).then(|| text.to_owned());
    match step.action.as_str() {
        "stage" => session.stage(&BeginStage::anyway(&step.what, "as the invented job went"))?,
        "take" => session.take(Take {
            point: step.what.clone(),
            text: step.value.clone(),
            facing: Facing::named(&step.facing),
            instrument: given(&step.instrument),
            temperature: given(&step.temperature).map(|celsius| format!("{celsius} °C")),
            note: given(&step.note),
            ..Take::default()
        })?,
        "move" => session.record_move(&TypedMove::new(&step.what, &step.value))?,
        "rework" => {
            let points: Vec<String> = step.what.split(';').map(str::to_owned).collect();
            session.rework(&points, &step.note)?
        }
        "withdraw" => session.withdraw(session.head().entries, &step.note)?,
        "open" => session.open_item(&step.what, OpenAction::Opened, given(&step.note).as_deref())?,
        "close" => session.open_item(&step.what, OpenAction::Closed, given(&step.note).as_deref())?,
        other => return Err(Refusal::NoSuchStep(other.to_owned()).into()),
    };
    Ok(())
}

/// Whether every entry is at a minute at which the case has a step: entries that a person adds have the time of their
/// clock.
fn is_as_played(case: &Case, session: &Session) -> Result<bool, SessionError> {
    let steps = steps(case)?;
    let minutes: BTreeSet<i64> = steps.iter().map(|step| step.minute).chain([0]).collect();
    let of_the_case = |at: At| {
        let since = at.millis().saturating_sub(START);
        since % 60_000 == 0 && minutes.contains(&(since / 60_000))
    };
    // The demo itself adds one sign-off.
    let most = steps.len() + 2;
    Ok(session.entries().len() <= most && session.entries().iter().all(|e| of_the_case(e.at)))
}

/// Removes an earlier log of a shipped case; anything else with that name stays, and is an error.
fn clear_away(log: &Path) -> Result<(), SessionError> {
    if !log.exists() {
        return Ok(());
    }
    let session = Session::open_read_only(log).map_err(|_| Refusal::NoDemo(log.to_owned()))?;
    let case = session.entries().first().and_then(|first| match &first.what {
        What::Started { plan, .. } => CASES.iter().find(|c| c.plan == plan),
        _ => None,
    });
    let Some(case) = case else { return Err(Refusal::NoDemo(log.to_owned()).into()) };
    if !is_as_played(case, &session)? {
        return Err(Refusal::DemoGrown(log.to_owned()).into());
    }
    drop(session);
    for end in ["", "-wal", "-shm", "-journal"] {
        let mut name = log.as_os_str().to_owned();
        name.push(end);
        match std::fs::remove_file(Path::new(&name)) {
            Err(why) if why.kind() != std::io::ErrorKind::NotFound => {
                return Err(SessionError::io(log, Cannot::Replace, why));
            }
            _ => {}
        }
    }
    Ok(())
}
