//! Which instrument a group of points is read with.

use crate::input::Input;
use crate::refusal::Refusal;
use crate::show::Show;
use crate::view::instrument::named;
use bench::Target;
use record::Instrument;
use session::{Session, SessionError};
use std::collections::BTreeMap;

/// The instruments chosen in a round, by group of points.
pub struct Gauges {
    named: Option<String>,
    chosen: BTreeMap<String, String>,
}

impl Gauges {
    /// None chosen; `named` comes from `--instrument`.
    pub fn new(named: Option<&str>) -> Self {
        Self { named: named.map(str::to_owned), chosen: BTreeMap::new() }
    }

    /// Points that are read in one go: of one kind, spar and quantity.
    pub fn group(target: &Target) -> String {
        let (kind, spar) = (target.point.kind().word(), target.point.spar().unwrap_or_default());
        format!("{kind} {spar} {}", target.quantity.word())
    }

    /// Asks which instrument it is if several fit, none is named and none was used for this before.
    pub fn choose(
        &mut self,
        session: &Session,
        target: &Target,
        input: &mut Input,
        show: &Show,
    ) -> Result<(), SessionError> {
        let group = Self::group(target);
        if self.chosen.contains_key(&group) || self.fits(session, target)? {
            return Ok(());
        }
        let several = session.instruments_for(target.quantity);
        if several.len() < 2 {
            return Ok(());
        }
        let used = session.instrument_last_used(&target.point, target.quantity);
        if let Some(used) = used.filter(|used| several.iter().any(|i| i.name == used.name)) {
            self.chosen.insert(group, used.name);
            return Ok(());
        }
        if !input.asks() {
            return Ok(());
        }
        let list: Vec<String> = several.iter().zip(1..).map(|(i, n)| format!("{n} {}", named(i))).collect();
        let question =
            format!("\nRead {} with which? {}: ", target.point.kind().row().words, list.join("  "));
        while let Some(line) = input.line(&question, show)? {
            let number = line.parse::<usize>().ok().and_then(|n| several.get(n.checked_sub(1)?));
            let name = || several.iter().find(|i| i.name.eq_ignore_ascii_case(&line));
            if let Some(instrument) = number.or_else(name) {
                self.chosen.insert(group, instrument.name.clone());
                return Ok(());
            }
        }
        Err(Refusal::NoInstrument.into())
    }

    /// Whether the instrument named by `--instrument` reads this.
    fn fits(&self, session: &Session, target: &Target) -> Result<bool, SessionError> {
        let Some(named) = &self.named else { return Ok(false) };
        let known = session.instruments();
        match known.get(named.trim()) {
            Some(instrument) => Ok(instrument.kind.quantity().is_none_or(|q| q == target.quantity)),
            None => Err(session.instrument_unknown(named)),
        }
    }

    /// The name to record a value with; `None` if only one instrument fits.
    pub fn chosen(&self, session: &Session, target: &Target) -> Result<Option<String>, SessionError> {
        if self.fits(session, target)? {
            return Ok(self.named.clone());
        }
        let group = Self::group(target);
        let used = || session.instrument_last_used(&target.point, target.quantity).map(|i| i.name);
        Ok(self
            .chosen
            .get(&group)
            .cloned()
            .or_else(|| if session.instruments_for(target.quantity).len() > 1 { used() } else { None }))
    }

    pub fn instrument(&self, session: &Session, target: &Target) -> Result<Option<Instrument>, SessionError> {
        if let Some(name) = self.chosen(session, target)? {
            return Ok(session.instruments().remove(name.trim()));
        }
        let mut fitting = session.instruments_for(target.quantity);
        Ok(if fitting.len() == 1 { fitting.pop() } else { None })
    }
}
