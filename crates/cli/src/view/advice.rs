//! What to turn and what to mend, at 80 columns: each finding with its moves, their expected result, and cautions.

use super::{gate, paint, wrap};
use assess::advice::{Advice, AdviceState, Axis, Finding, Liked, Remedy, Step};
use assess::view::Verdict;
use quantity::shown::{fixed, turns, turns_only};
use quantity::{Kind, Units};
use session::next::{ToMove, of_remedy};

/// Stations named in a sentence before the rest is counted.
const NAMED: usize = 6;

pub fn text(a: &Advice, units: Units) -> String {
    let mut out = Vec::new();
    if !matches!(a.state, AdviceState::Move) {
        out.push(wrap::wrap("", &a.words.to_string()));
    }
    for finding in &a.findings {
        out.push(one(a, finding, units));
    }
    if a.steps.is_empty() {
        let told = |r: &&String| !a.findings.iter().any(|f| f.mend.contains(r));
        out.extend(a.reasons.iter().filter(told).map(|r| wrap::wrap("  ", r)));
    }
    out.extend(a.learned.iter().map(|l| wrap::wrap("Learned  ", &l.words)));
    out.join("\n")
}

/// The answer that starts from earlier wings, with the figures without them.
pub fn liked(a: &Liked, units: Units) -> String {
    let mut out = vec![text(&a.advice, units), wrap::wrap("Starts ", &format!("{}.", a.like.words))];
    let without = &a.like.without;
    let moves: Vec<&str> = without.steps.iter().map(|s| s.words.as_str()).collect();
    let moves = if moves.is_empty() { without.words.to_string() } else { moves.join("; ") };
    let ratio = |r: Option<f64>| r.map_or_else(|| "-".to_owned(), |r| fixed(r, 2));
    out.push(wrap::wrap("Without", &format!(" {moves}")));
    out.push(wrap::wrap(
        "       ",
        &format!(
            "largest deviation left: {} of its tolerance with them, {} without",
            ratio(a.advice.worst_expected),
            ratio(without.worst_expected)
        ),
    ));
    out.join("\n")
}

/// A finding: what is outside, what to do, and the expected result.
fn one(a: &Advice, f: &Finding, units: Units) -> String {
    let mut words = f.words.clone();
    if !f.with.is_empty() {
        words.push_str(&format!("; with it {}", few(&f.with)));
    }
    let mut out = vec![wrap::wrap_hang(&format!("{} ", mark(f.state)), "  ", &words)];
    let rows: Vec<Move> =
        of_remedy(&f.remedy).into_iter().map(|to_move| Move { to_move, vague: None }).collect();
    match &f.remedy {
        Remedy::Supports => supports(a, f, units, &mut out),
        Remedy::Feet { post, moves, lacks, expect } => {
            out.extend(table(&rows));
            if !lacks.is_empty() || moves.is_empty() {
                out.extend(f.mend.iter().skip(moves.len()).map(|w| wrap::wrap("  ", w)));
            }
            if !moves.is_empty() {
                let angle = units.scale(Kind::Angle);
                let tilt = |e: &assess::advice::TiltExpected| {
                    let name = if e.axis == Axis::Along { "level" } else { "cross" };
                    let after = angle.with_half(e.expected_deg, e.half95_deg);
                    format!("{name} {} -> {}", angle.signed(e.now_deg, after.decimals()), after.signed_with())
                };
                let all: Vec<String> = expect.iter().map(tilt).collect();
                out.push(wrap::wrap("Expect ", &format!("{}.", all.join(", "))));
                out.push(wrap::wrap(
                    "Mind   ",
                    "Turn a little at a time, from foot to foot; a post under load can tip. Hands out from under it.",
                ));
                // The command as it runs; the level lies along the span if that tilt alone is off.
                let along =
                    if expect.iter().all(|e| e.axis == Axis::Along) { " --arrow outboard" } else { "" };
                let listen = format!(
                    "jigtrue listen --port P --instrument level.toml --level {}{along}",
                    quoted(post)
                );
                out.push(wrap::wrap("Then   ", &listen));
                out.extend(rows.first().map(|m| format!(" or    {}, then jigtrue take", m.command())));
            }
        }
        Remedy::Spar { moves, .. } => {
            out.extend(table(&rows));
            out.extend(f.mend.iter().skip(moves.len()).map(|w| wrap::wrap("  ", w)));
            out.extend(rows.first().map(|m| format!("Then   {}, then jigtrue take", m.command())));
        }
        _ => out.extend(f.mend.iter().map(|w| wrap::wrap("  ", w))),
    }
    out.join("\n")
}

fn supports(a: &Advice, f: &Finding, units: Units, out: &mut Vec<String>) {
    let rows: Vec<Move> = a.steps.iter().map(|step| row(step, units)).collect();
    out.extend(table(&rows));
    let told = |w: &&String| !a.steps.iter().any(|s| s.words == **w);
    out.extend(f.mend.iter().filter(told).map(|w| wrap::wrap("  ", w)));
    out.push(wrap::wrap("Expect ", &expected(a, units)));
    for (i, caution) in a.cautions.iter().enumerate() {
        out.push(wrap::wrap(if i == 0 { "Mind   " } else { "       " }, caution));
    }
    if let Some(first) = rows.first() {
        let rest = if rows.len() > 1 { ", each move as it was made" } else { "" };
        out.push(format!("Then   {}{rest}, then jigtrue take", first.command()));
    }
}

/// Setting and washout error after the moves, and the then worst station.
fn expected(a: &Advice, units: Units) -> String {
    let angle = units.scale(Kind::Angle);
    let half = |e: &assess::advice::Expected| (e.upper_deg - e.lower_deg) / 2.0;
    let part = |name: &str, e: &assess::advice::Expected| {
        let after = angle.with_half(e.expected_deg, half(e));
        format!("{name} {} -> {}", angle.signed(e.now_deg, after.decimals()), after.signed_with())
    };
    let moved = |e: &assess::advice::Expected| (e.expected_deg - e.now_deg).abs() > 0.005;
    let mut parts: Vec<String> = Vec::new();
    parts.extend(a.setting.iter().filter(|e| moved(e)).map(|e| part("setting", e)));
    parts.extend(a.washout.iter().map(|e| part("washout error", e)));
    let worst = |of: fn(&assess::advice::Expected) -> f64| {
        a.profile.iter().max_by(|x, y| of(&x.twist_error).abs().total_cmp(&of(&y.twist_error).abs()))
    };
    if let (Some(now), Some(then)) = (worst(|e| e.now_deg), worst(|e| e.expected_deg)) {
        let after = angle.with_half(then.twist_error.expected_deg, half(&then.twist_error));
        parts.push(format!(
            "worst station {} {} -> {} {}",
            now.name,
            angle.signed(now.twist_error.now_deg, after.decimals()),
            then.name,
            after.signed_with()
        ));
    }
    let mut text = format!("{}.", parts.join("; "));
    if let (Some(now), Some(after), Some(at)) = (a.worst_now, a.worst_expected, &a.worst_at) {
        text.push_str(&format!(
            " The largest deviation goes from {now:.1} of its tolerance ({at}) to {after:.1}. No station goes outside by it."
        ));
    }
    text
}

/// A row of the moves.
struct Move {
    to_move: ToMove,
    /// How far it may be off.
    vague: Option<String>,
}

impl Move {
    fn command(&self) -> String {
        let ToMove { support, turns, mm, .. } = &self.to_move;
        let what = match *turns {
            Some(t) => {
                let way = if t < 0.0 { "ccw" } else { "cw" };
                let count = turns_only(t).unwrap_or_default();
                format!("{} {way}", count.trim_end_matches("turns").trim_end_matches("turn").trim_end())
            }
            None => format!("{} mm", quantity::shown::exact(*mm)),
        };
        format!("jigtrue move {} \"{what}\"", quoted(support))
    }
}

fn row(step: &Step, units: Units) -> Move {
    let vague = match (step.give_or_take_turns, step.give_or_take_mm) {
        (Some(t), _) => turns_only(t).map(|t| t.replace(" turns", "").replace(" turn", "")),
        (None, mm) => Some(units.scale(Kind::Length).fixed_with(mm, 1)),
    };
    Move { to_move: step.into(), vague }
}

/// The moves in columns: number, name, turns, effect.
fn table(moves: &[Move]) -> Vec<String> {
    let how = |m: &Move| {
        let ToMove { support, words, .. } = &m.to_move;
        let rest = words.strip_prefix(support).and_then(|r| r.strip_prefix(": ")).unwrap_or(words);
        let (how, does) = rest.rsplit_once(", ").unwrap_or((rest, ""));
        (m.to_move.turns.and_then(turns).unwrap_or_else(|| how.to_owned()), does.to_owned())
    };
    let parts: Vec<(String, String)> = moves.iter().map(how).collect();
    let widest = |of: &dyn Fn(usize) -> usize| (0..moves.len()).map(of).max().unwrap_or(0);
    let name = widest(&|i| wrap::width(&moves[i].to_move.support));
    let turned = widest(&|i| wrap::width(&parts[i].0));
    moves
        .iter()
        .zip(&parts)
        .enumerate()
        .map(|(i, (m, (how, does)))| {
            let vague = m.vague.as_ref().map_or_else(String::new, |v| format!("   give or take {v}"));
            let line = format!(
                "{}   {}   {does}{vague}",
                wrap::fit(&m.to_move.support, name),
                wrap::fit(how, turned)
            );
            wrap::wrap_hang(&format!("  {}  ", i + 1), "     ", &line)
        })
        .collect()
}

fn mark(state: Verdict) -> String {
    paint::verdict(Some(state), &gate::mark(state).to_string())
}

/// A name quoted for a shell.
fn quoted(name: &str) -> String {
    let plain = name.chars().all(|c| c.is_alphanumeric() || matches!(c, '-' | '_' | '.'));
    if plain && !name.is_empty() { name.to_owned() } else { format!("\"{}\"", name.replace('"', "\\\"")) }
}

fn few(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [only] => only.clone(),
        many if many.len() > NAMED => format!("{} and {} more", many[..NAMED].join(", "), many.len() - NAMED),
        [head @ .., last] => format!("{} and {last}", head.join(", ")),
    }
}
