//! The blank form as PDF/A, drawn as the inspection sheet is.

use super::{Blank, instrument, with};
use crate::verbs::explain::tolerances;
use crate::verbs::sheet::stamp;
use assess::expect::{Round, Say};
use quantity::Kind;
use record::Facing;
use record::plan::Plan;
use record::point::Judgement;
use session::{Session, SessionError};
use sheet::{BlankGroup, BlankRow, Form, Paper};

/// The form of a stage; the same log gives the same bytes.
pub(super) fn pdf(
    session: &Session,
    stage: &str,
    blanks: &[Blank],
    paper: Paper,
) -> Result<Vec<u8>, SessionError> {
    let mut groups: Vec<BlankGroup> = Vec::new();
    let mut before: Option<&Blank> = None;
    for blank in blanks {
        let same = before.is_some_and(|b| b.group() == blank.group());
        let again = same && before.is_some_and(|b| b.point == blank.point);
        if !same {
            groups.push(group(session, blank));
        }
        if let Some(group) = groups.last_mut().filter(|_| !again) {
            group.rows.push(row(session, blank));
        }
        before = Some(blank);
    }
    let assessment = session.assessment();
    let mut stamp = stamp(session, &assessment, paper, Form::Full);
    stamp.title = "Blank form".to_owned();
    let blank = sheet::Blank { stage: stage.to_owned(), groups };
    sheet::blank_pdf(&assessment, &blank, &stamp).map_err(SessionError::because)
}

fn group(session: &Session, blank: &Blank) -> BlankGroup {
    let (plan, kind) = (session.plan(), blank.point.kind());
    let units = plan.shown_in;
    let facings = if kind.reverses() { facings() } else { Vec::new() };
    BlankGroup {
        title: blank.title(),
        instrument: with(session, blank),
        limits: tolerances(kind, &plan.tolerances, units),
        span: format!("span {}", units.scale(Kind::Length).head()),
        design: format!("design {}", units.scale(blank.quantity).head()),
        facings: facings.into_iter().map(|facing| facing.word().to_owned()).collect(),
        rows: Vec::new(),
    }
}

fn facings() -> Vec<Facing> {
    vec![Facing::Forward, Facing::Forward.turned()]
}

fn row(session: &Session, blank: &Blank) -> BlankRow {
    let plan = session.plan();
    let instrument = instrument(session, &blank.point, blank.quantity);
    let say = Say::of(blank.quantity, instrument.as_ref(), plan.units);
    let shows = |facing: Option<Facing>| {
        let shows = Round::new(plan).shows(&blank.point, facing, instrument.as_ref())?;
        let about = say.about(shows.value);
        Some(about.strip_prefix("about ").unwrap_or(&about).to_owned())
    };
    BlankRow {
        name: blank.point.place().to_owned(),
        span: blank.span(plan),
        design: blank.design(plan),
        limits: limits(plan, blank),
        first: blank.facing.map(|facing| facing.word().to_owned()),
        shows: match blank.facing {
            Some(_) => facings().into_iter().map(|facing| shows(Some(facing))).collect(),
            None => vec![shows(None)],
        },
    }
}

fn limits(plan: &Plan, blank: &Blank) -> Option<String> {
    let limits = match blank.point.kind().row().judgement {
        Judgement::OwnLimits => plan.spot(blank.point.place())?.limits,
        Judgement::Rigging => plan.rigging.limits_of(&blank.point),
        _ => None,
    }?;
    plan.shown_in.scale(blank.quantity).limits_with(limits.lower, limits.upper)
}
