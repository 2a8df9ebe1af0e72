//! Every reason to hold, and what an inspector would distrust.

use crate::flow::{Cell, Column, Flow, Row, Style, Table};
use assess::view::{Doubt, DoubtKind, Gate, ReasonKind};

/// The word for a sort of reason.
pub(super) const fn reason_word(kind: ReasonKind) -> &'static str {
    match kind {
        ReasonKind::Chain => "log",
        ReasonKind::Stage => "stage",
        ReasonKind::Outside => "outside",
        ReasonKind::CannotJudge => "cannot be judged",
        ReasonKind::Doubtful => "doubtful",
        ReasonKind::Missing => "missing",
        ReasonKind::Stale => "stale",
        ReasonKind::Undecided => "undecided",
        ReasonKind::Open => "left open",
        ReasonKind::Remeasure => "measure again",
    }
}

/// Every reason to hold, where the first page has no room for all of them.
pub(crate) fn reasons(flow: &mut Flow<'_>, gate: &Gate) {
    flow.section("Every reason to hold", 40.0, |flow| {
        let row = |(i, reason): (usize, &assess::view::Reason)| {
            Row::new(vec![
                Cell::text((i + 1).to_string()),
                Cell::Strong(reason_word(reason.kind).to_owned()),
                Cell::maybe(reason.about.as_deref()),
                Cell::text(reason.words.as_str()),
            ])
        };
        flow.table(&Table {
            name: "Every reason to hold",
            columns: vec![
                Column::count(""),
                Column::text("because", 70.0),
                Column::text("about", 130.0),
                Column::words("reason", 1.0),
            ],
            rows: gate.reasons.iter().enumerate().map(row).collect(),
            size: 8.0,
        });
    });
}

const fn doubt_word(kind: DoubtKind) -> &'static str {
    match kind {
        DoubtKind::Clock => "clock",
        DoubtKind::Unsettled => "unsettled",
        DoubtKind::Repeated => "repeated",
        DoubtKind::PastDue => "past its check",
        DoubtKind::ZeroMoved => "zero moved",
        DoubtKind::NoInstrument => "no instrument",
        DoubtKind::Rule => "looser rule",
        DoubtKind::Replanned => "plan replaced",
        DoubtKind::Carried => "carried past",
        DoubtKind::Stage => "stage",
        DoubtKind::FailedCheck => "failed check",
        DoubtKind::NoCheckDate => "no check date",
        DoubtKind::Shift => "shift",
        DoubtKind::Contradiction => "contradiction",
        DoubtKind::Asked => "asked about",
        DoubtKind::LeftRight => "left and right",
        DoubtKind::Later => "after the decision",
    }
}

/// What an inspector would distrust; says so if there is nothing.
pub(crate) fn doubts(flow: &mut Flow<'_>, doubts: &[Doubt]) {
    flow.section("Doubts", 30.0, |flow| {
        if doubts.is_empty() {
            let words = "None found: no clock that went backwards, no reading taken unsettled or without an instrument, \
                         none repeated within the stage, no instrument past its check, no zero that moved, no rule looser \
                         than the usual, no plan replaced, nothing carried past the gate.";
            flow.paragraph(words, Style::BODY);
            return;
        }
        flow.table(&Table {
            name: "Doubts",
            columns: vec![Column::text("look at", 90.0), Column::words("what was found", 1.0)],
            rows: doubts
                .iter()
                .map(|d| Row::new(vec![Cell::Strong(doubt_word(d.kind).to_owned()), Cell::text(d.words.as_str())]))
                .collect(),
            size: 8.0,
        });
    });
}
