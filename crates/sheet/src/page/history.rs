//! The history: what each stage found and what was moved, everything that was changed with old and new, and whether
//! anything moved since the stage before.

use super::Sheet;
use super::stages::{called, shown};
use super::verdict::{cut, shrunk};
use super::words::{capital, count, entries, few, spaced};
use crate::draw::{Pen, Role, Shape};
use crate::flow::{Area, Break, Canvas, Cell, Column, Row, Stack, Stretch, Table};
use crate::plot::{Dot, Dots, Legend, Ticks, legend};
use crate::text::Face;
use assess::view::{ObligationKind as K, ObligationState as State, StageFinding, StageView};
use quantity::shown::{K95, WithU, exact};
use record::OpenAction;
use record::plan::Side;
use std::collections::BTreeMap;

/// The chapter of the history.
pub(super) const CHAPTER: &str = "history";
/// Pictures at most: the first and the last five.
const PICTURES: usize = 6;
/// Pictures a row.
const ACROSS: usize = 3;

pub(super) fn page<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    stack.chapter(Break::Full(CHAPTER));
    counts(s, stack);
    pictures(s, stack);
    changed(s, stack);
    since(s, stack);
}

/// Six counts in a frame.
fn counts<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let a = s.a;
    let passed: usize = a.stages.iter().map(|v| v.passed.len()).sum();
    let begun = a.stages.len();
    let carried = a.open_items.iter().filter(|i| i.action == OpenAction::Carried).count();
    let open = a.open_items.iter().filter(|i| i.action == OpenAction::Opened).count();
    let looser = a.plan_changes.iter().filter(|c| c.looser).count();
    let mut moved: Vec<&str> = a.moves.iter().map(|m| m.support.as_str()).collect();
    moved.sort_unstable();
    moved.dedup();
    let none = |n: usize, text: String| if n == 0 { "nothing".to_owned() } else { text };
    let cells: [(&str, String, String); 6] = [
        (
            "Stages",
            begun.to_string(),
            if passed == 0 { "none skipped".to_owned() } else { format!("{passed} passed over") },
        ),
        (
            "Carried past",
            none(carried, carried.to_string()),
            if open > 0 { format!("{open} still open") } else { "open on purpose".to_owned() },
        ),
        (
            "Plan changed",
            none(a.replans.len(), count(a.replans.len(), "time", "times")),
            if looser == 0 { "no limit looser".to_owned() } else { format!("{looser} looser") },
        ),
        (
            "Reworked",
            none(a.reworks.len(), a.reworks.len().to_string()),
            a.reworks.first().map_or_else(String::new, |r| r.what.clone()),
        ),
        (
            "Moved",
            none(a.moves.len(), count(a.moves.len(), "time", "times")),
            if moved.len() > 1 { count(moved.len(), "place", "places") } else { moved.concat() },
        ),
        (
            "Withdrawn",
            none(a.withdrawn.len(), count(a.withdrawn.len(), "entry", "entries")),
            if a.withdrawn.is_empty() { String::new() } else { "listed with reasons".to_owned() },
        ),
    ];
    stack.fixed(44.0, move |canvas, area| {
        let wide = area.width / 6.0;
        let frame = Shape::rect(area.x, area.y + 3.0, area.width, 38.0, None, Some(Pen::LIMIT));
        canvas.furnish(vec![frame]);
        for (i, (what, n, more)) in cells.iter().enumerate() {
            #[expect(clippy::cast_precision_loss, reason = "six cells")]
            let x = area.x + i as f64 * wide + 7.0;
            let room = wide - 12.0;
            let size = shrunk(canvas.set, 13.0, 9.0, n, room);
            let more = cut(canvas.set, 8.0, Face::Medium, more, room);
            if i > 0 {
                canvas.furnish(vec![Shape::line(x - 7.0, area.y + 8.0, x - 7.0, area.y + 36.0, Pen::ROW)]);
            }
            canvas.said(
                Role::Paragraph,
                vec![
                    Shape::text(x, area.y + 12.5, 8.0, Face::Medium, *what),
                    Shape::text(x, area.y + 25.0, size, Face::SemiBold, n.as_str()),
                    Shape::text(x, area.y + 36.5, 8.0, Face::Medium, more),
                ],
            );
        }
    });
}

/// A stage's picture with its words.
#[derive(Clone)]
struct Picture {
    title: String,
    line: String,
    dots: Option<Dots>,
    words: Vec<(Face, String)>,
}

fn pictures<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let all: Vec<(usize, &StageView)> = s.a.stages.iter().enumerate().collect();
    if all.is_empty() {
        stack.heading("What each stage found, and what was moved", "", None);
        stack.paragraph("", "No stage has begun.");
        return;
    }
    let (chosen, note): (Vec<_>, _) = if all.len() > PICTURES {
        let left = all.len() - PICTURES;
        let last = all.iter().skip(left + 1);
        let note = format!("the first and the last {} of {}", PICTURES - 1, all.len());
        (all.iter().take(1).chain(last).copied().collect(), note)
    } else {
        (all, format!("same scale and span in every twist picture; {}", s.tip()))
    };
    stack.heading("What each stage found, and what was moved", &note, None);
    let twist_values: Vec<f64> = chosen
        .iter()
        .flat_map(|(_, v)| v.found.iter().filter(|f| f.kind == K::Station))
        .flat_map(|f| [f.value - K95 * f.u, f.value + K95 * f.u].into_iter().chain(f.before.map(|b| b.value)))
        .collect();
    let pictures: Vec<Picture> = chosen.iter().map(|(i, v)| picture(s, *i, v, &twist_values)).collect();
    for row in pictures.chunks(ACROSS) {
        let row = row.to_vec();
        stack.stretched(150.0, Stretch::Plot(215.0), move |canvas, area| {
            let gap = 5.3 * 72.0 / 25.4;
            let wide = (area.width - 2.0 * gap) / 3.0;
            for (i, picture) in row.iter().enumerate() {
                #[expect(clippy::cast_precision_loss, reason = "three pictures")]
                let x = area.x + i as f64 * (wide + gap);
                draw(canvas, picture, Area { x, width: wide, ..area });
            }
        });
    }
    stack.fixed(15.0, |canvas, area| {
        let entries = [
            (Legend::Station(State::Met), "as left at the end of the stage, 95 %".to_owned()),
            (Legend::Before, "before the move or rework".to_owned()),
            (Legend::Beyond, "beyond the limit".to_owned()),
        ];
        let shapes = legend(canvas.set, area, &entries);
        canvas.said(Role::Paragraph, shapes);
    });
    if s.a.stages.len() > PICTURES {
        stack.heading("Every stage", "", None);
        stack.table(Table {
            name: "Every stage".to_owned(),
            columns: s.stage_columns(),
            rows: s.stage_rows(),
        });
    }
}

fn picture(s: &Sheet<'_>, index: usize, v: &StageView, twist_values: &[f64]) -> Picture {
    let dots = dots(s, v, twist_values);
    let moved = s.moved(v).map_or_else(|| "Moved: nothing.".to_owned(), |m| format!("{}.", capital(&m)));
    let strong = match s.first_found(v) {
        Some((f, was)) => format!("Found: {} {was}.", called(f)),
        None => match v.found.iter().find(|f| f.kind == K::Washout) {
            Some(f) => {
                let verdict = f.verdict.map_or(String::new(), |w| format!(", {}", w.word()));
                format!("Washout error {}{verdict}.", shown(f))
            }
            None => worst(v).map_or_else(
                || "Nothing was measured.".to_owned(),
                |f| format!("{} {}.", capital(&called(f)), shown(f)),
            ),
        },
    };
    let left = v.verdict.map_or("nothing asked", assess::Verdict::word);
    Picture {
        title: format!("{} {}", index + 1, v.name),
        line: format!("{} · {} · {}", s.minute(&v.when), v.by, entries(v.entry..=v.last_entry)),
        dots,
        words: vec![
            (Face::SemiBold, strong),
            (Face::Medium, moved),
            (Face::Medium, format!("Left: {} {left}.", Sheet::measured(v))),
        ],
    }
}

/// The finding of a stage with the worst verdict.
fn worst(v: &StageView) -> Option<&StageFinding> {
    v.found.iter().max_by_key(|f| (f.verdict, core::cmp::Reverse(f.first_entry)))
}

/// What a stage measured most of: the twist, else values with the same limits.
fn dots(s: &Sheet<'_>, v: &StageView, twist_values: &[f64]) -> Option<Dots> {
    let stations = v.found.iter().any(|f| f.kind == K::Station);
    let group = |f: &StageFinding| {
        let kind = if f.kind == K::Cross { K::Level } else { f.kind };
        (kind, f.lower.map(f64::to_bits), f.upper.map(f64::to_bits))
    };
    let shown: Vec<&StageFinding> = if stations {
        v.found.iter().filter(|f| f.kind == K::Station).collect()
    } else {
        let mut groups: BTreeMap<_, Vec<&StageFinding>> = BTreeMap::new();
        let singles = |f: &&StageFinding| !matches!(f.kind, K::Setting | K::Washout);
        v.found.iter().filter(singles).for_each(|f| groups.entry(group(f)).or_default().push(f));
        groups.into_values().max_by_key(Vec::len)?
    };
    let first = shown.first()?;
    let angle = first.unit == quantity::Kind::Angle;
    let dot = |(i, f): (usize, &&StageFinding)| {
        #[expect(clippy::cast_precision_loss, reason = "a few places")]
        let even = i as f64;
        Dot {
            x: if stations { f.span_mm.unwrap_or(even) } else { even },
            name: if matches!(f.kind, K::Level | K::Cross) { f.about.clone() } else { called(f) },
            under: match f.kind {
                K::Level => "along".to_owned(),
                K::Cross => "across".to_owned(),
                _ => String::new(),
            },
            value: Some(f.value),
            ends: Some([f.value - K95 * f.u, f.value + K95 * f.u]),
            before: f.before.map(|b| b.value),
            state: super::stages::state(f),
            ..Dot::default()
        }
    };
    let twist = s.a.twist.as_ref().filter(|_| stations);
    Some(Dots {
        dots: shown.iter().enumerate().map(dot).collect(),
        limits: [first.lower, first.upper],
        band: Vec::new(),
        ticks: Ticks::Limits,
        signed: angle || first.kind == K::Spacing,
        joined: false,
        reversed: stations && s.a.side == Side::Left,
        reach: twist.iter().flat_map(|t| t.stations.iter().map(|v| v.span_mm)).collect(),
        include: if stations { twist_values.to_vec() } else { Vec::new() },
    })
}

fn draw(canvas: &mut Canvas<'_>, picture: &Picture, area: Area) {
    let title = cut(canvas.set, 11.0, Face::SemiBold, &picture.title, area.width);
    let line = cut(canvas.set, 8.0, Face::Medium, &picture.line, area.width);
    canvas.said(
        Role::Heading(3, title.clone()),
        vec![Shape::text(area.x, area.y + 11.0, 11.0, Face::SemiBold, title)],
    );
    canvas.said(Role::Paragraph, vec![Shape::text(area.x, area.y + 21.5, 8.0, Face::Medium, line)]);
    let foot = 36.0;
    let plot = Area { y: area.y + 25.0, height: area.height - 25.0 - foot, ..area };
    match &picture.dots {
        Some(dots) => {
            let shapes = dots.draw(canvas.set, plot);
            canvas.said(Role::Figure(picture.title.clone()), shapes);
        }
        None => {
            let text = Shape::text(area.x, plot.y + 14.0, 8.5, Face::Medium, "No value with a limit.");
            canvas.said(Role::Paragraph, vec![text]);
        }
    }
    let mut y = area.bottom() - foot + 9.0;
    for (face, words) in &picture.words {
        let words = cut(canvas.set, 8.5, *face, words, area.width);
        canvas.said(Role::Paragraph, vec![Shape::text(area.x, y, 8.5, *face, words)]);
        y += 11.0;
    }
}

/// Everything that was changed, with old and new.
fn changed<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let a = s.a;
    let mut rows: Vec<(u64, Row<'a>)> = Vec::new();
    let side = |text: &str| if text.is_empty() { "–".to_owned() } else { text.to_owned() };
    let mut push = |entry: u64, when: &str, who: &str, what: String, old: String, new: String, why: &str| {
        let row: Row<'a> = vec![
            Cell::strong(format!("#{entry}")),
            Cell::text(s.minute(when)),
            Cell::text(who),
            Cell::strong(what),
            Cell::Text(old),
            Cell::Text(new),
            Cell::text(why),
        ];
        rows.push((entry, row));
    };
    for m in &a.moves {
        let mm = exact((m.amount_mm * 100.0).round() / 100.0);
        let new = if m.amount_mm > 0.0 { format!("+{mm} mm") } else { format!("{mm} mm") };
        push(m.entry, &m.when, &m.by, format!("moved {}", m.support), "–".to_owned(), new, &m.text);
    }
    for c in &a.plan_changes {
        let replan = a.replans.iter().find(|r| r.written.entry == c.entry);
        let (when, who, why) = replan.map_or(("", "", ""), |r| (&r.written.when, &r.written.by, &r.text));
        let what = format!("plan: {}{}", c.key, if c.looser { ", looser" } else { "" });
        push(c.entry, when, who, what, side(&c.was), side(&c.now), why);
    }
    for r in &a.reworks {
        let points: Vec<String> = r.points.iter().map(ToString::to_string).collect();
        let (old, new) = reworked(s, r.entry);
        push(r.entry, &r.when, &r.by, format!("rework: {}", r.what), old, new, &few(&points, 3));
    }
    for i in &a.open_items {
        let now = match i.action {
            OpenAction::Opened => "open",
            OpenAction::Closed => "closed",
            OpenAction::Carried => "carried past",
        };
        let old = if i.action == OpenAction::Opened { "–" } else { "open" };
        let why = i.reason.as_deref().unwrap_or("");
        push(i.entry, &i.when, &i.by, format!("open: {}", i.item), old.to_owned(), now.to_owned(), why);
    }
    for v in a.stages.iter().filter(|v| v.reason.is_some() || !v.passed.is_empty()) {
        let over = if v.passed.is_empty() { &v.unmet } else { &v.passed };
        let why = v.reason.as_deref().unwrap_or("no reason given");
        push(
            v.entry,
            &v.when,
            &v.by,
            format!("stage: {}", v.name),
            format!("over {}", few(over, 2)),
            "begun".to_owned(),
            why,
        );
    }
    rows.sort_by_key(|(entry, _)| *entry);
    let nothing: Vec<&str> = [
        ("moved", a.moves.is_empty()),
        ("plan changed", a.plan_changes.is_empty()),
        ("reworked", a.reworks.is_empty()),
    ]
    .into_iter()
    .filter_map(|(what, empty)| empty.then_some(what))
    .collect();
    let note = if nothing.is_empty() { String::new() } else { format!("nothing: {}", nothing.join(", ")) };
    stack.heading("What was changed, old and new", &note, None);
    if rows.is_empty() {
        stack.paragraph("", "Nothing was moved, changed, reworked or left open.");
        return;
    }
    stack.table(Table {
        name: "What was changed".to_owned(),
        columns: vec![
            Column::text("entry"),
            Column::text("when"),
            Column::text("who"),
            Column::text("what"),
            Column::text("old"),
            Column::text("new"),
            Column::words("why, and how"),
        ],
        rows: rows.into_iter().map(|(_, row)| row).collect(),
    });
}

/// What a rework changed: the value of its stage before and after it, where there are both.
fn reworked(s: &Sheet<'_>, entry: u64) -> (String, String) {
    let stage = s.a.stages.iter().find(|v| (v.entry..=v.last_entry).contains(&entry));
    let found = stage
        .iter()
        .flat_map(|v| &v.found)
        .find(|f| f.before.is_some() && f.last_entry > entry && f.kind != K::Station);
    match found.and_then(|f| Some((f, f.before?))) {
        Some((f, was)) => (shown(&StageFinding { value: was.value, u: was.u, ..f.clone() }), shown(f)),
        None => ("–".to_owned(), "–".to_owned()),
    }
}

/// Whether anything moved since the stage before.
fn since<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    stack.heading("Did anything move since the stage before?", "", None);
    let Some(changes) = &s.a.changes else {
        stack.paragraph("", "Not known: there are no two profiles to compare.");
        return;
    };
    let value = |change: f64, u: f64| spaced(&WithU::of_u(change, u).signed_with("deg"));
    let parts: Vec<String> = changes
        .parts
        .iter()
        .map(|p| format!("the {} changed by {}", p.part, value(p.change_deg, p.u_deg)))
        .collect();
    let moved: Vec<String> = changes
        .stations
        .iter()
        .filter(|c| c.real)
        .map(|c| format!("{} {}", c.name, value(c.change_deg, c.u_deg)))
        .chain(changes.parts.iter().filter(|p| p.real).map(|p| p.part.clone()))
        .collect();
    let largest = changes.stations.iter().max_by(|a, b| a.change_deg.abs().total_cmp(&b.change_deg.abs()));
    let largest = largest.map_or_else(String::new, |c| {
        format!(" The largest is {}, {}.", c.name, value(c.change_deg, c.u_deg))
    });
    let parts = if parts.is_empty() { String::new() } else { format!(" {}.", capital(&parts.join("; "))) };
    let test = " Two-sided test at 5 %, shared among the stations.";
    if moved.is_empty() {
        let words = format!(
            "Since {} no station changed by more than measurement.{largest}{parts}{test}",
            changes.since
        );
        stack.paragraph("No.", &words);
    } else {
        let words =
            format!("Since {}, by more than measurement: {}.{parts}{test}", changes.since, few(&moved, 6));
        stack.paragraph("Yes.", &words);
    }
}
