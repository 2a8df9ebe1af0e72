//! A picture of the end of each stage, with what it had found before a move.

use super::Sheet;
use super::stages::{called, shown};
use super::words::entries;
use crate::draw::{Role, Shape, many};
use crate::flow::{Area, Canvas, Stack, Stretch, cut};
use crate::plot::{Dot, Dots, Legend, Sample, legend};
use crate::text::{Face, Typesetter, wrap};
use assess::view::{ObligationKind as K, StageFinding, StageView, Verdict};
use quantity::shown::{K95, capital};
use record::plan::Side;
use std::collections::BTreeMap;

/// The most pictures: the first and the last five.
const PICTURES: usize = 6;

const ACROSS: usize = 3;

#[derive(Clone)]
struct Picture {
    title: String,
    line: String,
    dots: Option<Dots>,
    words: Vec<(Face, String)>,
}

pub(super) fn pictures<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
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
    } else if s.aeroplane() {
        (all, "each value within its limits: +1 and -1 are the limits, 0 is their middle".to_owned())
    } else {
        (all, format!("same scale and span in every twist picture; seen from aft: {}", s.tip()))
    };
    stack.heading("What each stage found, and what was moved", &note, None);
    let twist_values: Vec<f64> = chosen
        .iter()
        .flat_map(|(_, v)| v.found.iter().filter(|f| f.kind == K::Station))
        .flat_map(|f| [f.value - K95 * f.u, f.value + K95 * f.u].into_iter().chain(f.before.map(|b| b.value)))
        .collect();
    let pictures: Vec<Picture> = chosen.iter().map(|(i, v)| picture(s, *i, v, &twist_values)).collect();
    let (pictures, bare): (Vec<Picture>, Vec<Picture>) = pictures.into_iter().partition(|p| p.dots.is_some());
    for row in pictures.chunks(ACROSS) {
        let row = row.to_vec();
        stack.stretched(150.0, Stretch::Plot(215.0), move |canvas, area| {
            let gap = 5.3 * 72.0 / 25.4;
            let wide = (area.width - 2.0 * gap) / 3.0;
            let lines = |p: &Picture| -> usize { p.lines(canvas.set, wide).len() };
            let most = row.iter().map(lines).max().unwrap_or(0);
            for (i, picture) in row.iter().enumerate() {
                let x = area.x + many(i) * (wide + gap);
                draw(canvas, picture, Area { x, width: wide, ..area }, most);
            }
        });
    }
    for p in &bare {
        let words: Vec<&str> = p.words.iter().map(|(_, words)| words.as_str()).collect();
        stack.paragraph(&format!("{}:", p.title), &format!("{}. {}", p.line, words.join(" ")));
    }
    if pictures.is_empty() {
        return;
    }
    stack.fixed(15.0, |canvas, area| {
        let entries = [
            Sample::new(Legend::Station(Verdict::Within), "as left at the end of the stage, 95 %"),
            Sample::new(Legend::Before, "before the move or rework"),
            Sample::new(Legend::Beyond, "beyond the limit"),
        ];
        let shapes = legend(canvas.set, area, &entries);
        canvas.said(Role::Paragraph, shapes);
    });
    if s.a.stages.len() > PICTURES {
        stack.heading("Every stage", "", None);
        stack.table(s.stage_table("Every stage"));
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
                format!("Washout error {}{verdict}.", shown(s, f))
            }
            None => worst(v).map_or_else(
                || "Nothing was measured.".to_owned(),
                |f| format!("{} {}.", capital(&called(f)), shown(s, f)),
            ),
        },
    };
    let left = v.verdict.map_or("nothing asked", assess::Verdict::word);
    Picture {
        title: format!("{} {}", index + 1, v.name),
        line: format!("{} · {} · {}", s.minute(&v.on.when), v.on.by, entries(v.on.entry..=v.last_entry)),
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

/// Values of the rigging, each as its share of the distance from the middle of its limits to the limit.
fn shares(v: &StageView) -> Option<Dots> {
    let rigged = v.found.iter().filter(|f| f.kind == K::Rigging);
    let dot = |f: &StageFinding| {
        let share = |value: f64| match (f.lower, f.upper) {
            (Some(lower), Some(upper)) => Some((2.0 * value - lower - upper) / (upper - lower)),
            (None, Some(upper)) => Some(value / upper),
            (Some(lower), None) => Some(-lower / value),
            (None, None) => None,
        };
        let half = K95 * f.u;
        Some(Dot {
            value: Some(share(f.value)?),
            ends: Some([share(f.value - half)?, share(f.value + half)?]),
            before: f.before.and_then(|b| share(b.value)),
            state: f.verdict,
            ..Dot::default()
        })
    };
    let dots: Vec<Dot> = rigged.filter_map(dot).enumerate().map(|(i, d)| Dot { x: many(i), ..d }).collect();
    let limits = [Some(-1.0), Some(1.0)];
    (!dots.is_empty()).then(|| Dots { dots, limits, signed: true, ..Dots::default() })
}

/// What a stage measured most of: the twist, the rigging, else values with equal limits.
fn dots(s: &Sheet<'_>, v: &StageView, twist_values: &[f64]) -> Option<Dots> {
    let stations = v.found.iter().any(|f| f.kind == K::Station);
    if let (false, Some(shares)) = (stations, shares(v)) {
        return Some(shares);
    }
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
    let dot = |(i, f): (usize, &&StageFinding)| Dot {
        name: if matches!(f.kind, K::Level | K::Cross) { f.about.clone() } else { called(f) },
        under: match f.kind {
            K::Level => "along".to_owned(),
            K::Cross => "across".to_owned(),
            _ => String::new(),
        },
        before: f.before.map(|b| b.value),
        state: f.verdict,
        ..Dot::measured(f.span_mm.filter(|_| stations).unwrap_or(many(i)), f.value, f.u)
    };
    let twist = s.a.twist.as_ref().filter(|_| stations);
    let dots = Dots {
        dots: shown.iter().enumerate().map(dot).collect(),
        limits: [first.lower, first.upper],
        signed: angle || first.kind == K::Spacing,
        reversed: stations && s.a.side == Side::Left,
        reach: twist.iter().flat_map(|t| t.stations.iter().map(|v| v.span_mm)).collect(),
        include: if stations { twist_values.to_vec() } else { Vec::new() },
        ..Dots::default()
    };
    Some(dots.in_unit(s.a.units.scale(first.unit)))
}

impl Picture {
    /// The text under it as lines of that width.
    fn lines(&self, set: &Typesetter, width: f64) -> Vec<(Face, String)> {
        let one = |(face, words): &(Face, String)| {
            let lines = wrap(set, *face, 8.5, &set.visible(words), width);
            lines.into_iter().map(|line| (*face, line)).collect::<Vec<_>>()
        };
        self.words.iter().flat_map(one).collect()
    }
}

/// Draws it over `lines` lines of text.
fn draw(canvas: &mut Canvas<'_>, picture: &Picture, area: Area, lines: usize) {
    let title = cut(canvas.set, 11.0, Face::SemiBold, &picture.title, area.width);
    let line = cut(canvas.set, 8.0, Face::Medium, &picture.line, area.width);
    canvas.said(
        Role::Heading(3, title.clone()),
        vec![Shape::text(area.x, area.y + 11.0, 11.0, Face::SemiBold, title)],
    );
    canvas.said(Role::Paragraph, vec![Shape::text(area.x, area.y + 21.5, 8.0, Face::Medium, line)]);
    let foot = 3.0 + 11.0 * many(lines);
    let plot = Area { y: area.y + 25.0, height: area.height - 25.0 - foot, ..area };
    if let Some(dots) = &picture.dots {
        let shapes = dots.draw(canvas.set, plot);
        canvas.said(Role::Figure(picture.title.clone()), shapes);
    }
    let mut y = area.bottom() - foot + 9.0;
    for (face, line) in picture.lines(canvas.set, area.width) {
        canvas.said(Role::Paragraph, vec![Shape::text(area.x, y, 8.5, face, line)]);
        y += 11.0;
    }
}
