//! The end of a round: what it showed, and what follows: the move, or the next stage.

use super::round::Round;
use crate::input::Enter;
use crate::view::wrap::wrap;
use crate::view::{gate, marks, paint};
use assess::Assessment;
use assess::advice::AdviceState;
use assess::view::{Finding, ReasonKind, Verdict};
use bench::Sure;
use quantity::shown::{capital, count};
use quantity::{Kind, Unit};
use record::What;
use session::next::{ToMove, moves, next};
use session::{BeginStage, SessionError, TypedMove, shown};

/// What the person does then.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum After {
    /// Continue: something is wanted again.
    Again,
    Stop,
}

/// At most this many findings of a stage are listed at the end of a round.
const TOLD: usize = 4;

/// Reports what the round showed and offers what follows.
///
/// # Errors
/// If the log cannot be written.
pub fn round(round: &mut Round<'_>) -> Result<After, SessionError> {
    let a = round.session.assessment();
    for line in summary(round, &a) {
        round.show.aside(&line);
    }
    let advice = round.session.advice();
    if advice.state == AdviceState::Move {
        let to_move = moves(&advice);
        if !to_move.is_empty() {
            return turned(round, &to_move);
        }
    }
    let met = a.stage_verdict.is_none_or(|v| v == Verdict::Within);
    if met && a.stage_number.is_some_and(|n| n.number < n.of) {
        return next_stage(round);
    }
    let next = next(&a, &advice);
    round.show.aside(&wrap("Next  ", &format!("jigtrue {}: {}", next.command, shown(&next.why))));
    Ok(After::Stop)
}

/// Begins the next stage if the person says so.
///
/// # Errors
/// If the log cannot be written.
pub fn next_stage(round: &mut Round<'_>) -> Result<After, SessionError> {
    let a = round.session.assessment();
    let place = a.stage_number.map_or(0, |n| n.number);
    let plan = round.session.plan();
    let Some(stage) = plan.stages.get(place) else { return Ok(After::Stop) };
    let number = format!("{} of {}", place + 1, plan.stages.len());
    let stale = match stage.disturbs.len() as u64 {
        0 => String::new(),
        n => format!(" It makes {} stale.", count(n, "point", "points")),
    };
    let question = format!("Begin {} ({number})?{stale}", shown(&stage.name));
    let name = stage.name.clone();
    if !round.input.yes(&question, Enter::Yes, round.show)? {
        return Ok(After::Stop);
    }
    let taken = round.session.stage(&BeginStage::named(&name))?;
    round.show.aside(&format!("{}\n", wrap("", &taken.ack)));
    Ok(After::Again)
}

/// Asks what was turned, move by move.
fn turned(round: &mut Round<'_>, to_move: &[ToMove]) -> Result<After, SessionError> {
    for one in to_move {
        round.show.aside(&wrap("Turn  ", &format!("{} (why: jigtrue advise)", shown(&one.words))));
    }
    let inches = round.session.plan().units.of(Kind::Length) == Unit::Inch;
    let shim = if inches { "0.02 in" } else { "0.5 mm" };
    let mut recorded = 0;
    let mut left = to_move.iter();
    let mut now = left.next();
    while let Some(one) = now {
        let example = if one.turns.is_some() { "3 1/4 cw" } else { shim };
        let did = if one.turns.is_some() { "turned" } else { "shimmed" };
        let prompt =
            format!("Type what you {did} at {}, as {example}, or Enter to stop here: ", shown(&one.support));
        let Some(line) = round.input.line(&prompt, round.show)? else { break };
        if line.is_empty() || matches!(line.as_str(), "q" | "s") {
            break;
        }
        let (body, sure) = (line.strip_suffix('!').map_or(line.as_str(), str::trim), Sure::of_line(&line));
        let (support, amount) = named(round, body).unwrap_or_else(|| (one.support.clone(), body.to_owned()));
        let other = support != one.support;
        match round.session.record_move(&TypedMove { support, amount, sure }) {
            Ok(taken) => {
                recorded += 1;
                round.show.aside(&wrap("", &taken.ack));
                // The rest depended on the advised move, and another was made.
                now = if other { None } else { left.next() };
            }
            Err(SessionError::Asks(question)) => {
                round.say(&format!(
                    "{question}. Not recorded. Type it again, or with ! after it to record it anyway."
                ));
            }
            Err(why) if why.is_refusal() => round.say(&why.to_string()),
            Err(why) => return Err(why),
        }
    }
    Ok(if recorded > 0 { After::Again } else { After::Stop })
}

/// The support at the beginning of the line, and the rest of the line.
fn named(round: &Round<'_>, line: &str) -> Option<(String, String)> {
    let plan = round.session.plan();
    let feet = plan.posts.iter().flat_map(|p| &p.feet).map(|f| &f.name);
    let all = plan.supports.iter().map(|s| &s.name).chain(feet);
    let begins = |name: &&String| line.get(..name.len()).is_some_and(|head| head.eq_ignore_ascii_case(name));
    let name = all.filter(begins).max_by_key(|name| name.len())?;
    Some((name.clone(), line.get(name.len()..).unwrap_or_default().trim().to_owned()))
}

fn summary(round: &Round<'_>, a: &Assessment) -> Vec<String> {
    let mut out = vec![String::new()];
    if let (Some(first), Some(last)) = (round.first, round.last) {
        let entries: Vec<_> =
            round.session.entries().iter().filter(|e| (first..=last).contains(&e.seq)).collect();
        let readings = entries.iter().filter(|e| matches!(e.what, What::Reading(_))).count() as u64;
        let millis = match (entries.first(), entries.last()) {
            (Some(first), Some(last)) => last.at.millis() - first.at.millis(),
            _ => 0,
        };
        let minutes = u64::try_from(millis / 60_000).unwrap_or_default();
        let time =
            if minutes == 0 { String::new() } else { format!(", {}", count(minutes, "minute", "minutes")) };
        out.push(format!("Done: {}{time}.", count(readings, "reading", "readings")));
    } else {
        let stage = capital(a.stage.as_deref().unwrap_or("no stage"));
        out.push(format!("{}: nothing is wanted.", shown(&stage)));
    }
    let verdicts = a.points.iter().filter(|p| p.required).filter_map(|p| p.verdict);
    // Here, what is within comes first.
    let mut order = Verdict::WORST_FIRST;
    order.rotate_right(1);
    let counts = marks::counts(order, verdicts);
    if !counts.is_empty() {
        out.push(wrap("", &counts.join("   ")));
    }
    if let Some(twist) = &a.twist {
        out.extend(
            [("setting", &twist.setting), ("washout error", &twist.washout_error)]
                .map(|(name, f)| line(name, f)),
        );
    }
    let units = round.session.plan().shown_in;
    let last = a.zeros.iter().map(|z| z.round).max();
    for zero in a.zeros.iter().filter(|z| Some(z.round) == last) {
        let steady = if zero.moved { "it MOVED within the round" } else { "steady" };
        let pairs = count(zero.pairs, "pair", "pairs");
        let value = units.with_u(Kind::Angle, zero.zero_deg, zero.u_deg).signed_with();
        out.push(format!("{:<13} {value}, {steady} over {pairs}", "zero"));
    }
    let told = |kind: ReasonKind| match kind {
        ReasonKind::Chain => true,
        ReasonKind::Unmet(worst) => !matches!(worst, Verdict::Missing | Verdict::Stale),
        ReasonKind::Stage | ReasonKind::Open => false,
    };
    let reasons = a.gate.reasons.iter().filter(|r| told(r.kind)).take(TOLD);
    out.extend(reasons.map(|r| paint::marks(&wrap(&format!("{} ", gate::mark(r.state)), &shown(&r.words)))));
    out
}

fn line(name: &str, finding: &Finding) -> String {
    match finding {
        Finding::Judged(j) => {
            let verdict =
                j.verdict.map(|v| format!("  {} {}", marks::of(Some(v)), v.word())).unwrap_or_default();
            format!("{name:<13} {}{verdict} {}", j.shown(), j.limits()).trim_end().to_owned()
        }
        Finding::Not(not) => wrap(&format!("{name:<13} "), &format!("not known: {}", not.why)),
    }
}
