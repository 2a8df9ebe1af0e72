//! The closing gate: how many obligations are in which state, and one line for each cause, worst first.

use super::{Listed, marks, paint, wrap};
use assess::view::{Gate, Obligation, ObligationKind, Reason, Verdict};
use record::GateState;
use record::plan::Side;

/// Causes listed unless all are requested.
const MOST: usize = 12;
/// Lines of one cause in the short form.
const LINES: usize = 2;

/// The two lines that can be read from across the room.
pub fn headline(gate: &Gate, side: Side) -> Vec<String> {
    let (clears, holds) = match side {
        Side::Left | Side::Right => ("nothing here prevents closing the skins", "leave the skins off"),
        Side::Both => ("everything the plan asks for is proven", "not everything is proven"),
    };
    let (met, all) = (gate.count(Verdict::Within), gate.obligations.len());
    match gate.state {
        GateState::Clear => {
            vec![format!("GATE   {}: {clears}. {met} of {all} met", paint::strong("CLEAR"))]
        }
        GateState::Hold => {
            let head = format!("GATE   {}: {holds}. {met} of {all} met", paint::reversed("HOLD"));
            vec![head, paint::marks(&wrap::wrap("       ", &unmet(gate).join("   ")))]
        }
    }
}

/// How many are not met, by state, worst first: `▲ 2 outside`.
pub fn unmet(gate: &Gate) -> Vec<String> {
    let states = Verdict::WORST_FIRST.into_iter().filter(|s| *s != Verdict::Within);
    let some = states.filter(|s| gate.count(*s) > 0);
    some.map(|state| format!("{} {} {}", mark(state), gate.count(state), state.obligation_word())).collect()
}

/// The mark of a state, by shape and not by colour.
pub const fn mark(state: Verdict) -> char {
    marks::of(Some(state))
}

/// One line for a cause: its mark, how many obligations it holds up, what it is.
fn cause(reason: &Reason) -> String {
    let first = format!("  {} {:>3} ", mark(reason.state), reason.obligations);
    paint::marks(&wrap::wrap(&first, &reason.words))
}

/// The causes, worst first, each with what would settle it; the first few unless all are requested.
pub fn causes(gate: &Gate, listed: Listed) -> Vec<String> {
    let most = if listed == Listed::All { usize::MAX } else { MOST };
    let mut out = Vec::new();
    for reason in gate.reasons.iter().take(most) {
        out.push(cause(reason));
        out.extend(reason.settles.as_deref().map(|s| wrap::wrap_hang("        -> ", "           ", s)));
    }
    if gate.reasons.len() > most {
        out.push(format!("  and {}; --full lists them", more(gate.reasons.len() - most)));
    }
    out
}

/// The causes, in at most this many lines.
pub fn brief(gate: &Gate, lines: usize) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for (i, reason) in gate.reasons.iter().enumerate() {
        let text = cause(reason);
        let mut cut: Vec<String> = text.lines().take(LINES).map(str::to_owned).collect();
        if text.lines().count() > LINES
            && let Some(last) = cut.last_mut()
        {
            *last = format!("{} ...", wrap::fit(last, wrap::terminal() - 4).trim_end());
        }
        let last = i + 1 == gate.reasons.len();
        if out.len() + cut.len() + usize::from(!last) > lines {
            out.push(format!("  and {}: jigtrue check", more(gate.reasons.len() - i)));
            break;
        }
        out.extend(cut);
    }
    out
}

fn more(n: usize) -> String {
    if n == 1 { "1 cause more".to_owned() } else { format!("{n} causes more") }
}

/// How many of each kind are met.
pub fn tally(gate: &Gate) -> String {
    let of = |kind| gate.obligations.iter().filter(move |o: &&Obligation| o.kind == kind);
    let kinds = ObligationKind::ALL.into_iter().filter(|kind| of(*kind).next().is_some());
    let words = kinds.map(|kind| {
        let met = of(kind).filter(|o| o.state == Verdict::Within).count();
        format!("{} {met}/{}", kind.plural(), of(kind).count())
    });
    wrap::wrap("met    ", &words.collect::<Vec<_>>().join("   "))
}
