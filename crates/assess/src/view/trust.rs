//! What an inspector looks for first: instruments, zeros, moves, withdrawals, open items, sign-offs, doubts.

use super::{EntryView, StageFinding, Verdict};
use quantity::Kind;
use quantity::shown::counted;
use record::SignedText;
use record::signoff::{Seal, SignOff, SignOffs};
use record::{GateState, OpenAction};
use serde::{Serialize, Serializer};

/// An instrument used.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct InstrumentView {
    pub name: String,
    pub number: Option<String>,
    /// The quantity of the figures below; its base unit in JSON, empty if it is not certain.
    #[serde(serialize_with = "unit_if_any")]
    pub unit: Option<Kind>,
    /// Step of its display.
    pub resolution: f64,
    /// Limit of error stated.
    pub accuracy: Option<f64>,
    /// Standard deviation of a seating.
    pub repeatability: Option<f64>,
    /// Day of its last check.
    pub checked: Option<String>,
    /// Day its check runs out.
    pub due: Option<String>,
    /// Readings in use that were taken with it.
    pub readings: usize,
    /// Readings in use taken after its check ran out.
    pub past_due: usize,
}

fn unit_if_any<S: Serializer>(kind: &Option<Kind>, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(kind.map_or("", Kind::base_symbol))
}

/// A zero found by reversal in one round.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ZeroView {
    pub instrument: String,
    pub round: u32,
    /// Number of pairs behind it.
    pub pairs: usize,
    /// Mean zero in degrees.
    pub zero_deg: f64,
    /// Its standard uncertainty.
    pub u_deg: f64,
    /// Largest less smallest among the pairs.
    pub spread_deg: f64,
    /// Whether it moved within the round by more than measurement.
    pub moved: bool,
}

/// A stage that was begun.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StageView {
    #[serde(flatten)]
    pub on: EntryView,
    pub name: String,
    /// The stages skipped on the way to it.
    pub passed: Vec<String>,
    /// What was not met when it began.
    pub unmet: Vec<String>,
    /// Why the build went on anyway.
    pub reason: Option<String>,
    /// The last entry of the stage.
    pub last_entry: u64,
    /// The worst of what it required and measured, as of its end; `None` if it did neither.
    pub verdict: Option<Verdict>,
    /// What it measured, as of its end.
    pub found: Vec<StageFinding>,
}

/// A move made.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MoveView {
    /// The support or foot.
    pub support: String,
    /// How far, positive in its direction.
    pub amount_mm: f64,
    /// As written.
    pub text: String,
}

/// An entry withdrawn.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WithdrawnView {
    /// Number of the entry withdrawn.
    pub entry: u64,
    /// What it was.
    pub what: String,
    /// The entry that withdrew it.
    pub withdrawn_by: u64,
    /// When it was withdrawn.
    pub at: String,
    /// When, as its writer's clock showed it.
    pub when: String,
    /// By whom.
    pub by: String,
    /// Why.
    pub reason: String,
}

/// A thing left open.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OpenItemView {
    /// The last entry about it.
    pub entry: u64,
    /// When, as its writer's clock showed it.
    pub when: String,
    /// By whom.
    pub by: String,
    /// The thing.
    pub item: String,
    /// What was done last.
    pub action: OpenAction,
    /// The reason, or what closed it.
    pub reason: Option<String>,
    /// The stage that left it open, if any.
    pub stage: Option<String>,
}

/// A sign-off.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SignView {
    /// Entry number.
    pub entry: u64,
    /// When, in UTC.
    pub at: String,
    /// When, as its writer's clock showed it: `2031-06-09 16:20 +02:00`.
    pub when: String,
    /// Who signed.
    pub who: String,
    /// Who wrote the entry.
    pub by: String,
    pub capacity: String,
    pub statement: String,
    /// The gate's state then.
    pub gate: GateState,
    /// Whether that state follows the rule of version 0.1, which required less.
    pub rule_0_1: bool,
    /// How many entries it covers.
    pub entries: u64,
    /// Head of the chain then, hexadecimal.
    pub head: String,
    /// Public key, if signed with one.
    pub key: Option<String>,
    /// The result of checking the signature.
    pub seal: Seal,
    /// The entry it is a copy of, if any.
    pub copy_of: Option<u64>,
    /// Earlier entries that it does not cover.
    pub entries_uncovered: u64,
    /// Entries written since what it covers, not counting itself.
    pub entries_since: u64,
}

impl SignView {
    /// One of a log's sign-offs.
    pub fn of(all: &SignOffs, one: &SignOff) -> Self {
        let signed = &one.signed;
        Self {
            entry: one.entry,
            at: one.when.at.to_string(),
            when: one.when.to_string(),
            who: signed.who.clone(),
            by: one.by.clone(),
            capacity: signed.capacity.clone(),
            statement: signed.statement.clone(),
            gate: signed.gate,
            rule_0_1: signed.text == SignedText::First,
            entries: signed.entries,
            head: signed.head.clone(),
            key: one.key().map(str::to_owned),
            seal: one.seal,
            copy_of: one.copy_of,
            entries_uncovered: one.uncovered,
            entries_since: all.since(one),
        }
    }

    /// What to know about the signature, as text: the key, whether it fits, what it does not cover.
    pub fn seal_words(&self) -> String {
        let mut words = match (&self.key, self.copy_of) {
            (_, Some(of)) => format!("COPY of the sign-off in entry {of}"),
            (Some(key), None) => {
                format!("key {}: {}", key.get(..8).unwrap_or(key), self.seal.word())
            }
            (None, None) => self.seal.word().to_owned(),
        };
        match self.entries_uncovered {
            0 => {}
            1 => words.push_str("; DOES NOT COVER the entry before it"),
            n => words.push_str(&format!("; DOES NOT COVER the {n} entries before it")),
        }
        if self.rule_0_1 {
            words.push_str("; by the rule of version 0.1");
        }
        words
    }

    /// What came after it, as text.
    pub fn since_words(&self) -> String {
        match self.entries_since {
            0 => "nothing after".to_owned(),
            n => format!("{} after", counted(n, "entry", "entries")),
        }
    }
}

/// What sort of doubt it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum DoubtKind {
    /// A clock went backwards.
    Clock,
    /// A reading was taken before it settled.
    Unsettled,
    /// A point was measured again in the same stage.
    Repeated,
    /// An instrument was past its check date.
    PastDue,
    /// A zero moved within a round.
    ZeroMoved,
    /// A reading has no instrument.
    NoInstrument,
    /// The rule is looser than the default.
    Rule,
    /// The plan was replaced.
    Replanned,
    /// A thing left open was carried past.
    Carried,
    /// A stage was begun with something unmet, or was skipped.
    Stage,
    /// A check of an instrument failed.
    FailedCheck,
    /// An instrument has no check date.
    NoCheckDate,
    /// An instrument states no accuracy.
    NoAccuracy,
    /// A watch found a shift.
    Shift,
    /// Readings or rounds contradict each other.
    Contradiction,
    /// Somebody was asked about a value and kept it.
    Asked,
    /// Left and right were not compared.
    LeftRight,
    /// Something came after the decision to close.
    Later,
}

/// Something an inspector would distrust.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Doubt {
    /// What sort it is.
    pub kind: DoubtKind,
    /// The sentence for a person.
    pub words: String,
}
