//! The first page: the verdict, what is not met or what to look at first, the board, the stages, who signed.

use super::words::{degrees, spaced};
use super::{Sheet, first};
use crate::draw::{Role, Shape, many};
use crate::flow::{Break, Canvas, Cell, PlotHeight, Stack, Table};
use crate::plot::{Ticks, mark, twist_dots};
use crate::text::Face;
use assess::view::{Reason, ReasonKind, Verdict};
use quantity::shown::counted;
use record::GateState;

pub(super) const CHAPTER: &str = "closing gate";
/// The chapter of the causes that do not fit on the first page.
const MORE: &str = "causes";

/// The first page, and what does not fit on it. Returns how the next chapter begins.
pub(super) fn page<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) -> Break {
    stack.chapter(Break::Always(CHAPTER));
    first::title(s, stack, "Inspection sheet", &s.a.wing, "");
    s.verdict().put(stack);
    tally(s, stack);
    // Everything else first: its height says how many causes fit.
    let mut below = Stack::new(s.set, s.grid.width);
    rest(s, &mut below);
    let room = s.grid.room(0) - stack.height() - below.height();
    let left = match s.a.gate.state {
        GateState::Hold => causes(s, stack, room),
        GateState::Clear => {
            look(s, stack, room);
            Vec::new()
        }
    };
    rest(s, stack);
    if !left.is_empty() {
        stack.chapter(Break::Always(MORE));
        stack.heading("More causes", "worst first, as on page 1", None);
        stack.table(cause_table(&left));
        return Break::Full("");
    }
    Break::Always("")
}

/// Board, twist, stages, signatures, boxes.
fn rest<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let board = |stack: &mut Stack<'a>| super::board::board(s, stack);
    if s.a.twist.is_some() {
        stack.pair(0.578, board, |stack| small_twist(s, stack));
    } else {
        board(stack);
    }
    super::stages::table(s, stack);
    super::signed::table(s, stack);
    let gate = format!("{}, entry {}", s.a.gate.state.word().to_uppercase(), s.stamp.entries);
    super::signed::boxes(stack, &gate);
    super::paper::does_not_approve(stack);
}

fn small_twist<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let Some(twist) = &s.a.twist else { return };
    stack.heading("Twist error of each station", "", None);
    let dots = twist_dots(s.a, twist, None, Ticks::Limits);
    let about = crate::plot::profile_words(twist, s.angle());
    stack.figure(dots, about, PlotHeight { usual: 96.0, most: 240.0 });
    let (degrees, tip) = (degrees(s.angle()), s.tip());
    stack.note(&format!("{degrees}, 95 % bars; hatched: beyond the limit; {tip}"));
}

/// The seven counts; a zero is small.
fn tally<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>) {
    let gate = &s.a.gate;
    let counts: Vec<(Verdict, usize)> =
        Verdict::WORST_FIRST.into_iter().map(|t| (t, gate.count(t))).collect();
    stack.fixed(25.0, move |canvas, area| {
        let base = area.y + 18.0;
        let sizes =
            |n: usize| if n > 0 { (12.5, 14.0, 8.5, Face::SemiBold) } else { (7.5, 8.5, 8.5, Face::Medium) };
        let wide = |canvas: &Canvas<'_>, (state, n): &(Verdict, usize)| {
            let (mark, figure, text, face) = sizes(*n);
            mark + 5.0
                + canvas.set.width(face, figure, &n.to_string())
                + 3.5
                + canvas.set.width(face, text, state.obligation_word())
        };
        let total: f64 = counts.iter().map(|c| wide(canvas, c)).sum();
        let gap = (area.width - total) / many((counts.len() - 1).max(1));
        let mut x = area.x;
        for (state, n) in &counts {
            let (size, figure, text, face) = sizes(*n);
            let number = n.to_string();
            let figures = canvas.set.width(face, figure, &number);
            let start = x + size + 5.0;
            let mut shapes = mark(*state, x + size / 2.0, base - size * 0.36, size);
            shapes.push(Shape::text(start, base, figure, face, number));
            shapes.push(Shape::text(start + figures + 3.5, base, text, face, state.obligation_word()));
            canvas.said(Role::Paragraph, shapes);
            x += wide(canvas, &(*state, *n)) + gap;
        }
    });
}

/// The most characters of a cause on the first page; a longer one is complete on the page of causes.
const CAUSE: usize = 240;

/// A cause as on the first page.
fn brief(r: &Reason) -> Reason {
    let cut = r.what.char_indices().nth(CAUSE).map(|(at, _)| &r.what[..at]);
    let what =
        cut.map_or_else(|| r.what.clone(), |c| format!("{} …", c.rsplit_once(' ').map_or(c, |(c, _)| c)));
    Reason { what, ..r.clone() }
}

/// As many causes as fit; returns the rest, and those that were shortened.
fn causes<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, room: f64) -> Vec<Reason> {
    let all: Vec<Reason> = s.a.gate.reasons.iter().map(brief).collect();
    let also = s.also();
    let also_height = if also.is_empty() {
        0.0
    } else {
        let mut trial = Stack::new(s.set, s.grid.width);
        trial.note(&also);
        trial.height()
    };
    let height = |n: usize| {
        let mut trial = Stack::new(s.set, s.grid.width);
        trial.heading("", "", None);
        trial.table(cause_table(&all[..n]));
        trial.height()
            + if n < all.len() || all.iter().any(|r| r.what.ends_with('…')) { 12.6 } else { 0.0 }
            + also_height
            + 4.0
    };
    // As many as fit, at least one.
    let mut fit = all.len();
    if all.len() > 1 && height(all.len().min(60)) > room {
        fit = (1..all.len().min(60)).take_while(|n| height(*n) <= room).last().unwrap_or(1);
    } else if all.len() > 60 {
        fit = 40;
    }
    stack.heading("Not met, worst first", "one line a cause; # is the entry in the log", None);
    let (shown, left) = all.split_at(fit.min(all.len()));
    stack.table(cause_table(shown));
    let whole: Vec<Reason> = s.a.gate.reasons.clone();
    let not_whole = |(i, r): &(usize, Reason)| *i >= shown.len() || r.what != all[*i].what;
    let over: Vec<Reason> = whole.into_iter().enumerate().filter(not_whole).map(|(_, r)| r).collect();
    if !over.is_empty() {
        let held: usize = left.iter().map(|r| r.obligations).sum();
        let words = if left.is_empty() {
            "… whole: ".to_owned()
        } else {
            format!(
                "and {} ({}): ",
                counted(left.len(), "more cause", "more causes"),
                counted(held, "obligation", "obligations")
            )
        };
        stack.fixed(12.6, move |canvas, area| {
            let page = canvas.chapters.get(MORE).copied().unwrap_or(2);
            let text = format!("{words}page {page}");
            canvas.said(Role::Paragraph, vec![Shape::text(area.x, area.y + 10.0, 8.5, Face::SemiBold, text)]);
        });
    }
    if !also.is_empty() {
        stack.note(&also);
    }
    over
}

/// Causes with what was found, the limit, and what settles them.
pub(super) fn cause_table<'a>(reasons: &[Reason]) -> Table<'a> {
    Table::of("Not met, worst first", reasons)
        .picture("", 9.0, |r| Cell::Mark(r.state, 9.0))
        .count("how many", |r| Cell::strong(r.obligations.to_string()))
        .words("what", |r| Cell::strong(r.what.as_str()))
        .figures("found", |r| r.found.as_deref().map_or(Cell::text("–"), Cell::value))
        .text("limit", |r| Cell::maybe(r.limit.as_deref()))
        .text("what settles it", |r| Cell::text(r.settles.as_deref().unwrap_or_else(|| usual(r.kind))))
        .into()
}

/// What settles a cause for which the program has nothing more specific.
const fn usual(kind: ReasonKind) -> &'static str {
    match kind {
        ReasonKind::Unmet(Verdict::Missing) => "no reading: measure",
        ReasonKind::Stage => "begin the stage, or skip it with a reason",
        ReasonKind::Open => "close it, or carry it past with a reason",
        ReasonKind::Unmet(Verdict::Stale) => "measure again",
        ReasonKind::Unmet(Verdict::Outside) => "mend it and measure again",
        _ => "",
    }
}

/// What to look at first on a wing that is clear.
fn look<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, room: f64) {
    let (all, full) = (s.look_first(), s.full());
    let make = |n: usize, stack: &mut Stack<'a>| {
        let note = "what a careful reader would ask about; # is the entry in the log";
        stack.heading("Met, but look at these first", note, None);
        let table = Table::of("Met, but look at these first", &all[..n])
            .text("", |l| Cell::strong(l.what))
            .words("", |l| Cell::text(spaced(&l.words)))
            .text("", |l| Cell::text(l.entries.as_str()))
            .text("", |l| if full { Cell::Page(l.see) } else { Cell::Empty });
        stack.table(table);
        let more: Vec<String> =
            all.iter().skip(n).map(|l| format!("{}: {}", l.what, spaced(&l.words))).collect();
        if !more.is_empty() {
            stack.note(&format!("And: {}", more.join(". ")));
        }
    };
    if all.is_empty() {
        return;
    }
    let fits = |n: usize| {
        let mut trial = Stack::new(s.set, s.grid.width);
        make(n, &mut trial);
        trial.height() <= room
    };
    let most = (1..=all.len().min(6)).rev().find(|n| fits(*n)).unwrap_or(1);
    make(most, stack);
}
