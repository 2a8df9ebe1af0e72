//! The instruments a log knows, and which of them a reading was taken with.

use super::points::nearest;
use crate::{SessionError, brief, shown};
use quantity::Kind;
use record::{Entry, Instrument, Plan, What, Withdrawn};
use std::collections::BTreeMap;

/// Every instrument known, the plan's first, each as it was last entered.
pub(crate) fn instruments(plan: &Plan, entries: &[Entry]) -> BTreeMap<String, Instrument> {
    let withdrawn = Withdrawn::of(entries);
    let entered = entries.iter().filter_map(|e| match &e.what {
        What::Instrument(instrument) if !withdrawn.contains(e.seq) => Some(instrument),
        _ => None,
    });
    plan.instruments.iter().chain(entered).map(|i| (i.name.clone(), i.clone())).collect()
}

/// The instrument a reading of this quantity was taken with.
///
/// # Errors
/// When the one named is not known or reads something else, or several are known and none is named.
pub(crate) fn pick<'a>(
    known: &'a BTreeMap<String, Instrument>,
    quantity: Kind,
    asked: Option<&str>,
) -> Result<Option<&'a Instrument>, SessionError> {
    let fits = |i: &Instrument| i.kind.quantity().is_none_or(|q| q == quantity);
    if let Some(name) = asked.map(str::trim) {
        let Some(instrument) = known.get(name) else {
            return Err(unknown(known, name));
        };
        if !fits(instrument) {
            return Err(SessionError::Refused(format!(
                "`{}` does not read {}s; name another instrument",
                shown(name),
                quantity.word()
            )));
        }
        return Ok(Some(instrument));
    }
    let mut certain = known.values().filter(|i| i.kind.quantity() == Some(quantity));
    match (certain.next(), certain.next()) {
        (Some(only), None) => Ok(Some(only)),
        (None, _) => Ok(None),
        (Some(_), Some(_)) => {
            let names: Vec<String> = known
                .values()
                .filter(|i| i.kind.quantity() == Some(quantity))
                .map(|i| format!("`{}`", shown(&i.name)))
                .collect();
            Err(SessionError::Refused(format!(
                "several instruments read {}s; say which with --instrument: {}",
                quantity.word(),
                names.join(", ")
            )))
        }
    }
}

pub(crate) fn unknown(known: &BTreeMap<String, Instrument>, name: &str) -> SessionError {
    let near = nearest(name, known.keys().cloned());
    let hint = match &near {
        Some(near) => format!("nearest is `{}`", shown(near)),
        None => "enter it first with `jigtrue instrument add`, or in the plan".to_owned(),
    };
    let words = format!("instrument `{}` is not known; {hint}", brief(name));
    SessionError::NotKnown { words, nearest: near }
}

/// Whether an instrument's numbers can be calculated with.
pub(crate) fn usable(instrument: &Instrument) -> Result<(), SessionError> {
    let refuse = |words: &str| {
        Err(SessionError::Refused(format!("instrument `{}`: {words}", shown(&instrument.name))))
    };
    if instrument.name.trim().is_empty() {
        return Err(SessionError::refused("the instrument has no name"));
    }
    if !(instrument.resolution.is_finite() && instrument.resolution > 0.0) {
        return refuse("the resolution must be a number above zero");
    }
    let optional = [
        ("accuracy", instrument.accuracy),
        ("repeatability", instrument.repeatability),
        ("scale", instrument.scale),
        ("expansion", instrument.expansion),
    ];
    for (name, number) in optional {
        if number.is_some_and(|n| !(n.is_finite() && n >= 0.0)) {
            return refuse(&format!("its {name} must be a number of zero or more"));
        }
    }
    // What a plan's reader refuses is refused here too.
    let kind = instrument.kind.quantity().unwrap_or(Kind::Length);
    let sizes = [Some(instrument.resolution), instrument.accuracy, instrument.repeatability];
    if sizes.into_iter().flatten().any(|size| !quantity::possible(kind, size)) {
        return refuse(&format!(
            "a size is beyond any {} of a wing, {}",
            kind.word(),
            quantity::possible_words(kind)
        ));
    }
    if instrument.scale.is_some_and(|s| s > 0.5) || instrument.expansion.is_some_and(|e| e > 1e-3) {
        return refuse("its scale is a relative error of at most 0.5, its expansion at most 1e-3 per kelvin");
    }
    let name = &instrument.name;
    if name.trim() != name
        || name.chars().count() > 80
        || name.contains(['@', ':', '*'])
        || name.contains(char::is_control)
    {
        return refuse("a name has 1 to 80 characters, none of them @, : or *, and no space around it");
    }
    if let (Some(checked), Some(due)) = (&instrument.checked, &instrument.due)
        && due < checked
    {
        return refuse("its check runs out before it was done");
    }
    Ok(())
}
