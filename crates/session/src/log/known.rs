//! The instruments a log knows, and which one a reading was taken with.

use crate::refusal::{NotUsable, Refusal};
use crate::{NotKnown, SessionError, Unknown, shown};
use assess::expect::{self, Impossible, Question, impossible};
use quantity::{Kind, Typed};
use record::{Dial, Entry, Instrument, Plan, Point, What, Withdrawn};
use std::collections::BTreeMap;

/// Every known instrument, the plan's first, each in its latest version.
pub(crate) fn instruments(plan: &Plan, entries: &[Entry]) -> BTreeMap<String, Instrument> {
    let entered = Withdrawn::others(entries).filter_map(|e| match &e.what {
        What::Instrument(instrument) => Some(instrument),
        _ => None,
    });
    plan.instruments.iter().chain(entered).map(|i| (i.name.clone(), i.clone())).collect()
}

/// The instrument for a reading of this quantity.
///
/// # Errors
/// If the named one is unknown or reads something else, or several are known and none is named.
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
            return Err(Refusal::DoesNotRead { name: name.to_owned(), quantity }.into());
        }
        return Ok(Some(instrument));
    }
    let mut certain = known.values().filter(|i| i.kind.quantity() == Some(quantity));
    match (certain.next(), certain.next()) {
        (Some(only), None) => Ok(Some(only)),
        (None, _) => Ok(None),
        (Some(_), Some(_)) => {
            let names = known.values().filter(|i| i.kind.quantity() == Some(quantity));
            let names = names.map(|i| i.name.clone()).collect();
            Err(Refusal::SeveralInstruments { quantity, names }.into())
        }
    }
}

/// What a text says: a value, and how finely it was read.
pub(crate) struct Says {
    pub(crate) value: f64,
    pub(crate) step: f64,
    /// The question, if it is between the steps of the display.
    pub(crate) off_step: Option<Question>,
    /// What a dial showed; the value is the force from the instrument's table.
    pub(crate) dial: Option<Dial>,
}

impl Says {
    /// `read_to` is a coarser step than the instrument's.
    pub(crate) fn typed(value: &Typed, instrument: Option<&Instrument>, read_to: Option<f64>) -> Self {
        let counts = expect::resolution(value, instrument, read_to);
        Self { value: value.amount.base(), step: counts.step, off_step: counts.off, dial: None }
    }

    /// Why it cannot be so. The range of a dial is in divisions, and was checked already.
    pub(crate) fn impossible(&self, quantity: Kind, instrument: Option<&Instrument>) -> Option<Impossible> {
        impossible(quantity, self.value, self.step, instrument.filter(|_| self.dial.is_none()))
    }
}

/// A dial reading, if the instrument shows divisions.
///
/// # Errors
/// If the text is not a bare number, or gives no force.
pub(crate) fn dialled(
    plan: &Plan,
    point: &Point,
    instrument: Option<&Instrument>,
    text: &str,
    read_to: Option<&str>,
) -> Result<Option<Says>, Refusal> {
    let Some(instrument) = instrument.filter(|i| i.shows_divisions()) else { return Ok(None) };
    let name = shown(&instrument.name);
    let number = |text: &str| {
        let bare = !text.trim().is_empty() && text.trim().chars().all(|c| c.is_ascii_digit() || c == '.');
        let typed = quantity::typed_in(text, quantity::Unit::Newton).ok().filter(|_| bare);
        typed.ok_or_else(|| Refusal::NoDivisions { text: text.to_owned(), name: name.to_string() })
    };
    let typed = number(text)?;
    let shown_at = typed.amount.base();
    let read_to = read_to.map(number).transpose()?.map(|step| step.amount.base());
    let coarser = read_to.filter(|step| *step >= instrument.resolution || *step <= 0.0);
    let step = coarser.unwrap_or(instrument.resolution);
    let beyond = |l: &record::Limits<f64>| {
        l.lower.is_some_and(|l| shown_at < l) || l.upper.is_some_and(|u| shown_at > u)
    };
    if instrument.range.as_ref().is_some_and(beyond) {
        return Err(Refusal::BeyondDial { text: text.to_owned(), name: name.into_owned() });
    }
    let cable = plan.rigging.cables.iter().find(|c| c.name == point.place());
    let found =
        instrument.force(cable, shown_at).map_err(|why| Refusal::NoTension { text: text.to_owned(), why })?;
    let steps = shown_at / instrument.resolution;
    let off = coarser.is_none() && (steps - steps.round()).abs() > 1e-6;
    let off_step = off.then(|| Question::OffDivision {
        text: text.trim().to_owned(),
        step: instrument.resolution,
        instrument: name.into_owned(),
    });
    let dial = Some(Dial { shown: shown_at, step });
    Ok(Some(Says { value: found.force, step: step * found.slope, off_step, dial }))
}

pub(crate) fn unknown(known: &BTreeMap<String, Instrument>, name: &str) -> SessionError {
    NotKnown::name(Unknown::Instrument(name.to_owned()), name, known.keys().cloned()).into()
}

/// Checks that an instrument's numbers can be used in computations.
pub(crate) fn usable(instrument: &Instrument) -> Result<(), SessionError> {
    let refuse = |why| Err(Refusal::Unusable { name: instrument.name.clone(), why }.into());
    if instrument.name.trim().is_empty() {
        return Err(Refusal::NamelessInstrument.into());
    }
    if !(instrument.resolution.is_finite() && instrument.resolution > 0.0) {
        return refuse(NotUsable::Resolution);
    }
    let optional = [
        ("accuracy", instrument.accuracy),
        ("repeatability", instrument.repeatability),
        ("scale", instrument.scale),
        ("expansion", instrument.expansion),
    ];
    for (name, number) in optional {
        if number.is_some_and(|n| !(n.is_finite() && n >= 0.0)) {
            return refuse(NotUsable::BelowZero(name));
        }
    }
    if let Some(odd) = instrument.tables.iter().find(|t| !t.is_sound()) {
        return refuse(NotUsable::Table(odd.cable.clone()));
    }
    let tape = instrument.tape.iter().flat_map(|t| [Some(t.pull), t.mass, t.section, t.modulus]);
    if tape.flatten().any(|n| !(n.is_finite() && n > 0.0)) {
        return refuse(NotUsable::Tape);
    }
    // What a plan's reader refuses is refused here too.
    let kind = instrument.kind.quantity().unwrap_or(Kind::Length);
    let sizes = [Some(instrument.resolution), instrument.accuracy, instrument.repeatability];
    if sizes.into_iter().flatten().any(|size| !quantity::possible(kind, size)) {
        return refuse(NotUsable::Size(kind));
    }
    if instrument.scale.is_some_and(|s| s > 0.5) || instrument.expansion.is_some_and(|e| e > 1e-3) {
        return refuse(NotUsable::Scale);
    }
    let name = &instrument.name;
    if name.trim() != name
        || name.chars().count() > 80
        || name.contains(['@', ':', '*'])
        || name.contains(char::is_control)
    {
        return refuse(NotUsable::Name);
    }
    if let (Some(checked), Some(due)) = (&instrument.checked, &instrument.due)
        && due < checked
    {
        return refuse(NotUsable::Due);
    }
    Ok(())
}
