//! Every obligation as one mark, by kind.

use super::Sheet;
use super::rigging::Sort;
use super::words::{range, stem};
use crate::draw::{Role, Shape, many};
use crate::flow::{Stack, Stretch, cut};
use crate::plot::mark;
use crate::text::Face;
use assess::view::{Obligation, ObligationKind as K, Verdict};
use std::collections::{BTreeMap, BTreeSet};

/// The position where counts end and marks begin, and the distance between marks.
const COUNT: f64 = 152.0;
const MARKS: f64 = 164.0;
const STEP: f64 = 9.75;
const SIZE: f64 = 7.4;
/// The distance from one line of marks to the next.
const LINE: f64 = 10.0;
/// A row with more obligations than this shows only the number in each state.
const COUNTED: usize = 120;

struct Line<'a> {
    label: String,
    all: Vec<&'a Obligation>,
}

/// Whether the spots have more than six names, so that they share one row.
pub(super) fn one_row(all: &[Obligation]) -> bool {
    let spots = all.iter().filter(|o| o.kind == K::Spot);
    spots.map(|o| stem(&o.about)).collect::<BTreeSet<_>>().len() > 6
}

/// The obligations of each row: kinds that belong together; spots by the stem of their name.
fn lines<'a>(all: &'a [Obligation]) -> Vec<Line<'a>> {
    let one = one_row(all);
    // Each group is at the position of its first member.
    let mut groups: Vec<((u8, &str), Vec<&Obligation>)> = Vec::new();
    let mut places: BTreeMap<(u8, &str), usize> = BTreeMap::new();
    for o in all {
        let key = match o.kind {
            K::Stage => (0, ""),
            K::Level | K::Cross => (1, ""),
            K::Setting | K::Washout | K::Neighbour => (2, ""),
            K::Station => (3, ""),
            K::Straightness => (4, ""),
            K::Spacing => (5, ""),
            K::Square => (6, ""),
            K::Clearance => (7, o.about.as_str()),
            K::Spot if one => (8, ""),
            K::Spot => (8, stem(&o.about)),
            K::Rigging => (9, Sort::of(&o.about).word()),
            K::Point => (10, ""),
            K::Instrument => (11, ""),
            K::OpenItem => (12, ""),
            K::Record => (13, ""),
        };
        let place = *places.entry(key).or_insert(groups.len());
        match groups.get_mut(place) {
            Some((_, group)) => group.push(o),
            None => groups.push((key, vec![o])),
        }
    }
    groups.sort_by_key(|((row, _), _)| *row);
    groups.into_iter().map(|(_, all)| Line { label: label(&all), all }).collect()
}

/// What a row is called, by the first of its obligations.
fn label(all: &[&Obligation]) -> String {
    let names: Vec<&str> = all.iter().map(|o| o.about.as_str()).collect();
    let (Some(first), Some(name)) = (all.first(), names.first()) else { return String::new() };
    match first.kind {
        K::Stage => "stages begun, in order".to_owned(),
        K::Level | K::Cross => "level of the posts".to_owned(),
        K::Setting | K::Washout | K::Neighbour if all.len() == 1 => (*name).to_owned(),
        K::Setting | K::Washout | K::Neighbour => "setting, washout, largest step".to_owned(),
        K::Station => "twist, each station".to_owned(),
        K::Straightness => "straightness of the spars".to_owned(),
        K::Spacing => format!("spacing, {}", range(&names)),
        K::Square => "squareness".to_owned(),
        K::Clearance | K::Spot => range(&names),
        K::Rigging => Sort::of(name).word().to_owned(),
        K::Point => "required points, no limit".to_owned(),
        K::Instrument => "instruments in order".to_owned(),
        K::OpenItem => "open items".to_owned(),
        K::Record => "log, plan and signatures".to_owned(),
    }
}

pub(super) fn board<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let (met, total) = (s.a.gate.count(Verdict::Within), s.total());
    let state = if met == total && total > 0 { Verdict::Within } else { worst(&s.a.gate.obligations) };
    stack.heading("Every obligation, one mark each", "", Some((state, format!("{met} of {total} met"))));
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few marks")]
    let across = ((stack.width - MARKS - SIZE) / STEP + 1.0).floor().max(1.0) as usize;
    for line in lines(&s.a.gate.obligations) {
        let counted = line.all.len() > COUNTED;
        let rows = if counted { 1 } else { line.all.len().div_ceil(across) };
        let tall = many(rows) * LINE + 1.0;
        let label = cut(s.set, 8.5, Face::Medium, &line.label, COUNT - 34.0);
        let met = line.all.iter().filter(|o| o.state == Verdict::Within).count();
        let count = match line.all.len() {
            n if met == n => n.to_string(),
            n => format!("{met} of {n}"),
        };
        let face = if met == line.all.len() { Face::Medium } else { Face::SemiBold };
        let all = line.all;
        stack.stretched(tall, Stretch::Plot(tall + 8.0), move |canvas, area| {
            let first = area.y + (area.height - many(rows - 1) * LINE) / 2.0;
            canvas.group(Role::Paragraph, |canvas| {
                canvas.mark(vec![
                    Shape::text(area.x, first + 3.0, 8.5, Face::Medium, label.as_str()),
                    Shape::text(area.x + COUNT, first + 3.0, 8.5, face, count.as_str())
                        .anchored(crate::draw::Anchor::End),
                ]);
                if counted {
                    counts(canvas, &all, area.x + MARKS, first);
                    return;
                }
                for (i, o) in all.iter().enumerate() {
                    let (column, row) = (many(i % across), many(i / across));
                    let (x, y) = (area.x + MARKS + SIZE / 2.0 + column * STEP, first + row * LINE);
                    let said = format!("{} {}: {}", o.kind.word(), o.about, o.state.obligation_word());
                    canvas.mark_said(&said, mark(o.state, x, y, SIZE));
                }
            });
        });
    }
}

/// The number in each state.
fn counts(canvas: &mut crate::flow::Canvas<'_>, all: &[&Obligation], left: f64, y: f64) {
    let mut x = left;
    for state in Verdict::WORST_FIRST {
        let n = all.iter().filter(|o| o.state == state).count();
        if n == 0 {
            continue;
        }
        let words = n.to_string();
        let wide = canvas.set.width(Face::SemiBold, 8.5, &words);
        let mut shapes = mark(state, x + SIZE / 2.0, y, SIZE);
        shapes.push(Shape::text(x + 11.0, y + 3.0, 8.5, Face::SemiBold, words.as_str()));
        canvas.mark_said(&format!("{words} {}", state.obligation_word()), shapes);
        x += wide + 20.0;
    }
}

/// The worst state among obligations.
pub(super) fn worst<'o>(all: impl IntoIterator<Item = &'o Obligation>) -> Verdict {
    all.into_iter().map(|o| o.state).max().unwrap_or(Verdict::Missing)
}

/// The worst of them; among those in the same state, the one least likely to conform.
pub(super) fn least_certain<'o>(all: impl Iterator<Item = &'o Obligation>) -> Option<&'o Obligation> {
    let p = |o: &Obligation| o.conforms.unwrap_or(1.0);
    all.max_by(|a, b| a.state.cmp(&b.state).then(p(b).total_cmp(&p(a))))
}
