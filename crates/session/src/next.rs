//! The next thing to do, as one command: shown first by `check`, the state of the wing and the end of a round.

use assess::Assessment;
use assess::advice::{Advice, AdviceState, Remedy, Step};
use assess::view::{Gate, Verdict};
use quantity::shown::count;
use record::{GateState, OpenAction};

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Next {
    /// The verb and its arguments after the log: `take`, `open-item 27 --close HOW`.
    pub command: String,
    /// What it concerns: `S1 forward, then 23 more`.
    pub why: String,
}

impl Next {
    fn new(command: impl Into<String>, why: impl Into<String>) -> Self {
        Self { command: command.into(), why: why.into() }
    }
}

/// The next thing to do: measure what is wanted, then move or mend what is outside, then begin the next stage, then
/// settle what is left open, then sign.
pub fn next(a: &Assessment, advice: &Advice) -> Next {
    if a.stage.is_none() {
        return Next::new("stage", "says which stage the build is in");
    }
    if let Some(first) = a.wanted.first() {
        let seen = a.points.iter().find(|p| &p.point == first);
        let facing = seen.and_then(|p| p.facing_wanted).map(|f| format!(", facing {}", f.word()));
        let more = match a.wanted.len() - 1 {
            0 => "the last one wanted at this stage".to_owned(),
            n => format!("then {n} more at this stage"),
        };
        return Next::new("take", format!("measure {first}{}; {more}", facing.unwrap_or_default()));
    }
    match advice.state {
        AdviceState::Move => {
            return Next::new("advise", format!("{}, then measure again", in_a_line(advice)));
        }
        AdviceState::Mend | AdviceState::Cannot => return Next::new("advise", advice.words.to_string()),
        AdviceState::Measure | AdviceState::Leave => {}
    }
    if a.stage_verdict.is_some_and(|v| v != Verdict::Within) {
        return Next::new("advise", advice.words.to_string());
    }
    let later = a.stage_number.filter(|n| n.number < n.of);
    if let Some(n) = later {
        return Next::new(
            "stage",
            format!("begins stage {} of {}, when the build gets there", n.number + 1, n.of),
        );
    }
    let open = |o: &&assess::view::OpenItemView| o.action == OpenAction::Opened;
    if let Some(item) = a.open_items.iter().find(open) {
        return Next::new("open-item", format!("settle what is left open, then close it: {}", item.item));
    }
    let held = |gate: &Gate, of: &str| {
        let against = count(gate.reasons.len() as u64, "reason", "reasons");
        Next::new("check --full", format!("{against} against {of}, with what settles each"))
    };
    if a.gate.state == GateState::Clear {
        if a.to_sign().state == GateState::Hold {
            return held(a.to_sign(), "the decision to close, by what is known since");
        }
        if let Some(after) = a.after.as_ref().filter(|gate| gate.state == GateState::Hold) {
            return held(after, "the stages after the closing");
        }
        return if a.signatures.iter().all(|s| s.entries_since > 0) {
            Next::new("sign", "every obligation is met: it can be signed")
        } else {
            Next::new("sheet -o FILE.pdf", "signed; the sheet to hand over")
        };
    }
    held(&a.gate, "closing")
}

#[derive(Clone, Debug, PartialEq)]
pub struct ToMove {
    pub support: String,
    /// The instruction: `tip front: 3 1/4 turns clockwise, raises 4.06 mm`.
    pub words: String,
    /// Turns of its screw, clockwise positive; `None` for shims.
    pub turns: Option<f64>,
    /// How far, in mm, positive up or in the support's direction.
    pub mm: f64,
}

impl From<&Step> for ToMove {
    fn from(step: &Step) -> Self {
        let Step { support, words, turns, amount_mm, .. } = step;
        Self { support: support.clone(), words: words.clone(), turns: *turns, mm: *amount_mm }
    }
}

/// The advised moves, in the order to make them: those of supports, else those of the worst finding with moves.
pub fn moves(advice: &Advice) -> Vec<ToMove> {
    if !advice.steps.is_empty() {
        return advice.steps.iter().map(ToMove::from).collect();
    }
    advice.findings.iter().map(|f| of_remedy(&f.remedy)).find(|m| !m.is_empty()).unwrap_or_default()
}

/// The moves of feet, or of the supports of a bowed spar, that correct a finding.
pub fn of_remedy(remedy: &Remedy) -> Vec<ToMove> {
    let to_move = |support: &String, words: &String, turns, mm| ToMove {
        support: support.clone(),
        words: words.clone(),
        turns,
        mm,
    };
    match remedy {
        Remedy::Feet { moves, .. } => {
            moves.iter().map(|m| to_move(&m.foot, &m.words, m.turns, m.mm)).collect()
        }
        Remedy::Spar { moves, .. } => {
            moves.iter().map(|m| to_move(&m.support, &m.words, m.turns, m.mm)).collect()
        }
        _ => Vec::new(),
    }
}

fn in_a_line(advice: &Advice) -> String {
    let moves: Vec<String> = moves(advice).into_iter().map(|m| m.words).collect();
    if moves.is_empty() { advice.words.to_string() } else { moves.join("; ") }
}
