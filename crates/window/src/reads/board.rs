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

#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    pub kind: ObligationKind,
    pub about: String,
    pub state: Verdict,
    pub words: String,
    /// What it is called in a sentence (`change from S8 to S9`).
    pub what: String,
    /// The value found, in words, if there is one.
    pub found: Option<String>,
    /// The plan's limit for it, in words, if there is one.
    pub limit: Option<String>,
    /// What would settle it, if the program knows.
    pub settles: Option<String>,
    /// Numbers of the entries it depends on.
    pub evidence: Vec<u64>,
    /// The entry at which it was decided, if it was; it then shows what was found at that entry, whatever was
    /// measured later.
    pub decided: Option<u64>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct BoardRow {
    pub name: String,
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
            Item {
                kind: o.kind,
                about: o.about.clone(),
                state: o.state,
                words: o.words.clone(),
                what: o.what.clone(),
                found: o.found.clone(),
                limit: o.limit.clone(),
                settles: cause.and_then(|r| r.settles.clone()),
                evidence: o.evidence.clone(),
                decided,
            }
        };
        let mut list: Vec<Item> = gate.obligations.iter().map(item).collect();
        let mut rows: Vec<BoardRow> = Vec::new();
        for kind in ObligationKind::ALL {
            let states: Vec<_> = list.iter().filter(|i| i.kind == kind).map(|i| i.state).collect();
            if !states.is_empty() {
                rows.push(BoardRow { name: kind.plural().to_owned(), states });
            }
        }
        list.sort_by_key(|i| Reverse(i.state));
        Self { list, rows }
    }

    pub fn of_wings(wings: &[WingView]) -> Self {
        let item = |w: &WingView| Item {
            kind: ObligationKind::Rigging,
            about: w.name.clone(),
            state: w.state,
            words: w.words.clone(),
            what: "its own log".to_owned(),
            found: None,
            limit: None,
            settles: w.settles.clone(),
            evidence: w.taken.iter().map(|t| t.on.entry).collect(),
            decided: None,
        };
        let mut list: Vec<Item> = wings.iter().map(item).collect();
        let rows =
            vec![BoardRow { name: "wings".to_owned(), states: list.iter().map(|i| i.state).collect() }];
        list.sort_by_key(|i| Reverse(i.state));
        Self { list, rows }
    }

    pub fn open(&self) -> usize {
        self.list.iter().filter(|i| i.state != Verdict::Within).count()
    }

    pub fn with(&self, state: Verdict) -> usize {
        self.list.iter().filter(|i| i.state == state).count()
    }
}

impl Item {
    /// What it is about, in words (`twist, S4`).
    pub fn title(&self) -> String {
        let about = &self.about;
        let thing = match self.kind {
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
