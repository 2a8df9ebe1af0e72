//! Obligations met without a judgement: required points without a limit, instruments, open items, the record.

use super::judged::{Known, own};
use super::met::{Cause, Discharge, Shortfall};
use super::owed::Lacks;
use crate::chain::Chain;
use crate::history::{Distrust, Said};
use crate::view::ObligationKind as K;
use record::signoff::{Seal, SignOff};
use record::{OpenAction, OpenItem, Point};

/// `settles` is empty if nothing is known that settles it.
fn unmet(state: Shortfall, words: String, entries: Vec<u64>, cause: Cause, settles: &str) -> Discharge {
    Discharge::unmet(state, words, entries, cause, (!settles.is_empty()).then(|| settles.to_owned()))
}

/// A required point that nothing judges.
pub fn limit(known: &Known<'_>, point: &Point) -> Discharge {
    let cause = own(K::Point, &point.to_string());
    let freshness = known.fold.points.get(point).filter(|f| !f.used.is_empty());
    let entries: Vec<u64> = freshness.iter().flat_map(|f| f.used.iter().map(|u| u.seq)).collect();
    if entries.is_empty() {
        return unmet(Shortfall::MISSING, format!("{point} has no reading"), entries, cause, "");
    }
    let words = format!("{point} cannot be judged: the plan has no limit for it");
    let settles = "replan with a limit for it, or name it in record_only";
    unmet(Shortfall::CANNOT_JUDGE, words, entries, cause, settles)
}

/// Something that this plan can never prove.
pub fn nothing(kind: K, about: &str, why: Lacks) -> Discharge {
    unmet(Shortfall::CANNOT_JUDGE, why.to_string(), Vec::new(), own(kind, about), "replan")
}

/// The name of an instrument's second axis, after the instrument's name, when entered separately.
const SECOND_AXIS: &str = ", second axis";

/// An instrument that was used: known, in date, checks passed, zero steady, scatter as claimed.
pub fn instrument(known: &Known<'_>, name: &str) -> Discharge {
    let Some(facts) = known.fold.instruments.get(name) else {
        let words = format!("nothing is known about {name}");
        return unmet(Shortfall::DOUBTFUL, words, Vec::new(), own(K::Instrument, name), "");
    };
    let entries: Vec<u64> = facts.entered().chain(facts.checks.iter().map(|c| c.seq)).collect();
    let of_readings = known.estimates.values.values().flat_map(|m| &m.doubts);
    let mut doubts: Vec<Distrust> = of_readings.filter(|d| d.instrument() == Some(name)).cloned().collect();
    let put_away = doubts.is_empty();
    if facts.now().is_none() {
        doubts.push(Distrust::UnknownInstrument(name.to_owned()));
    }
    for (checked, facts) in known.fold.instruments.under_any_name(name) {
        let failed = facts.checks.last().filter(|c| !c.what.passed);
        doubts.extend(failed.map(|last| Distrust::failed(name, checked, last.seq)));
    }
    let checked = facts.checks.iter().any(|c| c.what.passed);
    if doubts.is_empty() && name.ends_with(SECOND_AXIS) && !checked {
        let words = format!("{name} was used and never checked: a check of the first axis does not cover it");
        let settles = "jigtrue instrument check, then measure again";
        return unmet(Shortfall::MISSING, words, entries, own(K::Instrument, name), settles);
    }
    match doubts.first() {
        Some(doubt) => {
            let cause = Cause::Doubt { name: doubt.cause(), words: doubt.to_string() };
            let mut settles = doubt.settles();
            if let Some(last) = facts.last_reading.filter(|_| put_away) {
                settles += &format!(
                    "; or withdraw all that it read, up to entry {last}, where another has read the same again"
                );
            }
            unmet(Shortfall::DOUBTFUL, doubt.to_string(), entries, cause, &settles)
        }
        None => Discharge::met(entries, format!("{name} was in order whenever it was used")),
    }
}

/// An open item.
pub fn closed(known: &Known<'_>, item: &str, stage: Option<usize>) -> Discharge {
    let name = stage.and_then(|i| known.plan.stages.get(i)).map(|s| s.name.as_str());
    match known.fold.open.iter().map(|o| &o.last).find(|o| o.what.item == item) {
        None => {
            let cause = Cause::Stage(name.unwrap_or(item).to_owned());
            let words = format!("{item}: left open by a stage that is not begun");
            unmet(Shortfall::MISSING, words, Vec::new(), cause, "")
        }
        Some(open) => match open.what.action {
            OpenAction::Opened => {
                let words = format!("left open: {item} ({})", open.seq);
                let settles = "close it, or carry it past with a reason";
                unmet(Shortfall::MISSING, words, vec![open.seq], Cause::Open, settles)
            }
            OpenAction::Closed => Discharge::met(vec![open.seq], format!("{item}: closed")),
            OpenAction::Carried => Discharge::met(vec![open.seq], format!("{item}: carried past on purpose")),
        },
    }
}

/// A loosened key of the plan, or of an instrument that was entered again.
pub fn carried(known: &Known<'_>, item: &str, entry: u64) -> Discharge {
    let carried =
        |o: &&Said<OpenItem>| o.what.item == item && o.seq > entry && o.what.action == OpenAction::Carried;
    match known.fold.open.iter().map(|o| &o.last).find(carried) {
        Some(open) => Discharge::met(vec![entry, open.seq], format!("{item}: carried past on purpose")),
        None => {
            let words = format!("changed at entry {entry}: {item}");
            let settles = "take it back, or carry it past with a reason";
            unmet(Shortfall::DOUBTFUL, words, vec![entry], own(K::OpenItem, item), settles)
        }
    }
}

/// The chain of hashes.
pub fn chain(known: &Known<'_>, chain: &Chain) -> Discharge {
    let cause = Cause::Record(super::CHAIN);
    let back = "compare with a backup: jigtrue verify BACKUP";
    match chain {
        Chain::Whole => Discharge::met(Vec::new(), format!("all {} entries fit", known.fold.entries)),
        Chain::Broken(how) => {
            let words = format!("the log's chain is broken: {how}");
            unmet(Shortfall::OUTSIDE, words, how.first.into_iter().collect(), cause, back)
        }
        Chain::NotWalked => {
            let words = "the log's chain was not checked".to_owned();
            unmet(Shortfall::DOUBTFUL, words, Vec::new(), cause, "jigtrue verify")
        }
    }
}

/// The plan, and each change.
pub fn plan(known: &Known<'_>) -> Discharge {
    let entries: Vec<u64> = known.fold.replanned.iter().map(|r| r.seq).collect();
    if let Some(again) = known.fold.restarted.first() {
        let words = format!("the log was started a second time at entry {again}");
        return unmet(Shortfall::OUTSIDE, words, vec![*again], Cause::Record("plan"), "");
    }
    let words = match entries.len() {
        0 => "the plan is the one the log began with".to_owned(),
        1 => "the plan was changed once; the change is shown".to_owned(),
        n => format!("the plan was changed {n} times; each change is shown"),
    };
    Discharge::met(entries, words)
}

pub fn signatures(known: &Known<'_>) -> Discharge {
    let all = known.fold.sign_offs.all();
    let entries: Vec<u64> = all.iter().map(|s| s.entry).collect();
    let bad: Vec<&SignOff> = all.iter().filter(|s| !s.seal.is_sound()).collect();
    if !bad.is_empty() {
        let words = bad.iter().map(|s| against(s)).collect::<Vec<_>>().join("; ");
        let cause = Cause::Record("signatures");
        let entries = bad.iter().map(|s| s.entry).collect();
        return unmet(Shortfall::OUTSIDE, words, entries, cause, "do not sign; compare with a backup");
    }
    let words = if entries.is_empty() { "nobody signed yet" } else { "every signature fits" };
    Discharge::met(entries, words)
}

fn against(s: &SignOff) -> String {
    let (who, entry) = (&s.signed.who, s.entry);
    match (s.seal, s.copy_of) {
        (Seal::Copy, Some(of)) => {
            format!("entry {entry} is a copy of the sign-off in entry {of}, not one by {who}")
        }
        (Seal::Gone, _) => format!("the signature of {who} in entry {entry} is missing; a key was used"),
        (Seal::Copy | Seal::Altered | Seal::NoKey | Seal::Fits | Seal::FitsFirstText, _) => {
            format!("the signature of {who} in entry {entry} does not fit; the sign-off was changed")
        }
    }
}
