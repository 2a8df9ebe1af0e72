//! The sheet of one component: its verdict, its geometry, every entry that concerned it, who signed for it.

use super::event::Event;
use super::stages::{called, shown};
use super::verdict::{Answer, Headline};
use super::words::{degrees, entries, percent, spaced};
use super::{Sheet, first, geometry, paper, signed};
use crate::SheetError;
use crate::draw::many;
use crate::flow::{Area, Break, Cell, PlotHeight, Stack, Stretch, Table};
use crate::plot::{Ticks, twist_dots};
use assess::view::{Obligation, ObligationKind as K, PointView, StageFinding, ValueU, Verdict};
use quantity::shown::capital;
use quantity::shown::counted;
use std::collections::BTreeSet;

const CHAPTER: &str = "component";

/// Obligations and points of a component.
struct Part<'a> {
    name: String,
    owed: Vec<&'a Obligation>,
    points: Vec<&'a PointView>,
}

/// The obligations of a component: those with its name, or the spots whose names are it and a number.
fn part<'a>(s: &Sheet<'a>, name: &str) -> Result<Part<'a>, SheetError> {
    let component = |o: &&Obligation| {
        !matches!(o.kind, K::Stage | K::OpenItem | K::Record | K::Neighbour | K::Setting | K::Washout)
    };
    let all = || s.a.gate.obligations.iter().filter(component);
    let spar = name.trim_end_matches(" spar");
    let mut owed: Vec<&Obligation> = all()
        .filter(|o| {
            o.about == name || (o.kind == K::Straightness && o.about == spar) || rigged(o) == Some(name)
        })
        .collect();
    if owed.is_empty() {
        let numbered = |about: &str| {
            about.strip_prefix(name).is_some_and(|n| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit()))
        };
        owed = all().filter(|o| o.kind == K::Spot && numbered(&o.about)).collect();
    }
    if owed.is_empty() {
        let mut known: Vec<String> = all().map(|o| rigged(o).unwrap_or(&o.about).to_owned()).collect();
        known.sort();
        known.dedup();
        return Err(SheetError::NoComponent { name: name.to_owned(), known });
    }
    let evidence: BTreeSet<u64> = owed.iter().flat_map(|o| o.evidence.iter().copied()).collect();
    let points = s.a.points.iter().filter(|p| p.entries.iter().any(|e| evidence.contains(e))).collect();
    Ok(Part { name: name.to_owned(), owed, points })
}

/// The part of the aeroplane that a rigged thing belongs to: `left aileron` for `travel up of left aileron`.
fn rigged(o: &Obligation) -> Option<&str> {
    let of = || o.about.split_once(" of ").map(|(_, part)| part);
    (o.kind == K::Rigging).then(|| of().or_else(|| o.about.strip_suffix(" from its jig"))).flatten()
}

pub(super) fn page<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, name: &str) -> Result<(), SheetError> {
    let part = part(s, name)?;
    stack.chapter(Break::Always(CHAPTER));
    let spar = part.owed.iter().all(|o| o.kind == K::Straightness) && !name.contains("spar");
    let title = capital(&if spar { format!("{name} spar") } else { name.to_owned() });
    first::title(s, stack, "Inspection sheet of one component", &title, &s.a.wing);
    verdict(s, &part).put(stack);
    picture(s, stack, &part);
    values(stack, &part);
    happened(s, stack, &part);
    rests_on(s, stack, &part);
    covering(s, stack, &part);
    signed::boxes(stack, &format!("{}, entry {}", part.name, s.stamp.entries));
    Ok(())
}

fn verdict(s: &Sheet<'_>, part: &Part<'_>) -> Headline {
    let worst = super::board::worst(part.owed.iter().copied());
    let least = super::board::least_certain(part.owed.iter().copied());
    let word = match worst {
        _ if s.broken().is_some() => "NOT PROVEN",
        Verdict::Within => "WITHIN",
        Verdict::Outside => "OUTSIDE",
        Verdict::Undecided => "UNDECIDED",
        Verdict::Doubtful | Verdict::Stale | Verdict::Missing | Verdict::CannotJudge => "NOT PROVEN",
    };
    let unmet = part.owed.iter().filter(|o| o.state != Verdict::Within).count();
    let total = part.owed.len();
    let sentence = least.map_or_else(String::new, |o| {
        let found = o.found.as_deref().map(spaced);
        found.map_or_else(|| capital(&o.words), |f| format!("{} {f}", capital(&o.what)))
    });
    let more = least.map_or_else(String::new, |o| {
        let limit = o
            .limit
            .as_deref()
            .map_or("the plan has no limit for it".to_owned(), |l| format!("{l} is asked for"));
        let p = o.conforms.map_or_else(String::new, |p| format!("; conforms {}", percent(p)));
        format!("{limit}{p}")
    });
    let mut answers = s.verdict().answers;
    answers[0] = Answer {
        question: "What is not met?",
        answer: if unmet == 0 { "Nothing".to_owned() } else { format!("{unmet} of {total}") },
        more: counted(total, "obligation of this component", "obligations of this component"),
        see: None,
    };
    Headline {
        good: word == "WITHIN",
        word: word.to_owned(),
        question: "Is it as the plan asks?".to_owned(),
        sentence,
        more,
        answers,
    }
}

fn picture<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, part: &Part<'a>) {
    let is = |kind: K| part.owed.iter().any(|o| o.kind == kind);
    if let (true, Some(line)) = (is(K::Clearance), &s.a.bore_line) {
        stack.heading(
            "Each bush from the straight line that fits best",
            "hatched: beyond the clearance; up is up, aft is right",
            None,
        );
        for row in line.bushes.chunks(4) {
            stack.stretched(128.0, Stretch::Plot(147.0), move |canvas, area| {
                let wide = area.width / 4.0;
                for (i, b) in row.iter().enumerate() {
                    let x = area.x + many(i) * wide;
                    super::shaft::bush(canvas, line, b, Area { x, width: wide, ..area });
                }
            });
        }
        stack.heading("Bushes", "", super::judged::summed([line.clearance.verdict].into_iter()));
        super::shaft::bushes(stack, line);
    } else if let (true, Some(twist)) = (is(K::Station), &s.a.twist) {
        stack.heading(
            &format!("Twist error of each station, {}", degrees(s.angle())),
            "ringed: this station",
            None,
        );
        let mut dots = twist_dots(s.a, twist, s.a.previous.as_ref(), Ticks::Round);
        dots.dots.iter_mut().for_each(|d| d.ringed = d.name == part.name);
        let about = "Twist error of each station".to_owned();
        stack.figure(dots, about, PlotHeight { usual: 165.0, most: 283.0 });
    } else if is(K::Rigging) {
        let mine: BTreeSet<&str> = part.owed.iter().map(|o| o.about.as_str()).collect();
        super::rigging::sections(s, stack, &|about| mine.contains(about));
    } else {
        geometry::of_component(s, stack, &part.points);
    }
}

fn values<'a>(stack: &mut Stack<'a>, part: &Part<'a>) {
    stack.heading("What must be proven", "", None);
    let table = Table::of("What must be proven", &part.owed)
        .marks(|o| Some(o.state))
        .words("what", |o| Cell::strong(o.what.as_str()))
        .figures("value, 95 %", |o| super::judged::found(o))
        .text("limit", |o| Cell::maybe(o.limit.as_deref().map(spaced)))
        .figures("conforms", |o| Cell::maybe(o.conforms.map(percent)))
        .text("entries", |o| Cell::text(entries(o.evidence.iter().copied())));
    stack.table(table);
}

/// Every entry that concerned it, with old and new.
fn happened<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, part: &Part<'a>) {
    let a = s.a;
    let mut all: Vec<Event> = Vec::new();
    let mine: BTreeSet<(K, &str)> = part.owed.iter().map(|o| (o.kind, o.about.as_str())).collect();
    for v in &a.stages {
        for f in v.found.iter().filter(|f| mine.contains(&(f.kind, f.about.as_str()))) {
            let then = |b: ValueU| shown(s, &StageFinding { value: b.value, u: b.u, ..f.clone() });
            let verdict = f.verdict.map_or("no limit", Verdict::word);
            let event = Event::of(s, f.first_entry, &v.on.when, &v.on.by, format!("measured {}", called(f)));
            all.push(
                event
                    .over(entries(f.first_entry..=f.last_entry))
                    .from(&f.before.map_or_else(String::new, then), &shown(s, f))
                    .because(&format!("{verdict}, stage {}", v.name)),
            );
        }
    }
    let about = part.owed.iter().map(|o| o.about.as_str());
    let names: BTreeSet<&str> = part.points.iter().map(|p| p.point.place()).chain(about).collect();
    let touched = a.reworks.iter().filter(|r| r.what.points.iter().any(|p| names.contains(p.place())));
    all.extend(touched.map(|r| Event::rework(s, r)));
    let asked = |key: &str| part.owed.iter().any(|o| key.contains(&o.about) || key.contains(o.kind.word()));
    all.extend(Event::plan(s, asked));
    let withdrawn = |what: &str| part.points.iter().any(|p| what.starts_with(&p.point.to_string()));
    for w in a.withdrawn.iter().filter(|w| withdrawn(&w.what)) {
        let event = Event::of(s, w.entry, &w.when, &w.by, format!("withdrawn: {}", w.what));
        all.push(event.because(&w.reason));
    }
    stack.heading("What happened to it", "every entry that touched this component", None);
    if all.is_empty() {
        stack.paragraph("", "Nothing was measured or changed.");
        return;
    }
    let table = Event::table(all, "What happened to it", "stage begun, or when", "why, and what followed");
    stack.table(table);
}

fn rests_on<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, part: &Part<'a>) {
    let used: BTreeSet<&str> = part.points.iter().filter_map(|p| p.instrument.as_deref()).collect();
    let mut lines: Vec<(String, String)> = Vec::new();
    for i in s.a.instruments.iter().filter(|i| used.contains(i.name.as_str())) {
        let number = i.number.as_deref().map_or_else(String::new, |n| format!(" {n}"));
        let state = s.a.gate.obligations.iter().find(|o| o.kind == K::Instrument && o.about == i.name);
        let words = state.map_or_else(|| "not judged".to_owned(), |o| o.words.clone());
        lines.push((format!("{}{number}:", capital(&i.name)), format!("{words}.")));
    }
    let lengths = part.points.iter().any(|p| p.unit == quantity::Kind::Length);
    let taken = part.points.iter().flat_map(|p| &p.behind).any(|r| r.temperature_c.is_some());
    if lengths && !taken {
        lines.push(("Metal temperature:".to_owned(), "not taken.".to_owned()));
    }
    let (state, entry, total) = (s.a.gate.state.word().to_uppercase(), s.stamp.entries, s.total());
    let met = s.a.gate.count(Verdict::Within);
    let (whole, not) = if s.aeroplane() {
        ("The aeroplane as a whole:", "the rest of it")
    } else {
        ("The wing as a whole:", "the skins")
    };
    let wing = format!(
        "at entry {entry} it was {state}, {met} of {total} met; see its own sheet. This sheet says nothing about {not}. It \
         measures and records; it does not approve."
    );
    stack.pair(
        0.5,
        move |k| {
            k.heading("What it rests on", "", None);
            if lines.is_empty() {
                k.paragraph("", "No reading that counts.");
            }
            for (strong, words) in &lines {
                k.paragraph(strong, words);
            }
        },
        move |k| {
            k.heading("What this sheet does not say", "", None);
            k.paragraph(whole, &wing);
        },
    );
}

/// The signatures that cover its entries, and the line for checking the paper.
fn covering<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, part: &Part<'a>) {
    let last = part.owed.iter().flat_map(|o| o.evidence.iter().copied()).max().unwrap_or(0);
    let some: Vec<&assess::view::SignView> = s.a.signatures.iter().filter(|v| v.entries >= last).collect();
    let note = if some.is_empty() { "nobody signed over these entries" } else { "" };
    stack.heading("Signed in the log, covering these entries", note, None);
    if !some.is_empty() {
        let table = Table::of("Signed in the log", &some)
            .marks(|v| Some(signed::fits(v)))
            .text("", |v| Cell::strong(v.who.as_str()))
            .words("", |v| Cell::text(format!("{}, “{}”", v.capacity, v.statement)))
            .text("", |v| Cell::text(s.minute(&v.when)))
            .text("", |v| Cell::text(signed::key(v)))
            .text("", |v| Cell::text(signed::covers(v)));
        stack.table(table);
    }
    stack.fixed(4.0, |_, _| ());
    paper::line(s, stack);
}
