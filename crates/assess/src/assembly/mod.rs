//! Puts the judgements together into one [`Assessment`].

mod beyond;
mod datums;
mod doubts;
mod estimates;
mod later;
mod points;
mod settled;
mod stages;
mod trust;
mod wings;
mod zeros;

pub use estimates::{Estimates, Once};
use later::Decided;
use settled::Settled;
pub use wings::{LastProfile, last_profile};

use crate::chain::Chain;
use crate::estimate::measure;
use crate::history::{Fold, Freshness};
use crate::obligation::{self, Findings, Looked, Span};
use crate::parts::{self, Computed, Values};
use crate::twist::{self, Fits, Fitted, ProfileFit, Readings, StationValue};
use crate::view::{Assessment, EntryView, Gate, Remark, RuleView, SignView, StageNumber, Told, WingFound};
use record::plan::{Acceptance, Plan, Rule};
use record::point::Judgement;
use record::{Entry, GateState, Point};
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// Version of the assessment's form.
const FORMAT: u32 = 1;

/// The entries of a log that are available, oldest first, and how many are not because they can no longer count.
#[derive(Clone, Copy, Debug)]
pub struct Part<'e> {
    /// The available ones, to the end of the log.
    pub entries: &'e [Entry],
    /// How many are not available.
    pub passed: u64,
}

/// How much is reported of the stages begun.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stages {
    /// Which stages, when and by whom; nothing is judged as of their end.
    Named,
    /// Also what each measured and its state at the end, which costs an assessment each.
    Judged,
}

/// Judges a wing from its plan and its whole log.
///
/// Once a stage after the closing one has begun, the decision stays as it was then; later entries are reported beside
/// it.
pub fn assess(plan: &Plan, entries: &[Entry], chain: &Chain) -> Assessment {
    assess_with(plan, entries, chain, &Elsewhere::new())
}

/// How the logs of taken-up wings were found, by the wing's name in the plan.
pub type Elsewhere = BTreeMap<String, WingFound>;

/// The same, with what was found of the logs of taken-up wings.
pub fn assess_with(plan: &Plan, entries: &[Entry], chain: &Chain, elsewhere: &Elsewhere) -> Assessment {
    assess_part(plan, &Part { entries, passed: 0 }, chain, elsewhere, Stages::Judged)
}

/// The same from the entries that can count, with this much about the stages.
pub fn assess_part(
    plan: &Plan,
    log: &Part<'_>,
    chain: &Chain,
    elsewhere: &Elsewhere,
    stages: Stages,
) -> Assessment {
    let entries = log.entries;
    let judged = |plan, part: &Part<'_>, stages| {
        let mut fold = Fold::of(plan, part.entries);
        fold.entries += part.passed;
        folded(plan, &fold, chain, elsewhere, stages)
    };
    let mut out = judged(plan, log, stages);
    if let Some(decided) = later::decided(plan, entries) {
        let then = &entries[..decided];
        let last = then.last().map_or(0, |e| e.seq);
        let passed = if log.passed == 0 { 0 } else { last.saturating_sub(decided as u64) };
        let plan_then = later::plan_then(plan, entries, decided);
        let gate = |entries: &[Entry]| judged(&plan_then, &Part { entries, passed }, Stages::Named).gate;
        let then = gate(then);
        let by_now = later::known_since(entries, decided).map_or_else(|| then.clone(), |known| gate(&known));
        later::freeze(&mut out, Decided { then, by_now }, &plan_then, entries, decided);
    }
    out
}

/// Judges a wing from a fold over its log.
pub fn assess_fold(plan: &Plan, fold: &Fold<'_>, chain: &Chain, stages: Stages) -> Assessment {
    folded(plan, fold, chain, &Elsewhere::new(), stages)
}

fn folded(plan: &Plan, fold: &Fold<'_>, chain: &Chain, elsewhere: &Elsewhere, stages: Stages) -> Assessment {
    let once = Once::of(plan);
    let estimates = Estimates::of(plan, &once, fold);
    let values = &estimates.values;
    let fits = Fits::new(plan);
    let profile = fits.of(values, Readings::of(fresh(fold)));
    let earlier = earlier_profile(plan, fold, &fits);
    let computed = Computed::default();
    let spars = parts::spars(plan, values, &computed);
    let bays = parts::bays(plan, values);
    let mut wings = wings::wings(plan, fold, elsewhere);
    let rigging = parts::rigging(plan, &once.rigged, values, estimates.level, &wings);
    wings::changes(plan, &rigging.judged, &mut wings);
    let begun = stages::stages(
        plan,
        fold,
        estimates.level,
        &wings,
        stages::Again { fits: &fits, computed: &computed, once: &once },
        stages,
    );
    let (bore_line, bound) = match parts::bore_line(plan, values, &computed) {
        Some(Ok(line)) => (Some(line), None),
        Some(Err(not)) => (None, Some(not)),
        None => (None, None),
    };
    let mut out = Assessment {
        format: FORMAT,
        wing: plan.wing.name.clone(),
        side: plan.wing.side,
        identity: plan.wing.identity.clone(),
        attitude: plan.wing.attitude,
        stage: fold.stage_name.clone(),
        stage_number: fold.stage.map(|i| StageNumber { number: i + 1, of: plan.stages.len() }),
        rule: rule_view(&plan.rule),
        units: plan.shown_in,
        entries: fold.entries,
        last_entry_at: fold.last_at.map(|at| at.to_string()),
        last_entry_when: fold.last_at.map(|at| fold.written.when(fold.last_seq, at).to_string()),
        started: fold.started.as_ref().map(EntryView::from),
        decision: None,
        gate: Gate { state: GateState::Hold, obligations: Vec::new(), reasons: Vec::new() },
        after: None,
        stage_verdict: None,
        twist: profile
            .as_ref()
            .map(|p| points::doubted_twist(plan, &estimates, p.view(plan, &required_stations(plan, fold)))),
        points: Vec::new(),
        changes: match (&profile, &earlier) {
            (Some(now), Some((stage, then))) => Some(twist::changes(plan, stage, &then.fit, &now.fit)),
            _ => None,
        },
        previous: earlier.as_ref().map(|(stage, then)| twist::previous(plan, stage, then)),
        spars: spars.judged,
        posts: parts::posts(plan, fold, values),
        bays: bays.judged,
        spacing: parts::spacing(plan, values),
        bore_line,
        rows: parts::rows(plan, values),
        rig_pairs: parts::rig_pairs(
            plan,
            &once.rigged.checks,
            values,
            estimates.level,
            &wings,
            &rigging.judged,
        ),
        rig_closures: parts::rig_closures(plan, &once.rigged.checks, values, estimates.level),
        rigging: rigging.judged,
        wings,
        unjudged: spars.not.into_iter().chain(bays.not).chain(bound).chain(rigging.not).collect(),
        wanted: Vec::new(),
        open_items: trust::open_items(fold),
        instruments: trust::instruments(fold, values),
        zeros: estimates.zeros.clone(),
        plan_changes: fold.editions.iter().flat_map(|e| e.changes.clone()).collect(),
        replans: Told::all(&fold.replanned, |text| Remark::of(text)),
        notes: Told::all(&fold.notes, |text| Remark::of(text)),
        stages: begun,
        checks: trust::checks(fold),
        reworks: Told::all(&fold.reworks, Clone::clone),
        moves: Told::all(&fold.moves, trust::moved),
        withdrawn: trust::withdrawn(fold),
        signatures: fold.sign_offs.all().iter().map(|one| SignView::of(&fold.sign_offs, one)).collect(),
        doubts: Vec::new(),
    };
    let findings = Findings::of(plan, &out, values, estimates.level);
    let looked = Looked { estimates: &estimates, findings: &findings, chain, wings: &out.wings };
    let gate = obligation::gate(plan, fold, Span::ToClosing, looked);
    let closing = plan.closing_place();
    // Where the build went back to a stage before, it is the closing that counts again.
    let after = fold.visits.iter().rev().find_map(|v| v.index) > closing;
    let after = after.then(|| obligation::gate(plan, fold, Span::AfterClosing, looked));
    let settled = Settled::of(&gate, after.as_ref());
    out.points = points::points(plan, fold, &estimates, &out);
    // A stage is judged by what it measured and must answer for: what the whole wing owes beyond that concerns the
    // gate.
    let gates = || [&gate].into_iter().chain(&after);
    out.stage_verdict = points::stage_verdict(fold, &out).max(settled::of_stage(gates()));
    settled::stages(plan, gates(), &mut out.stages);
    if let Some(present) = out.stages.last_mut().filter(|_| stages == Stages::Judged) {
        present.verdict = present.verdict.max(out.stage_verdict);
    }
    settled.judged(&mut out);
    points::settle(plan, &mut out);
    settled.points(&mut out);
    out.wanted = points::wanted(&out);
    out.doubts = doubts::doubts(plan, fold, values);
    (out.gate, out.after) = (gate, after);
    out
}

/// Readings with the points they were taken at.
type Taken<'f> = BTreeMap<&'f Point, &'f Freshness>;

/// The values of all points with fresh readings.
pub fn current_values(plan: &Plan, fold: &Fold<'_>) -> Values {
    values_of(plan, fresh(fold))
}

/// The points with fresh readings.
pub(crate) fn fresh<'f>(fold: &'f Fold<'_>) -> impl Iterator<Item = (&'f Point, &'f Freshness)> + Clone {
    fold.points.iter().filter(|(_, f)| f.stale.is_none())
}

/// The fit of the readings of some points.
pub(crate) fn fit_of<'u>(
    plan: &Plan,
    points: impl Iterator<Item = (&'u Point, &'u Freshness)> + Clone,
) -> Option<ProfileFit> {
    twist::fit_profile(plan, &values_of(plan, points.clone()), &Readings::of(points))
}

/// Their stations.
pub(crate) fn stations_of<'u>(
    plan: &Plan,
    points: impl Iterator<Item = (&'u Point, &'u Freshness)> + Clone,
) -> Option<Vec<StationValue>> {
    twist::stations(plan, &values_of(plan, points.clone()), &Readings::of(points))
}

fn values_of<'u>(plan: &Plan, points: impl Iterator<Item = (&'u Point, &'u Freshness)>) -> Values {
    points.filter_map(|(point, f)| Some((point.clone(), measure(plan, point, &f.used)?))).collect()
}

/// The stations, by position in the plan, whose incidence the present stage requires, directly or from the spars.
fn required_stations(plan: &Plan, fold: &Fold<'_>) -> BTreeSet<usize> {
    let stage = fold.stage.and_then(|i| plan.stages.get(i));
    let places = stage
        .iter()
        .flat_map(|s| &s.requires)
        .filter(|p| p.kind().row().judgement == Judgement::Twist)
        .map(Point::place)
        .collect::<BTreeSet<&str>>();
    (0..plan.stations.len()).filter(|i| places.contains(plan.stations[*i].name.as_str())).collect()
}

/// The last profile before the present one, with the name of its stage.
fn earlier_profile<'f>(plan: &Plan, fold: &'f Fold<'_>, fits: &Fits<'f>) -> Option<(String, Rc<Fitted>)> {
    fold.profiles.iter().rev().find_map(|profile| {
        let values = values_of(plan, profile.points.iter());
        let fit = fits.of(&values, Readings::of(profile.points.iter()))?;
        let label = match &profile.by_move {
            Some(made) => format!("{}, before {} was moved", profile.stage, made.support),
            None => profile.stage.clone(),
        };
        Some((label, fit))
    })
}

fn rule_view(rule: &Rule) -> RuleView {
    let words = match rule.acceptance {
        Acceptance::Guarded => format!(
            "A value is within if the probability that it conforms is at least {p} %, outside if the \
                probability that it does not is at least {p} %, and undecided in between (guard bands at the \
                tolerance limits, JCGM 106:2012, ISO 14253-1).",
            p = rule.level * 100.0
        ),
        Acceptance::Simple => {
            "A value is within if it is inside its limits, whatever its uncertainty (simple acceptance): a \
                value on the limit is accepted with a risk of one half."
                .to_owned()
        }
    };
    RuleView { acceptance: rule.acceptance, level: rule.level, words }
}
