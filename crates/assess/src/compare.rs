//! Comparing two stages of one wing, or left and right.

mod others;
mod profile;
mod ruling;

use crate::twist::ALPHA;
use crate::view::{Assessment, Comparison, ComparisonKind, ComparisonRow, Verdict, WingView};
use others::Others;
use profile::{Profiles, label};
use record::plan::Side;
pub use ruling::Compared;
use ruling::Rulings;

/// Why two assessments cannot be compared.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CompareError {
    /// They have no value in common.
    #[error("the two have no value in common")]
    NothingInCommon,
    /// One is an aeroplane, and nothing of the other was measured again on it.
    #[error(
        "nothing of {wing} was measured both in its jig and on the aeroplane.\n  The aeroplane's plan says by [[wing]] station where \
         it is read again"
    )]
    NothingSince { wing: String },
    /// Both are of the same side: two left wings are not a pair.
    #[error("{first} and {second} are both {} wings.\n  Left is compared with right, or two stages of one wing", .side.word())]
    SameSide {
        side: Side,
        /// The first wing.
        first: String,
        second: String,
    },
}

/// Compares two wings, of which one must be left and the other right, or a wing on the aeroplane with the same in its jig.
///
/// # Errors
/// See [`CompareError`].
pub fn compare_wings(first: Compared<'_>, second: Compared<'_>) -> Result<Comparison, CompareError> {
    match (first.found.side, second.found.side) {
        (Side::Both, Side::Left | Side::Right) => return since_jig(first, second.found),
        (Side::Left | Side::Right, Side::Both) => return since_jig(second, first.found),
        _ => {}
    }
    if first.found.side == second.found.side {
        let (side, first, second) = (first.found.side, first.found.wing.clone(), second.found.wing.clone());
        return Err(CompareError::SameSide { side, first, second });
    }
    compare(first, second)
}

/// A wing on the aeroplane against its last profile in the jig, as it was taken up: twist from its first station.
fn since_jig(aeroplane: Compared<'_>, wing: &Assessment) -> Result<Comparison, CompareError> {
    let Compared { plan, found: aeroplane } = aeroplane;
    let is = |w: &&WingView| w.side == wing.side && w.taken.as_ref().is_some_and(|t| t.wing == wing.wing);
    let found = aeroplane.wings.iter().find(is).filter(|w| !w.changes.is_empty());
    let found = found.ok_or_else(|| CompareError::NothingSince { wing: wing.wing.clone() })?;
    let stage = |stage: Option<&String>| stage.cloned().unwrap_or_else(|| "no stage".to_owned());
    let stations: Vec<ComparisonRow> = found
        .changes
        .iter()
        .map(|c| ComparisonRow {
            name: c.station.clone(),
            span_mm: Some(c.span_mm),
            first_deg: c.now_deg,
            second_deg: c.jig_deg,
            difference: c.change.clone(),
            p: c.p,
            real: c.real,
        })
        .collect();
    // What the plan limits and nobody has measured again, and a wing's log that is no proof.
    let asked = plan.rigging.wings.iter().find(|w| w.name == found.name && w.change.is_some());
    let again = asked.into_iter().flat_map(|w| w.stations.iter().skip(1));
    let unread = again.filter(|s| !found.changes.iter().any(|c| c.station == s.name));
    let owed = unread.map(|_| Verdict::Missing);
    let log = (asked.is_some() && found.state != Verdict::Within).then_some(found.state);
    let taken = found.taken.as_ref();
    let measured = |name: &str| found.changes.iter().any(|c| c.station == name || c.from == name);
    let names = taken.into_iter().flat_map(|t| &t.stations).map(|s| s.name.as_str());
    let alone: Vec<&str> = names.filter(|name| !measured(name)).collect();
    let from = found.changes.first().map_or("", |c| c.from.as_str());
    let station_alpha = ALPHA / found.changes.len().max(1) as f64;
    Ok(Comparison {
        format: 1,
        kind: ComparisonKind::SinceJig,
        first: format!("{} on {} ({})", found.name, aeroplane.wing, stage(aeroplane.stage.as_ref())),
        second: format!("last in its jig ({})", stage(taken.and_then(|t| t.stage.as_ref()))),
        verdict: worst(&[], &stations).into_iter().chain(owed).chain(log).max(),
        parts: Vec::new(),
        stations,
        station_alpha,
        others: Vec::new(),
        not_compared: (!alone.is_empty())
            .then(|| format!("{}: not measured on the aeroplane", alone.join(", ")))
            .into_iter()
            .collect(),
        remarks: vec![format!("twist counts from {from}, so the setting of the whole wing cancels")],
    })
}

/// The worst verdict of some rows.
fn worst(parts: &[ComparisonRow], stations: &[ComparisonRow]) -> Option<Verdict> {
    parts.iter().chain(stations).filter_map(|row| row.difference.verdict).max()
}

/// Compares two assessments, the first less the second. Left against right is judged by the left-right tolerances and the rules of both
/// plans, whichever is given first; where they differ, by the stricter.
///
/// # Errors
/// See [`CompareError`].
pub fn compare(first: Compared<'_>, second: Compared<'_>) -> Result<Comparison, CompareError> {
    let both = [first, second];
    let (ours, theirs) = (first.found, second.found);
    let kind = if ours.side == theirs.side { ComparisonKind::Stages } else { ComparisonKind::Sides };
    let rulings = Rulings::of(kind, both);
    let profiles = Profiles::of(ours, theirs);
    let Others { others, mut not_compared } = others::others(ours, theirs, kind);
    if profiles.common.is_empty() && others.is_empty() {
        return Err(CompareError::NothingInCommon);
    }
    not_compared.extend(profiles.not_compared(kind));
    let (parts, stations) = (profiles.parts(&rulings), profiles.stations(&rulings));
    let owed = (rulings.limited() && !profiles.complete()).then_some(Verdict::Missing);
    let mut remarks = remarks(kind, &rulings, both);
    remarks.extend(profiles.remarks(kind));
    let spoilt = parts.iter().chain(&stations).filter(|row| ruling::is_spoilt(row.difference.verdict));
    for why in spoilt.filter_map(|row| row.difference.decide.as_ref()) {
        if !remarks.contains(why) {
            remarks.push(why.clone());
        }
    }
    if owed.is_some() {
        remarks.push("left against right is not whole: something has no value in both".to_owned());
    }
    Ok(Comparison {
        format: 1,
        kind,
        first: label(ours, kind),
        second: label(theirs, kind),
        verdict: worst(&parts, &stations).into_iter().chain(owed).max(),
        parts,
        stations,
        station_alpha: profiles.alpha(),
        others,
        not_compared,
        remarks,
    })
}

fn remarks(kind: ComparisonKind, rulings: &Rulings<'_>, [first, second]: [Compared<'_>; 2]) -> Vec<String> {
    let mut out = Vec::new();
    if kind == ComparisonKind::Sides {
        if first.found.side == Side::Right {
            out.push("the right wing was given first: differences are right less left".to_owned());
        }
        if !rulings.limited() {
            out.push(
                "the plan has no left-right tolerance, so there is no verdict on the difference".to_owned(),
            );
        } else if first.plan.tolerances.left_right != second.plan.tolerances.left_right {
            let strict = "the two plans differ in their left-right tolerance: the stricter counts";
            out.push(strict.to_owned());
        }
        let rule = |one: Compared<'_>| (one.plan.rule.acceptance, one.plan.rule.level);
        if rule(first) != rule(second) {
            out.push("the two plans differ in their rule of acceptance: the stricter counts".to_owned());
        }
        if first.found.stage != second.found.stage {
            out.push("the two wings are at different stages".to_owned());
        }
    }
    out
}
