//! Signing: read, judged and written under one lock, so that no entry comes between.

use super::open::{Read, read_to_judge};
use super::write::worded;
use super::{Session, Taken};
use crate::not_done::NotSigned;
use crate::refusal::Refusal;
use crate::{SessionError, keys, shown};
use assess::view::Gate;
use assess::{Chain, Elsewhere};
use journal::Locked;
use quantity::shown::counted;
use record::{GateState, Signed, SignedText, What, signoff};
use std::path::PathBuf;

#[derive(Clone, Debug, Default)]
pub struct Sign {
    /// Who signs; the session's person if not given.
    pub who: Option<String>,
    /// In what capacity (`builder`, `inspector`).
    pub capacity: String,
    pub statement: String,
    /// Whether to sign a log as seen while its gate holds.
    pub as_seen: bool,
    /// A key file, if the signature should be cryptographic.
    pub key: Option<PathBuf>,
}

impl Session {
    /// Signs the log as it is. A log whose gate holds is signed as seen, never as clear.
    ///
    /// The log is locked before it is read: other writers wait, and the sign-off is the next entry after the last one
    /// it covers.
    ///
    /// # Errors
    /// If the gate holds and `as_seen` is not set, something required is missing, or the key cannot be read.
    pub fn sign(&mut self, sign: Sign) -> Result<Taken, SessionError> {
        self.sign_while(sign, || ())
    }

    /// The same, calling `judged` between judging and writing, while the log is locked.
    ///
    /// # Errors
    /// As [`Session::sign`].
    pub fn sign_while(&mut self, sign: Sign, judged: impl FnOnce()) -> Result<Taken, SessionError> {
        let who = self.person(sign.who.as_deref())?;
        let capacity = worded(&sign.capacity, Refusal::NoCapacity)?;
        let statement = worded(&sign.statement, Refusal::NoStatement)?;
        let secret = sign.key.as_deref().map(keys::secret).transpose()?;
        let elsewhere = self.wings_found(&[])?;
        let locked = self.journal.lock()?;
        let gate = gate_of(&locked, &elsewhere)?;
        if gate.state == GateState::Hold && !sign.as_seen {
            return Err(NotSigned::Holds(Box::new(gate)).into());
        }
        judged();
        let seen = locked.head();
        if let Some(last) = locked.journal().latest_of_kind("signed")?.filter(|last| last.seq == seen.seq)
            && let What::Signed(before) = &last.what
            && (&before.who, &before.capacity, &before.statement) == (&who, &capacity, &statement)
            && before.key.is_some() == secret.is_some()
        {
            return Err(Refusal::SignedAlready { who, entry: last.seq }.into());
        }
        let mut signed = Signed {
            who: who.clone(),
            capacity,
            statement,
            gate: gate.state,
            entries: seen.seq,
            head: seen.hash.to_string(),
            text: SignedText::Second,
            key: None,
            signature: None,
        };
        let when = self.clock.when();
        if let Some(secret) = &secret {
            signed = signoff::sealed(signed, when, &who, secret);
        }
        let head = locked.append(when, &who, &What::Signed(signed))?;
        let as_what = if gate.state == GateState::Clear { "clear" } else { "seen, on hold" };
        let ack = format!("{} signs {} as {as_what}", shown(&who), counted(seen.seq, "entry", "entries"));
        Ok(Taken::new(self.read_back(head.seq)?, ack))
    }
}

/// The gate from everything in the locked log.
fn gate_of(locked: &Locked<'_>, elsewhere: &Elsewhere) -> Result<Gate, SessionError> {
    let Read { entries, passed, chain, .. } = read_to_judge(locked.journal(), u64::MAX)?;
    if let Chain::Broken(why) = chain {
        return Err(NotSigned::Broken(why).into());
    }
    let plan = super::open::plan_of(&entries, locked.journal().path(), &chain)?;
    let part = assess::Part { entries: &entries, passed };
    Ok(assess::assess_part(&plan, &part, &chain, elsewhere, assess::Stages::Named).to_sign().clone())
}

#[cfg(test)]
mod tests;
