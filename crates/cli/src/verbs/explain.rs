//! `plan --explain`: what a kind of point is, how it is measured, its sign, and where it is on this wing.

use crate::exit::Exit;
use crate::show::Show;
use crate::view::wrap::wrap;
use quantity::{Kind, Units};
use record::plan::{Plan, Tolerances};
use record::point::Judgement;
use record::{Limits, PointKind};
use serde::Serialize;
use session::{NotKnown, SessionError, Unknown, shown};

#[derive(Serialize)]
struct Answer {
    kind: &'static str,
    words: &'static str,
    unit: &'static str,
    how: &'static str,
    sign: &'static str,
    typed: &'static str,
    here: Option<String>,
}

/// Explains a kind of point; with a plan also where it is there.
///
/// # Errors
/// If there is no such kind; the nearest is suggested.
pub fn explain(word: &str, plan: Option<&Plan>, show: &Show) -> Result<Exit, SessionError> {
    let asked = word.trim().split('@').next().unwrap_or_default().to_lowercase();
    let Some(kind) = PointKind::all().find(|kind| kind.word() == asked) else {
        let nearest = quantity::nearest(&asked, PointKind::all().map(PointKind::word)).map(str::to_owned);
        return Err(NotKnown { what: Unknown::Kind(asked), nearest }.into());
    };
    let row = kind.row();
    let explained = row.explained;
    let unit = row.quantity.map_or("", Kind::base_symbol);
    let units = show.units(plan.map_or(Units::INSIDE, |plan| plan.units));
    let shown_in = row.quantity.map_or("", |kind| units.scale(kind).head());
    let here = plan.map(|plan| here(kind, plan, units));
    let answer = Answer {
        kind: kind.word(),
        words: row.words,
        unit,
        how: explained.how,
        sign: explained.sign,
        typed: explained.typed,
        here: here.clone(),
    };
    let text = || {
        let in_unit = if unit.is_empty() { String::new() } else { format!(", in {shown_in}") };
        let mut out =
            vec![format!("{:<28} {}{in_unit}", format!("{}@{}", kind.word(), explained.at), row.words)];
        out.push(wrap("How    ", explained.how));
        out.push(wrap("Sign   ", explained.sign));
        if kind.reverses() {
            out.push(wrap(
                "Zero   ",
                "A pair takes out the instrument's own zero. One facing alone puts all of its stated accuracy into the level or the \
                 setting; the twist does not feel it.",
            ));
        }
        out.push(format!("Type   {}", explained.typed));
        out.extend(here.as_ref().map(|here| wrap("Here   ", &shown(here))));
        out.join("\n")
    };
    show.done(text, &answer)
}

/// Where a kind is on a wing, its limits, and the stages that require it.
fn here(kind: PointKind, plan: &Plan, units: Units) -> String {
    let places: Vec<String> = plan
        .points()
        .into_iter()
        .filter(|p| p.kind() == kind)
        .map(|p| match p.spar() {
            Some(spar) => format!("{spar}:{}", p.place()),
            None => p.place().to_owned(),
        })
        .collect();
    let (Some(first), Some(last)) = (places.first(), places.last()) else {
        return "none in this plan.".to_owned();
    };
    let mut text = if first == last {
        format!("{first}.")
    } else {
        format!("{first} to {last}, {} in all.", places.len())
    };
    let limits = tolerances(kind, &plan.tolerances, units);
    if !limits.is_empty() {
        text.push_str(&format!(" Limits: {}.", limits.join(", ")));
    }
    let of = |points: &[record::Point]| points.iter().filter(|p| p.kind() == kind).count();
    let wanted: Vec<String> = plan
        .stages
        .iter()
        .filter(|s| of(&s.requires) > 0)
        .map(|s| format!("{} ({})", s.name, of(&s.requires)))
        .collect();
    if !wanted.is_empty() {
        text.push_str(&format!(" Wanted in {}.", wanted.join(", ")));
    }
    let stale: Vec<&str> =
        plan.stages.iter().filter(|s| of(&s.disturbs) > 0).map(|s| s.name.as_str()).collect();
    if !stale.is_empty() {
        text.push_str(&format!(" Made stale by {}.", stale.join(", ")));
    }
    text
}

/// The limits for a kind, as text.
pub(super) fn tolerances(kind: PointKind, t: &Tolerances, units: Units) -> Vec<String> {
    let (angle, length) = (units.scale(Kind::Angle), units.scale(Kind::Length));
    let degrees = |name: &str, l: Option<Limits<quantity::Degrees>>| {
        let l = l?.values();
        let text = angle.limits_with(l.lower, l.upper)?;
        Some(format!("{name} {text}"))
    };
    let all = match kind.row().judgement {
        Judgement::Level => vec![degrees("level", t.level)],
        Judgement::Cross => vec![degrees("cross", t.cross)],
        Judgement::Square => vec![degrees("square", t.square)],
        Judgement::Spacing => vec![t.spacing.and_then(|l| {
            let l = l.values();
            let text = length.limits_with(l.lower, l.upper)?;
            Some(format!("spacing {text}"))
        })],
        Judgement::Straightness => {
            vec![t.straightness.map(|s| format!("straightness {}", length.exact_with(s.value())))]
        }
        Judgement::Twist => vec![
            degrees("station", t.station),
            degrees("step to the next", t.neighbour),
            degrees("setting", t.setting),
            degrees("washout error", t.washout),
        ],
        _ => Vec::new(),
    };
    all.into_iter().flatten().collect()
}
