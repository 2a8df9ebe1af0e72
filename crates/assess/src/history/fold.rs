//! The fold itself: entries in, what still counts out.

use super::instruments::Instruments;
use super::readings::{Freshness, Profile, Used};
use super::{Before, Disturbs, Edition, Editions, OpenState, Said, Shifted, Visit, Withdrawals, Written};
use record::plan::{EARLIER, Plan};
use record::point::Judgement;
use record::signoff::SignOffs;
use record::{At, Entry, Move, OpenAction, OpenItem, Point, Reading, Rework, StageBegun, What, WingTaken};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// The state after some entries.
#[derive(Clone, Debug)]
pub struct Fold<'p> {
    plan: &'p Plan,
    /// Points that other readings are measured against.
    tilts: BTreeSet<Point>,
    /// Withdrawals, each described when its entry is reached.
    pub withdrawals: Withdrawals,
    /// Number of entries taken in.
    pub entries: u64,
    /// Number of the last entry.
    pub last_seq: u64,
    /// When the last was written.
    pub last_at: Option<At>,
    /// Position of the present stage in the plan.
    pub stage: Option<usize>,
    /// Name of the present stage, even if the plan no longer has it.
    pub stage_name: Option<String>,
    /// Every measured point.
    pub points: BTreeMap<Point, Freshness>,
    /// Profiles that were disturbed, oldest first.
    pub profiles: Vec<Profile>,
    /// What was known about each instrument, and when.
    pub instruments: Instruments,
    /// The stages begun, oldest first.
    pub visits: Vec<Visit>,
    /// Shifts found by a watch.
    pub shifts: Vec<Shifted>,
    /// The plans of the log, if it had more than one.
    pub editions: Vec<Edition>,
    pub reworks: Vec<Said<Rework>>,
    pub moves: Vec<Said<Move>>,
    /// Things left open, in order.
    pub open: Vec<OpenState>,
    /// Sign-offs, and what their signatures are worth.
    pub sign_offs: SignOffs,
    /// Entries dated before the entry that precedes them.
    pub clock_back: Vec<u64>,
    /// The reasons given for replacing the plan.
    pub replanned: Vec<Said<String>>,
    /// Wings whose logs were taken up, each in its latest version.
    pub wings: BTreeMap<String, Said<WingTaken>>,
    /// Remarks.
    pub notes: Vec<Said<String>>,
    /// The start of the log.
    pub started: Option<Said<()>>,
    pub written: Written,
    /// Entries that start the log a second time.
    pub restarted: Vec<u64>,
    /// Readings taken before they had settled.
    pub unsettled: Vec<Said<Point>>,
}

impl<'p> Fold<'p> {
    /// The state before any entry; the plan's instruments are known.
    pub fn new(plan: &'p Plan, withdrawals: Withdrawals) -> Self {
        let mut instruments = Instruments::default();
        plan.instruments.iter().for_each(|i| instruments.enter(0, i));
        Self {
            plan,
            tilts: plan.tilted().into_iter().map(|t| t.tilt).collect(),
            withdrawals,
            entries: 0,
            last_seq: 0,
            last_at: None,
            stage: None,
            stage_name: None,
            points: BTreeMap::new(),
            profiles: Vec::new(),
            instruments,
            visits: Vec::new(),
            shifts: Vec::new(),
            editions: Vec::new(),
            reworks: Vec::new(),
            moves: Vec::new(),
            open: Vec::new(),
            sign_offs: SignOffs::default(),
            clock_back: Vec::new(),
            replanned: Vec::new(),
            wings: BTreeMap::new(),
            notes: Vec::new(),
            started: None,
            written: Written::default(),
            restarted: Vec::new(),
            unsettled: Vec::new(),
        }
    }

    /// Folds all entries.
    pub fn of(plan: &'p Plan, entries: &[Entry]) -> Self {
        let mut fold = Self::new(plan, Withdrawals::of(entries));
        if let Some(Editions { first, later }) = Editions::of(plan, entries) {
            fold.instruments = Instruments::default();
            first.instruments.iter().for_each(|i| fold.instruments.enter(0, i));
            fold.editions = later;
        }
        for entry in entries {
            fold.push(entry);
        }
        fold.drop_doubted();
        fold
    }

    /// Takes in the next entry.
    fn push(&mut self, entry: &Entry) {
        self.entries += 1;
        self.last_seq = entry.seq;
        if self.last_at.is_some_and(|last| entry.at < last) {
            self.clock_back.push(entry.seq);
        }
        self.last_at = Some(entry.at);
        self.written.saw(entry);
        // Must come before anything that could hide it: a sign-off is never withdrawn.
        self.sign_offs.saw(entry);
        if self.withdrawals.contains(entry.seq) {
            self.withdrawals.describe(entry.seq, in_words(&entry.what));
            return;
        }
        match &entry.what {
            What::Reading(reading) => self.reading(entry, reading),
            What::Stage(begun) => self.begin_stage(entry, begun),
            What::Move(made) => self.make_move(entry, made),
            What::Rework(rework) => self.rework(entry, rework),
            What::OpenItem(item) => self.open_item(entry, item),
            What::Instrument(instrument) => self.instruments.enter_alone(entry.seq, instrument),
            What::InstrumentCheck(check) => {
                self.instruments.check(Said::of(entry, check));
            }
            What::Replanned { reason, .. } => self.replan(entry, reason),
            What::Drift { point, shift: Some(_), .. } => {
                self.shifts.push(Shifted { seq: entry.seq, point: point.clone() });
            }
            What::Started { .. } if entry.seq > 1 => self.restarted.push(entry.seq),
            What::Started { .. } => self.started = Some(Said::of(entry, &())),
            What::Wing(taken) => {
                self.wings.insert(taken.name.clone(), Said::of(entry, taken));
            }
            What::Note { text } => self.notes.push(Said::of(entry, text)),
            What::Signed(_) | What::Withdrawn { .. } | What::Drift { .. } => {}
        }
    }

    fn replan(&mut self, entry: &Entry, reason: &String) {
        self.replanned.push(Said::of(entry, reason));
        for facts in self.editions.iter().filter(|e| e.seq == entry.seq).flat_map(|e| &e.plan.instruments) {
            self.instruments.enter(entry.seq, facts);
        }
    }

    fn reading(&mut self, entry: &Entry, reading: &Reading) {
        if reading.unsettled {
            self.unsettled.push(Said::of(entry, &reading.point));
        }
        let used = Used {
            seq: entry.seq,
            at: entry.at,
            by: entry.by.clone(),
            reading: Arc::new(reading.clone()),
            facts: reading.instrument.as_deref().and_then(|name| self.instruments.read(entry.seq, name)),
        };
        let point = self.points.entry(reading.point.clone()).or_default();
        if reading.point.kind().row().is_event(reading.quantity) {
            *point = Freshness { used: vec![used], rounds: 1, ..Freshness::default() };
            return;
        }
        let same_round = point.stale.is_none()
            && point.used.last().is_some_and(|last| {
                last.reading.round == reading.round && last.reading.instrument == reading.instrument
            });
        if same_round {
            point.push(used);
            return;
        }
        let last = std::mem::replace(&mut point.used, vec![used]);
        if self.tilts.contains(&reading.point) && !last.is_empty() {
            if point.former.len() == EARLIER {
                point.former.remove(0);
            }
            point.former.push(last.clone());
        }
        point.more = false;
        let disturbed = point.stale.take().is_some();
        // Only rounds within one stage count together.
        let anew = disturbed || point.rounds == 0;
        point.rounds = if disturbed { 1 } else { (point.rounds + 1).min(EARLIER + 1) };
        if anew {
            point.earlier.clear();
        } else {
            if point.earlier.len() == EARLIER {
                point.earlier.remove(0);
            }
            point.earlier.push(last);
        }
    }

    fn begin_stage(&mut self, entry: &Entry, begun: &StageBegun) {
        let (seq, name) = (entry.seq, begun.name.as_str());
        if let Some(visit) = self.visits.last_mut() {
            visit.ended = Some(seq);
            visit.counted = self.points.iter().filter(|(_, f)| f.counts()).map(|(p, _)| p.clone()).collect();
            let (left, begun) = (self.points.iter(), visit.begun.seq);
            visit.left =
                left.filter(|(_, f)| f.taken_since(begun)).map(|(p, f)| (p.clone(), f.clone())).collect();
        }
        for passed in begun.passed.iter().filter_map(|passed| self.plan.stage(passed)) {
            for item in &passed.open {
                // What became of the same thing at another stage settles nothing here.
                let of_another = |o: &OpenState| {
                    o.last.what.item == *item && o.stage.as_ref().is_some_and(|stage| *stage != passed.name)
                };
                if self.open.iter().any(of_another) {
                    self.left_open(entry, item, &passed.name);
                }
            }
        }
        let stage = self.plan.stage(name);
        if let Some(stage) = stage {
            self.disturb(entry, &format!("{name} began (entry {seq})"));
            for item in &stage.open {
                self.left_open(entry, item, name);
            }
        }
        // Measuring again in a later stage is normal; measuring again in the same one is worth a question.
        self.points.values_mut().for_each(|f| f.rounds = 0);
        self.stage = self.plan.stage_place(name);
        self.stage_name = Some(name.to_owned());
        self.visits.push(Visit {
            begun: Said::of(entry, begun),
            index: self.stage,
            counted: BTreeSet::new(),
            left: BTreeMap::new(),
            before: Vec::new(),
            ended: None,
        });
    }

    /// A stage opens its items again, whatever happened to the same item at another stage, or before the build went
    /// back to it.
    fn left_open(&mut self, entry: &Entry, item: &str, stage: &str) {
        let opened = OpenItem { item: item.to_owned(), action: OpenAction::Opened, reason: None };
        let state = OpenState { last: Said::of(entry, &opened), stage: Some(stage.to_owned()) };
        match self.open.iter_mut().find(|o| o.last.what.item == item) {
            Some(known) => *known = state,
            None => self.open.push(state),
        }
    }

    fn make_move(&mut self, entry: &Entry, made: &Move) {
        self.disturb(entry, &format!("{} was moved (entry {})", made.support, entry.seq));
        self.moves.push(Said::of(entry, made));
    }

    fn rework(&mut self, entry: &Entry, rework: &Rework) {
        self.disturb(entry, &format!("it was worked on: {} (entry {})", rework.what, entry.seq));
        self.reworks.push(Said::of(entry, rework));
    }

    /// Keeps what the present stage found before something is disturbed within it.
    fn keep_before(&mut self, seq: u64, disturbs: &Disturbs<'_>) {
        let Some(visit) = self.visits.last_mut().filter(|v| v.ended.is_none()) else { return };
        let fresh = || self.points.iter().filter(|(_, f)| f.taken_since(visit.begun.seq));
        let whole: BTreeSet<Judgement> = fresh()
            .filter(|(point, _)| disturbs.hits(point))
            .map(|(point, _)| point.kind().row().judgement)
            .filter(|judgement| *judgement != Judgement::OwnLimits)
            .collect();
        let told = |point: &Point| disturbs.hits(point) || whole.contains(&point.kind().row().judgement);
        let points: BTreeMap<Point, Freshness> =
            fresh().filter(|(point, _)| told(point)).map(|(p, f)| (p.clone(), f.clone())).collect();
        if !points.is_empty() {
            visit.before.push(Before { seq, points });
        }
    }

    /// The readings that an entry disturbs become stale.
    fn disturb(&mut self, entry: &Entry, why: &str) {
        let disturbs = Disturbs::by(self.plan, &entry.what);
        self.keep_before(entry.seq, &disturbs);
        let mut profile = BTreeMap::new();
        for (point, freshness) in &mut self.points {
            if freshness.stale.is_some() || freshness.used.is_empty() || !disturbs.hits(point) {
                continue;
            }
            if point.kind().row().judgement == Judgement::Twist {
                profile.insert(point.clone(), freshness.clone());
            }
            freshness.stale = Some(why.to_owned());
        }
        if !profile.is_empty() {
            self.profiles.push(Profile {
                stage: self.stage_name.clone().unwrap_or_else(|| "before the first stage".to_owned()),
                ended_by: entry.seq,
                by_move: if let What::Move(made) = &entry.what { Some(made.clone()) } else { None },
                points: profile,
            });
        }
    }

    fn open_item(&mut self, entry: &Entry, item: &OpenItem) {
        let last = Said::of(entry, item);
        match self.open.iter_mut().find(|o| o.last.what.item == item.item) {
            Some(known) => known.last = last,
            None => self.open.push(OpenState { last, stage: None }),
        }
    }
}

/// A description of an entry, for the list of withdrawals.
fn in_words(what: &What) -> String {
    match what {
        What::Started { .. } => "the start of the log".to_owned(),
        What::Replanned { .. } => "a new plan".to_owned(),
        What::Instrument(i) => format!("instrument {}", i.name),
        What::InstrumentCheck(c) => format!("check of {}", c.instrument),
        What::Reading(r) => format!("{} = {}", r.point, r.text),
        What::Withdrawn { seq, .. } => format!("the withdrawal of entry {seq}"),
        What::Stage(begun) => format!("the start of {}", begun.name),
        What::Move(m) => format!("move of {}, {}", m.support, m.text),
        What::Rework(r) => format!("the rework \"{}\"", r.what),
        What::OpenItem(o) => format!("open item {}", o.item),
        What::Drift { point, .. } => format!("drift watch of {point}"),
        What::Signed(s) => format!("the sign-off of {}", s.who),
        What::Wing(w) => format!("the taking up of {}", w.name),
        What::Note { .. } => "a note".to_owned(),
    }
}
