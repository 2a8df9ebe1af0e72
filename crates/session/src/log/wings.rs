//! Takes up a wing's log into the aeroplane's log, and finds it again later.

use super::open::plan_in_force;
use super::{LogHead, Session, Since, Taken, Verified};
use crate::refusal::Refusal;
use crate::{NotKnown, SessionError, Unknown, shown};
use assess::view::{WingChanged, WingFound};
use assess::{Because, Broken, Chain, Elsewhere, Fold, last_profile};
use journal::Fault;
use record::plan::RigWing;
use record::{Entry, What, WingSigned, WingTaken, Withdrawn};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// The most reasons of a gate that are kept.
const HELD: usize = 6;

/// A wing of the plan and the file of its log, as typed: `left=left.jigtrue`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WingLog {
    /// The wing's name in the plan, or its side.
    pub which: String,
    pub log: PathBuf,
}

/// A text that does not name a wing and its log.
#[derive(Clone, Copy, Debug, thiserror::Error)]
#[error("write WING=LOG, as in left=left.jigtrue")]
pub struct NoWingLog;

impl std::str::FromStr for WingLog {
    type Err = NoWingLog;

    fn from_str(text: &str) -> Result<Self, NoWingLog> {
        match text.split_once('=') {
            Some((which, log)) if !which.trim().is_empty() && !log.trim().is_empty() => {
                Ok(Self { which: which.trim().to_owned(), log: PathBuf::from(log) })
            }
            _ => Err(NoWingLog),
        }
    }
}

impl Session {
    /// Takes up a wing's log: which log it is, what was decided and signed in it, its last profile. It is on disk
    /// when this returns.
    ///
    /// # Errors
    /// If the plan has no such wing, the wing's log cannot be read or is not whole, or nothing can be written. A wing
    /// that was never cleared can still be taken up: the gate then holds and says why.
    pub fn take_up(&mut self, of: &WingLog) -> Result<Taken, SessionError> {
        let name = self.wing_meant(&of.which)?.name.clone();
        let taken = self.taken_from(&name, &of.log)?;
        let entry = self.append(None, &What::Wing(taken))?;
        let assessment = self.assessment();
        let words = assessment.wings.iter().find(|w| w.name == name).map(|w| w.words.clone());
        let ack = format!("{} log taken up. {}", entry.seq, shown(&words.unwrap_or_default()));
        Ok(Taken::new(entry, ack))
    }

    /// Takes up the logs of the wings of a log that was just started; what was said about each.
    ///
    /// # Errors
    /// As [`Session::take_up`], and that the log is started nevertheless.
    pub fn take_up_at_start(&mut self, wings: &[WingLog]) -> Result<Vec<String>, SessionError> {
        let one = |of: &WingLog| match self.take_up(of) {
            Ok(taken) => Ok(taken.ack),
            Err(why) => {
                let (log, which) = (self.path().to_owned(), of.which.clone());
                Err(SessionError::StartedWithout { log, which, why: Box::new(why) })
            }
        };
        wings.iter().map(one).collect()
    }

    /// The wing of the plan that a person means, by its name, or by its side if it is the only one on it.
    fn wing_meant(&self, which: &str) -> Result<&RigWing, SessionError> {
        let wings = &self.plan.rigging.wings;
        if wings.is_empty() {
            return Err(Refusal::NoWings.into());
        }
        if let Some(wing) = wings.iter().find(|w| w.name == which) {
            return Ok(wing);
        }
        let mut of_side = wings.iter().filter(|w| w.side.word().eq_ignore_ascii_case(which));
        if let (Some(wing), None) = (of_side.next(), of_side.next()) {
            return Ok(wing);
        }
        let all: Vec<String> = wings.iter().map(|w| w.name.clone()).collect();
        Err(NotKnown::name(Unknown::Wing { name: which.to_owned(), all: all.clone() }, which, all).into())
    }

    fn taken_from(&self, name: &str, log: &Path) -> Result<WingTaken, SessionError> {
        let wing = Self::open_read_only(log)?;
        if let Chain::Broken(why) = wing.chain {
            return Err(Refusal::BrokenWing(why).into());
        }
        // The file itself must be intact too, not only its entries.
        wing.verify()?;
        if !wing.plan.rigging.wings.is_empty() || wing.plan.wing.side == record::plan::Side::Both {
            return Err(Refusal::NotOfAWing(log.to_owned()).into());
        }
        let assessment = wing.assessment();
        let decided = assessment.decision.as_ref().map(|d| d.on.entry);
        let profile = last_profile(&wing.plan, &Fold::of(&wing.plan, &wing.entries));
        let (stage, stations) = profile.map_or((None, Vec::new()), |last| (Some(last.stage), last.stations));
        let LogHead { entries, hash: head } = wing.head();
        let identity = wing.plan.wing.identity.clone();
        Ok(WingTaken {
            name: name.to_owned(),
            log: self.as_seen_from_here(log),
            wing: wing.plan.wing.name.clone(),
            side: wing.plan.wing.side,
            serial: identity.serial,
            drawing: identity.drawing,
            issue: identity.issue,
            plan_sha256: wing.plan_sha256(),
            first: wing.hash_of(1)?,
            entries,
            head,
            gate: assessment.to_sign().state,
            decided,
            held: assessment.to_sign().reasons.iter().take(HELD).map(|r| r.words.clone()).collect(),
            signed: signed(&wing, decided.unwrap_or(entries)),
            stage,
            stations,
        })
    }

    fn hash_of(&self, entry: u64) -> Result<String, SessionError> {
        let hash = self.journal.hash_at(entry)?;
        Ok(hash.map(|h| h.to_string()).ok_or(Refusal::NoSuchEntry(entry))?)
    }

    /// A file's path relative to the folder of this log; its full path if it is elsewhere.
    fn as_seen_from_here(&self, file: &Path) -> String {
        let whole = std::fs::canonicalize(file).unwrap_or_else(|_| file.to_owned());
        let here = std::fs::canonicalize(self.path()).unwrap_or_else(|_| self.path().to_owned());
        let inside = here.parent().and_then(|folder| whole.strip_prefix(folder).ok().map(Path::to_owned));
        inside.unwrap_or(whole).to_string_lossy().into_owned()
    }

    /// Every wing that was taken up, each in its latest version.
    fn taken_up(&self) -> Vec<&WingTaken> {
        let taken: Vec<&WingTaken> = Withdrawn::others(&self.entries)
            .filter_map(|e| match &e.what {
                What::Wing(taken) => Some(taken),
                _ => None,
            })
            .collect();
        let last = |name: &String| taken.iter().rev().find(|t| t.name == *name).copied();
        self.plan.rigging.wings.iter().filter_map(|w| last(&w.name)).collect()
    }

    /// How the logs of taken-up wings are found now, by the wing's name; `others` says where some are.
    ///
    /// # Errors
    /// If a named wing is not in the plan.
    pub fn wings_found(&self, others: &[WingLog]) -> Result<Elsewhere, SessionError> {
        let named = others.iter().map(|o| Ok((self.wing_meant(&o.which)?.name.clone(), o.log.clone())));
        Ok(self.wings_at(&named.collect::<Result<_, SessionError>>()?))
    }

    /// The same; `named` says where some of the logs are, by the wing's name.
    pub(super) fn wings_at(&self, named: &BTreeMap<String, PathBuf>) -> Elsewhere {
        let folder = self.path().parent().unwrap_or_else(|| Path::new(""));
        let found = |t: &WingTaken| {
            let file = named.get(&t.name).cloned().unwrap_or_else(|| folder.join(&t.log));
            (t.name.clone(), found(t, &file))
        };
        self.taken_up().into_iter().map(found).collect()
    }

    pub fn took_up(&self, wing: &Self) -> bool {
        let is = |t: &&WingTaken| wing.hash_of(t.entries).is_ok_and(|hash| hash == t.head);
        self.taken_up().iter().any(is)
    }
}

/// How many entries since it was taken up may change what was decided; none do once a stage after the closing has begun.
fn bearing(taken: &WingTaken, file: &Path) -> Result<u64, SessionError> {
    let wing = Session::open_read_only(file)?;
    let decided = wing.assessment().decision.as_ref().map_or(u64::MAX, |d| d.on.entry);
    let since = wing.entries.iter().filter(|e| e.seq > taken.entries && e.seq <= decided);
    Ok(since.filter(|e| bears(e)).count() as u64)
}

/// True for an entry that may change what was decided.
const fn bears(entry: &Entry) -> bool {
    !matches!(entry.what, What::Signed(_) | What::Note { .. })
}

/// The sign-offs of a wing's log; entries after `last` do not bear on the decision.
pub(super) fn signed(wing: &Session, last: u64) -> Vec<WingSigned> {
    let all = record::signoff::SignOffs::of(wing.entries.iter());
    let one = |s: &record::signoff::SignOff| {
        let saw = s.signed.entries;
        let then = wing.entries.partition_point(|e| e.seq <= saw);
        WingSigned {
            entry: s.entry,
            who: s.signed.who.clone(),
            capacity: s.signed.capacity.clone(),
            gate: s.signed.gate,
            sound: s.seal.is_sound(),
            same_plan: plan_in_force(&wing.entries[..then]) == Some(wing.plan_text.as_str()),
            uncovered: wing
                .entries
                .iter()
                .filter(|e| e.seq > saw && e.seq <= last)
                .filter(|e| bears(e))
                .count() as u64,
        }
    };
    all.all().iter().map(one).collect()
}

fn found(taken: &WingTaken, file: &Path) -> WingFound {
    found_at(taken, file).unwrap_or_else(not_found)
}

fn found_at(taken: &WingTaken, file: &Path) -> Result<WingFound, SessionError> {
    Ok(match Verified::of(file)?.since(taken.entries, &taken.head)? {
        Since::Same => WingFound::AsTakenUp,
        Since::Earlier(entries) => WingFound::GoneOn { entries, bearing: bearing(taken, file)? },
        Since::Foreign => WingFound::Changed { why: WingChanged::Entry(taken.entries) },
    })
}

/// A log that is surely not there proves nothing, one that is surely something else is not the one taken up; of any
/// other nobody knows which.
fn not_found(why: SessionError) -> WingFound {
    let fault = match &why {
        SessionError::Log(error) => Some(&error.fault),
        _ => None,
    };
    match fault {
        Some(Fault::Missing) => WingFound::NotAtHand,
        Some(Fault::Broken(_) | Fault::Altered(_) | Fault::Damaged(_) | Fault::NotALog(_)) => {
            WingFound::Changed { why: WingChanged::Broken(Broken::new(why, None)) }
        }
        _ => WingFound::Unread { why: Because::new(why) },
    }
}
