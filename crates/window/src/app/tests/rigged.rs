//! The end of the invented aeroplane by touch: its controls are measured, adjusted, measured again, judged, inspected
//! and signed, and the sheet is made.

use super::touched::Touched;
use super::{Desk, desk};
use record::{Facing, GateState, What};
use session::demo::{CASES, Case, Step};

/// The case played until its controls are to be rigged, and the remaining steps.
fn until_the_controls(log: &std::path::Path) -> (Desk, Vec<Step>) {
    let case: &Case = CASES.iter().find(|c| c.name == "rigged").unwrap();
    let (mut begun, mut rest) = (false, Vec::new());
    // A case is read step by step while it is played: once to list the steps, once to stop at the right one.
    let whole = log.with_extension("whole.jigtrue");
    session::demo::play(case, &whole, &mut |_, step| {
        begun |= step.is_some_and(|s| s.action == "stage" && s.what == "controls rigged");
        rest.extend(step.filter(|_| begun).cloned());
        Ok(())
    })
    .unwrap();
    let halted = session::demo::play(case, log, &mut |_, step| match step {
        Some(step) if step.action == "stage" && step.what == "controls rigged" => {
            Err(session::SessionError::Closed)
        }
        _ => Ok(()),
    });
    assert!(halted.is_err());
    let mut desk = desk();
    desk.act(window::Action::CautionsRead);
    desk.open(log);
    (desk, rest)
}

fn takes(t: &mut Touched, step: &Step) {
    t.goes_to(&step.what);
    if !step.temperature.is_empty() && !t.said().contains(&step.temperature) {
        t.taps("More");
        t.taps("Part at");
        t.types(&step.temperature);
        t.taps("Done");
        t.goes_to(&step.what);
    }
    t.taps("Type it");
    let facing = match step.facing.as_str() {
        "forward" => Some(Facing::Forward),
        "aft" => Some(Facing::Aft),
        _ => None,
    };
    if let Some(facing) = facing
        && t.w.state().face.facing() != facing
    {
        let toward = t.w.state().face.point().unwrap().kind().toward(facing);
        t.taps(&format!("Face {toward}"));
    }
    for _ in 0..6 {
        if t.w.state().face.instrument() == Some(step.instrument.as_str()) {
            break;
        }
        t.taps("Instrument");
    }
    // The tensiometer of the case shows pounds.
    t.types(&step.value);
    t.taps("Done");
    for _ in 0..3 {
        if t.is_on("Yes: record it") {
            t.taps("Yes: record it");
        }
    }
    let last = t.log().entries.last().unwrap().clone();
    assert!(
        matches!(&last.what, What::Reading(r) if r.point.to_string() == step.what),
        "{step:?}: {last:?}\n{}",
        t.said()
    );
}

fn begins(t: &mut Touched, stage: &str) {
    t.taps("More");
    t.taps("Stages");
    t.taps(&format!("Begin {stage}"));
    // Something is not met, so the stage begins with a reason.
    if t.log().assessment.stage.as_deref() != Some(stage) {
        t.taps("More");
        if t.is_on("Seen") {
            t.taps("Seen");
        }
        t.taps("Stages");
        t.taps("Anyway…");
        t.types("as the job went");
        t.taps("Done");
    }
    assert_eq!(t.log().assessment.stage.as_deref(), Some(stage), "{}", t.said());
}

#[test]
fn the_rigged_aeroplane_is_finished_by_touch() {
    let folder = tempfile::tempdir().unwrap();
    let log = folder.path().join("rigged.jigtrue");
    let (desk, rest) = until_the_controls(&log);
    let mut t = Touched::new(desk);
    t.taps("More");
    t.taps("At the bench");
    t.taps("Add a name");
    t.types("Ruel");
    t.taps("inspector");
    t.taps("Done");
    let mut turned = Vec::new();
    for step in &rest {
        match step.action.as_str() {
            "stage" => begins(&mut t, &step.what),
            "take" => takes(&mut t, step),
            "rework" => {
                // What is outside its limit stands first in the gate, and is corrected from there.
                t.taps("Gate");
                t.says("outside");
                let point = step.what.split(';').next().unwrap();
                t.goes_to(point);
                t.taps("More");
                t.taps("History");
                t.taps("Reworked");
                t.types(&step.note.to_lowercase());
                t.taps("Done");
                assert!(matches!(t.log().entries.last().unwrap().what, What::Rework(_)), "{}", t.said());
                turned.push(point.to_owned());
            }
            other => panic!("{other}"),
        }
    }
    assert_eq!(turned, ["travel-up@left aileron", "tension@rudder right"]);
    t.taps("Gate");
    assert_eq!(t.log().assessment.gate.state, GateState::Clear, "{}", t.said());
    t.says("CLEAR");
    t.says("Clear: 45 of 45 met");
    t.taps("Board");
    t.says("rigging: ");
    t.taps("List");
    // Left beside right, and the difference.
    t.taps("More");
    t.taps("Shape");
    t.says("left less right");
    t.taps("Gate");
    t.taps("Sheet");
    t.says("The sheet was written to ");
    t.taps("Sign");
    t.says("Ruel, inspector");
    t.taps("Sign it");
    let last = t.log().entries.last().unwrap().clone();
    assert!(
        matches!(&last.what, What::Signed(s) if s.who == "Ruel" && s.capacity == "inspector"),
        "{last:?}\n{}",
        t.said()
    );
    let pdf = std::fs::read(folder.path().join("rigged.pdf")).unwrap();
    assert!(pdf.starts_with(b"%PDF"));
}
