//! The board: one mark for each obligation, by kind, in the order of the sheet; and the list, worst first.

use assess::view::{Gate, Obligation, ObligationKind, Verdict, WingView};
use std::cmp::Reverse;

quantity::words! {
    #[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
    pub enum Part {
        /// What the decision to close depends on.
        #[default]
        Closing = "the closing gate",
        /// What the stages after the closing one ask for; it never changes the decision.
        After = "after the closing",
        /// The wings built in a jig, by their own logs.
        Wings = "wings from their jigs",
    }
}

impl Part {
    /// The part's name, short enough for a button.
    pub const fn short(self) -> &'static str {
        match self {
            Self::Closing => "Closing gate",
            Self::After => "After closing",
            Self::Wings => "Wings",
        }
    }
}

/// An obligation as the list shows it.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    pub of: Obligation,
    /// What would settle it, if the program knows.
    pub settles: Option<String>,
    /// The entry at which it was decided, if it was; it then shows what was found at that entry, whatever was
    /// measured later.
    pub decided: Option<u64>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct BoardRow {
    pub name: &'static str,
    /// What was found about each, in the plan's order.
    pub states: Vec<Verdict>,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Board {
    /// All, the worst first.
    pub list: Vec<Item>,
    pub rows: Vec<BoardRow>,
}

impl Board {
    pub fn of(gate: &Gate, decided: Option<u64>) -> Self {
        let item = |o: &Obligation| {
            let cause = gate.reasons.iter().find(|r| Some(&r.cause) == o.cause.as_ref());
            Item { of: o.clone(), settles: cause.and_then(|r| r.settles.clone()), decided }
        };
        Self::sorted(gate.obligations.iter().map(item).collect(), ObligationKind::plural)
    }

    pub fn of_wings(wings: &[WingView]) -> Self {
        let item = |w: &WingView| Item {
            of: Obligation {
                kind: ObligationKind::Rigging,
                about: w.name.clone(),
                state: w.state,
                words: w.words.clone(),
                what: "its own log".to_owned(),
                evidence: w.taken.iter().map(|t| t.on.entry).collect(),
                found: None,
                limit: None,
                conforms: None,
                cause: None,
                of_stage: false,
            },
            settles: w.settles.clone(),
            decided: None,
        };
        Self::sorted(wings.iter().map(item).collect(), |_| "wings")
    }

    fn sorted(mut list: Vec<Item>, named: impl Fn(ObligationKind) -> &'static str) -> Self {
        let row = |kind| {
            let of_kind = list.iter().filter(|i| i.of.kind == kind);
            BoardRow { name: named(kind), states: of_kind.map(|i| i.of.state).collect() }
        };
        let rows = ObligationKind::ALL.map(row).into_iter().filter(|row| !row.states.is_empty()).collect();
        list.sort_by_key(|i| Reverse(i.of.state));
        Self { list, rows }
    }

    /// Those in this state.
    pub fn with(&self, state: Verdict) -> impl Iterator<Item = &Item> {
        self.list.iter().filter(move |i| i.of.state == state)
    }

    pub fn open(&self) -> usize {
        self.list.len() - self.met()
    }

    pub fn met(&self) -> usize {
        self.with(Verdict::Within).count()
    }
}

impl Item {
    /// What it is about, in words (`twist, S4`).
    pub fn title(&self) -> String {
        let about = &self.of.about;
        let thing = match self.of.kind {
            ObligationKind::Stage => "stage",
            ObligationKind::Level => "along the span,",
            ObligationKind::Cross => "fore and aft,",
            ObligationKind::Setting => return "setting of the wing".to_owned(),
            ObligationKind::Washout => return "washout error".to_owned(),
            ObligationKind::Neighbour => return "steps of twist".to_owned(),
            ObligationKind::Station => "twist,",
            ObligationKind::Straightness => "straight,",
            ObligationKind::Spacing => "spacing,",
            ObligationKind::Square => "square,",
            ObligationKind::Clearance => "clearance,",
            ObligationKind::Spot => "spot,",
            ObligationKind::Rigging => return about.clone(),
            ObligationKind::Point => "reading,",
            ObligationKind::Instrument => "instrument,",
            ObligationKind::OpenItem => "left open:",
            ObligationKind::Record => return "the log itself".to_owned(),
        };
        format!("{thing} {about}")
    }
}
