//! The closing gate: everything that must be proven, each with its result.
//!
//! One direction: the list is made from plan and log ([`list`]), then each obligation is examined ([`judged`],
//! [`stage`], [`others`]), then the unmet ones are gathered by cause ([`causes`]).

mod causes;
mod findings;
mod judged;
mod limit;
mod list;
mod met;
mod needs;
mod others;
mod owed;
mod span;
mod stage;
mod wing;

pub use findings::Findings;
pub use needs::Feeds;
pub use span::Span;

use crate::assembly::Estimates;
use crate::chain::Chain;
use crate::history::Fold;
use crate::view::{Gate, Obligation, Verdict, WingView};
use judged::Known;
use limit::PlanLimits;
use met::{Answer, Cause, Discharge, Shortfall};
use owed::{By, Owed};
use record::GateState;
use record::plan::Plan;
use std::mem;

/// Where the value and limit of a thing are looked up.
struct LookedUp<'a> {
    findings: &'a Findings,
    limits: PlanLimits<'a>,
}

impl LookedUp<'_> {
    /// The limit of a thing: the plan's, or the one it was judged by if the plan uses a chart.
    fn limit(&self, owed: &Owed) -> Option<String> {
        let judged = || self.findings.get(owed.kind, &owed.about).and_then(|f| f.limit.clone());
        self.limits.of(owed.kind, &owed.about).or_else(judged)
    }
}

/// The `about` of the obligation that the chain fits.
pub(crate) const CHAIN: &str = "chain";

/// The context for examining obligations.
#[derive(Clone, Copy)]
pub struct Looked<'a> {
    /// The values from the readings.
    pub estimates: &'a Estimates,
    /// What the judgements found.
    pub findings: &'a Findings,
    /// Whether the log's chain is whole.
    pub chain: &'a Chain,
    /// The wings whose logs were taken up.
    pub wings: &'a [WingView],
}

/// The gate: clear only if every obligation of these stages is met.
pub fn gate(plan: &Plan, fold: &Fold<'_>, span: Span, looked: Looked<'_>) -> Gate {
    let Looked { estimates, findings, chain, wings } = looked;
    let stage = fold.stage.and_then(|i| plan.stages.get(i));
    let known = Known {
        plan,
        fold,
        estimates,
        findings,
        wings,
        waiting: judged::waiting(plan, fold, span),
        required: stage.iter().flat_map(|s| &s.requires).collect(),
    };
    let mut found: Vec<(Owed, Discharge)> = list::obligations(plan, fold, span)
        .into_iter()
        .map(|owed| {
            let discharge = discharge(&known, &owed, chain);
            (owed, discharge)
        })
        .collect();
    if let Chain::Broken(_) = chain {
        found.iter_mut().for_each(|(_, discharge)| in_a_broken_log(discharge));
    }
    let looked_up = LookedUp { findings, limits: PlanLimits::new(plan) };
    let reasons = causes::reasons(plan, &looked_up, &found);
    let view = |(owed, found): (Owed, Discharge)| {
        let of_stage = known.of_stage(&owed);
        view(&looked_up, owed, found, of_stage)
    };
    let obligations: Vec<Obligation> = found.into_iter().map(view).collect();
    let all_met = obligations.iter().all(|o| o.state == Verdict::Within);
    let state = if all_met && !obligations.is_empty() { GateState::Clear } else { GateState::Hold };
    Gate { state, obligations, reasons }
}

fn discharge(known: &Known<'_>, owed: &Owed, chain: &Chain) -> Discharge {
    match &owed.by {
        By::Begun(index) => stage::stage(known.plan, known.fold, *index),
        By::Judgement(points) => judged::judged(known, owed, points),
        By::Nothing(why) => others::nothing(owed.kind, &owed.about, *why),
        By::Limit(point) => others::limit(known, point),
        By::Wing(name) => wing::taken_up(known, name),
        By::Instrument => others::instrument(known, &owed.about),
        By::Closed(stage) => others::closed(known, &owed.about, *stage),
        By::Carried(entry) => others::carried(known, &owed.about, *entry),
        By::Chain => others::chain(known, chain),
        By::Signatures => others::signatures(known),
        By::Plan => others::plan(known),
    }
}

/// In a log with a broken chain, nothing else counts as proven.
fn in_a_broken_log(discharge: &mut Discharge) {
    if let Answer::Met(words) = &discharge.answer {
        let words = format!("{words}, but the log is broken");
        let entries = mem::take(&mut discharge.entries);
        *discharge = Discharge::unmet(Shortfall::DOUBTFUL, words, entries, Cause::Record(CHAIN), None);
    }
}

fn view(looked_up: &LookedUp<'_>, owed: Owed, found: Discharge, of_stage: bool) -> Obligation {
    let (state, words, cause) = match found.answer {
        Answer::Met(words) => (Verdict::Within, words, None),
        Answer::Unmet(unmet) => (unmet.state.verdict(), unmet.words, Some(unmet.cause.name())),
    };
    let finding = looked_up.findings.get(owed.kind, &owed.about);
    Obligation {
        kind: owed.kind,
        what: owed.kind.of(&owed.about),
        found: finding.and_then(|f| f.found.clone()),
        limit: looked_up.limit(&owed),
        conforms: finding.and_then(|f| f.conforms),
        about: owed.about,
        state,
        words,
        evidence: found.entries,
        cause,
        of_stage,
    }
}
