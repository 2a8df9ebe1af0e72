//! The other geometry: levels and squareness as strips; straightness, spacing and spots as plots by place; the shaft.

use super::Sheet;
use super::judged::{
    Behind, Provenance, behind, decides, from, limits, picture, reach, strip_cell, summed, worst_first,
};
use super::spots::{FIGURES, WORST};
use super::words::spaced;
use crate::draw::Role;
use crate::flow::{Break, Cell, Stack, Table, cut};
use crate::plot::{Dot, Dots};
use assess::Verdict;
use assess::view::{Judged, JudgedBy, ObligationKind as K, PointView, SparView};
use record::point::Judgement;

pub(super) const CHAPTER: &str = "geometry";

pub(super) fn page<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    stack.chapter(Break::Full(CHAPTER));
    let behind = behind(&s.a.points);
    let (posts, bays) = (!s.a.posts.is_empty(), !s.a.bays.is_empty());
    match (posts, bays) {
        (true, true) => stack.pair(0.5, |k| levels(s, k, &behind), |k| squareness(s, k, &behind)),
        (true, false) => levels(s, stack, &behind),
        (false, true) => squareness(s, stack, &behind),
        (false, false) => {}
    }
    straightness(s, stack, &behind);
    spacing(s, stack, &behind);
    if let Some(line) = &s.a.bore_line {
        super::shaft::shaft(stack, line, &behind);
    }
    super::spots::spots(s, stack);
    if !s.a.unjudged.is_empty() {
        stack.heading("Measured, but cannot be judged", "", None);
        for u in &s.a.unjudged {
            stack.paragraph(&format!("{}:", u.judged_by), &u.why.to_string());
        }
    }
    let asked = |judgement: Judgement| s.a.points.iter().any(|p| p.point.kind().row().judgement == judgement);
    let lacking: Vec<&str> = [
        ("levels", !posts, Judgement::Level),
        ("squareness", !bays, Judgement::Square),
        ("straightness", s.a.spars.is_empty(), Judgement::Straightness),
        ("spacing", s.a.spacing.is_empty(), Judgement::Spacing),
        ("shaft", s.a.bore_line.is_none(), Judgement::Clearance),
    ]
    .into_iter()
    .filter_map(|(what, lacks, judgement)| (lacks && asked(judgement)).then_some(what))
    .collect();
    if !lacking.is_empty() {
        stack.paragraph("Without a reading that counts:", &format!("{}.", lacking.join(", ")));
    }
}

/// The geometry of some points only: what judges them.
pub(super) fn of_component<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, points: &[&'a PointView]) {
    let behind = behind(points.iter().copied());
    let has = |kind: K, about: &str| behind.contains_key(&JudgedBy::new(kind, about));
    let posts: Vec<&str> = s.a.posts.iter().map(|p| p.post.as_str()).collect();
    if posts.iter().any(|p| has(K::Level, p) || has(K::Cross, p)) {
        levels(s, stack, &behind);
    }
    if s.a.bays.iter().any(|b| has(K::Square, &b.bay)) {
        squareness(s, stack, &behind);
    }
    for v in s.a.spars.iter().filter(|v| has(K::Straightness, &v.spar)) {
        stack.heading("Straightness", v.method.words(), summed([v.minimum_zone.verdict].into_iter()));
        spar(s, stack, v);
    }
    if s.a.spacing.iter().any(|v| has(K::Spacing, &v.station)) {
        spacing(s, stack, &behind);
    }
    let own: Vec<&PointView> = points.iter().filter(|p| p.lower.or(p.upper).is_some()).copied().collect();
    if own.len() > 2 {
        super::spots::spot_row(s, stack, &own);
    } else if !own.is_empty() {
        super::spots::spot_table(s, stack, &own);
    }
}

fn levels<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, behind: &Behind<'a>) {
    let mut tilts = Vec::new();
    for p in &s.a.posts {
        for (tilt, way) in [(&p.level, "along"), (&p.cross, "fore and aft")] {
            tilts.extend(tilt.as_ref().map(|t| (format!("{}, {way}", p.post), &t.tilt)));
        }
    }
    let by = s.a.posts.iter().flat_map(|p| [K::Level, K::Cross].map(|kind| JudgedBy::new(kind, &p.post)));
    strips(stack, "Level of the posts", &from(behind, by), ["post", "tilt, 95 %"], &tilts, 76.0);
    decides(stack, tilts.iter().map(|(_, j)| *j));
}

fn squareness<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, behind: &Behind<'a>) {
    let by = s.a.bays.iter().map(|b| JudgedBy::new(K::Square, &b.bay));
    let bays: Vec<_> = s.a.bays.iter().map(|b| (b.bay.clone(), &b.out_of_square)).collect();
    strips(stack, "Squareness", &from(behind, by), ["bay", "out of square, 95 %"], &bays, 70.0);
    for b in &s.a.bays {
        let differ = s.length().fixed_with(b.difference_mm, 2);
        stack.note(&format!("{}: the diagonals differ by {differ}", b.bay));
    }
    decides(stack, bays.iter().map(|(_, j)| *j));
}

/// Named values, each as a strip between its limits; `narrow` is the width of a strip beside another stack.
fn strips<'a>(
    stack: &mut Stack<'a>,
    title: &str,
    behind: &Provenance,
    [name, value]: [&str; 2],
    all: &[(String, &'a Judged)],
    narrow: f64,
) {
    stack.heading_of(title, &behind.notes(), summed(all.iter().map(|(_, j)| j.verdict)));
    let wide = if stack.width > 300.0 { 180.0 } else { narrow };
    let most = reach(all.iter().map(|(_, j)| *j));
    let table = Table::of(title, all)
        .words(name, |(name, _)| Cell::text(name.as_str()))
        .picture("", wide, |(_, j)| strip_cell(j, most))
        .figures(value, |(_, j)| Cell::value(&j.shown()))
        .text("limits", |(_, j)| Cell::text(limits(j)));
    stack.table(table);
}

fn straightness<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, behind: &Behind<'a>) {
    if s.a.spars.is_empty() {
        return;
    }
    let by = s.a.spars.iter().map(|v| JudgedBy::new(K::Straightness, &v.spar));
    let sag = s.a.spars.iter().map(|v| v.sag_mm).fold(0.0, f64::max);
    let sag = if sag > 0.0 {
        format!("; sag of at most {} taken out", s.length().fixed_with(sag, 2))
    } else {
        String::new()
    };
    let mut methods: Vec<&str> = s.a.spars.iter().map(|v| v.method.words()).collect();
    methods.dedup();
    let methods = methods.join(", ");
    let notes: Vec<String> =
        from(behind, by).notes().iter().map(|note| format!("{methods}, {note}{sag}")).collect();
    stack.heading_of(
        &format!("Straightness of the spars, {}", s.length().head()),
        &notes,
        summed(s.a.spars.iter().map(|v| v.minimum_zone.verdict)),
    );
    stack.abreast(&s.a.spars, |k, one| spar(s, k, one));
    decides(stack, s.a.spars.iter().map(|v| &v.minimum_zone));
}

fn spar<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, v: &'a SparView) {
    let half = v.minimum_zone.upper.map(|u| u / 2.0);
    let dots = v
        .offsets
        .iter()
        .map(|o| Dot { name: o.station.clone(), ..Dot::measured(o.span_mm, o.offset_mm, o.u_mm) })
        .collect();
    let dots = Dots {
        dots,
        limits: [half.map(|h| -h), half],
        signed: true,
        joined: true,
        reversed: s.a.side == record::plan::Side::Left,
        ..Dots::default()
    };
    picture(stack, dots.in_unit(s.length()), format!("Offsets of {} along the span", v.spar), 78.0);
    stack.keep();
    let j = &v.minimum_zone;
    let state = j.verdict.unwrap_or(Verdict::CannotJudge);
    let strong = format!("{} {}", v.spar, spaced(&j.shown()));
    let more = format!(
        "{}; least squares {}",
        limits(j),
        j.scale().fixed(v.least_squares_mm, j.with_u().decimals())
    );
    stack.fixed(14.0, move |canvas, area| {
        let base = area.y + 10.0;
        canvas.group(Role::Paragraph, |canvas| {
            canvas.mark(Stack::marked(state, area.x, base, &strong));
            let x = area.x + 20.0 + canvas.set.width(crate::text::Face::SemiBold, 8.5, &strong);
            let more = cut(canvas.set, 8.0, crate::text::Face::Medium, &more, area.right() - x);
            canvas.mark(vec![crate::draw::Shape::text(x, base, 8.0, crate::text::Face::Medium, more)]);
        });
    });
}

fn spacing<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, behind: &Behind<'a>) {
    let all: Vec<&assess::view::SpacingView> = s.a.spacing.iter().filter(|v| v.design_mm != 0.0).collect();
    if all.is_empty() {
        return;
    }
    let by = all.iter().map(|v| JudgedBy::new(K::Spacing, &v.station));
    let taken = all.iter().any(|v| v.correction_mm != 0.0);
    let at = if taken { "; at 20 °C" } else { "; metal: not taken" };
    let notes: Vec<String> = from(behind, by).notes().iter().map(|note| format!("{note}{at}")).collect();
    stack.heading_of(
        &format!("Spacing, measured less design, {}", s.length().head()),
        &notes,
        summed(all.iter().map(|v| v.deviation.verdict)),
    );
    let figures = all.len() <= FIGURES;
    let dot = |v: &&assess::view::SpacingView| {
        let j = &v.deviation;
        Dot {
            x: v.design_mm,
            name: v.station.clone(),
            under: if figures { j.with_u().signed() } else { String::new() },
            value: Some(j.value),
            ends: Some([j.lower95, j.upper95]),
            state: j.verdict,
            ..Dot::default()
        }
    };
    let limit = all.first().map(|v| [v.deviation.lower, v.deviation.upper]);
    let dots = Dots {
        dots: all.iter().map(dot).collect(),
        limits: limit.unwrap_or_default(),
        signed: true,
        reversed: s.a.side == record::plan::Side::Left,
        ..Dots::default()
    };
    picture(stack, dots.in_unit(s.length()), "Spacing along the span".to_owned(), 86.0);
    stack.keep();
    stack.note(&together(&all.iter().map(|v| &v.deviation).collect::<Vec<_>>(), figures));
    if figures {
        let design: Vec<String> = all.iter().map(|v| s.length().exact(v.design_mm)).collect();
        stack.note(&format!("design, from the root datum: {}", s.length().with(&design.join(", "))));
    }
    decides(stack, all.iter().map(|v| &v.deviation));
}

/// What several judgements have in common, and the worst of them if no figures are shown.
fn together(all: &[&Judged], figures: bool) -> String {
    let Some(first) = all.first() else { return String::new() };
    let widest = all.iter().map(|j| j.u).fold(0.0, f64::max);
    let half = first.scale().with_u(0.0, widest).half().replace('±', "± ");
    let limits = limits(first);
    let mut text = format!("each at most {}; limits {limits}", first.scale().with(&half));
    if !figures {
        let mut worst: Vec<&&Judged> = all.iter().collect();
        worst_first(&mut worst, |j| j.verdict, |j| j.probability);
        let named: Vec<String> =
            worst.iter().take(WORST).map(|j| format!("{} {}", j.what, spaced(&j.shown()))).collect();
        text.push_str(&format!("; the worst: {}", named.join(", ")));
    }
    text
}
