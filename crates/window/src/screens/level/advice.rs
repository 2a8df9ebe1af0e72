//! Which foot, which way, how many turns; and the picture of it.

use super::value_note;
use crate::draw::arrows::{self, Turn as Way};
use crate::draw::button::Button;
use crate::draw::picture::{self, Leaning, Sure};
use crate::draw::text::{Hand, name, put, row, say, width};
use crate::model::Wing;
use crate::pages::{Ask, Then};
use crate::screens::{Cx, moves, notice};
use crate::words;
use assess::advice::Effect;
use bench::{LevelView, Live, Phase, Question};
use egui::{Align, Rect, Ui, pos2};
use quantity::shown;
use record::plan::Side;
use record::{Point, PointKind};

struct Lines {
    first: String,
    second: String,
    way: Option<Way>,
}

/// Draws the two lines, with the notes at their right.
pub fn show(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, point: &Point, levelling: Option<&LevelView>) {
    let top = cx.g.pick(232.0, 392.0) + cx.g.spare();
    let rows = cx.g.rect(cx.g.whole(), top..=top + cx.g.pick(108.0, 168.0));
    if notice(ui, cx, rows) {
        return;
    }
    if let Some(asked) = crate::pages::bench_asks(&wing.live) {
        ask(ui, cx, rows, &asked);
        return;
    }
    let lines = words_of(wing, cx, point, levelling);
    let notes = notes(wing, cx, levelling);
    let hand = cx.heavy(58.0, 84.0).least(cx.g.pick(30.0, 48.0));
    let painter = ui.painter();
    let turn = if lines.way.is_some() { cx.g.pick(56.0, 100.0) } else { 0.0 };
    let (a, b) = (rows.top() + rows.height() * 0.23, rows.top() + rows.height() * 0.74);
    say(ui, row(rows.left(), rows.right(), a, 40.0), Align::Min, hand, "instruction", &lines.first);
    if let Some(way) = lines.way {
        let r = cx.g.pick(20.0, 32.0);
        arrows::around(painter, pos2(rows.left() + r + 6.0, b), r, way, cx.p.control);
    }
    say(ui, row(rows.left() + turn, rows.right(), b, 40.0), Align::Min, hand, "instruction 2", &lines.second);
    // Each line has room for two notes; the first that fits is shown.
    let free = |used: f32| rows.width() - used - 20.0;
    let first = free(width(painter, &hand, &lines.first));
    let second = free(turn + width(painter, &hand, &lines.second));
    aside(ui, cx, rows, [first, first, second, second], &notes);
    name(ui, rows.with_min_x(rows.right() - 1.0), "notes", &notes.join("; "));
}

/// Notes at the right end of the rows, each in the first line with room for it; `room` holds the widths of the lines.
fn aside(ui: &Ui, cx: &Cx<'_>, rows: Rect, room: [f32; 4], notes: &[String]) {
    let note = Hand::medium(cx.g.pick(19.0, 24.0), cx.p.pale).least(15.0);
    let pitch = rows.height() / 4.0;
    let mut left: Vec<&String> = notes.iter().collect();
    for (i, wide) in room.into_iter().enumerate() {
        let fits = |t: &&String| width(ui.painter(), &note, t) <= wide;
        let Some(at) = left.iter().position(fits) else { continue };
        let text = left.remove(at);
        let line = row(rows.right() - wide, rows.right(), rows.top() + pitch * (i as f32 + 0.5), 14.0);
        put(ui.painter(), line, Align::Max, note, text);
    }
}

/// The bench's question, with its answers as buttons.
fn ask(ui: &Ui, cx: &mut Cx<'_>, rows: Rect, question: &Ask) {
    let above = rows.with_max_y(rows.center().y - 4.0);
    say(ui, above, Align::Min, cx.heavy(44.0, 64.0).least(24.0), "instruction", &question.title);
    let below = rows.with_min_y(rows.bottom() - cx.g.pick(50.0, 70.0));
    let weights = vec![1.0; question.answers.len().max(1)];
    for (rect, answer) in cx.g.cells(below, 8.0, &weights).into_iter().zip(&question.answers) {
        let button = Button::new(rect, &answer.text, cx.g.pick(22.0, 28.0));
        if button.answering(question.read()).show(ui)
            && let Then::Do(action) = &answer.then
        {
            cx.ask(action.clone());
        }
    }
}

fn words_of(wing: &Wing, cx: &Cx<'_>, point: &Point, levelling: Option<&LevelView>) -> Lines {
    let plain =
        |first: &str, second: &str| Lines { first: first.to_owned(), second: second.to_owned(), way: None };
    if cx.s.measuring.taken.is_some() {
        return if cx.index().is_half(wing, point) {
            plain("Taken", "Turn it end for end")
        } else {
            plain("Taken", "Turn, or the next tilt")
        };
    }
    match &wing.live.live {
        Live::None if wing.live.port_name().is_none() => {
            return plain("Not live", "Plug in a level, or type it");
        }
        Live::None | Live::Waiting { .. } => return plain("Waiting for the level", ""),
        Live::Lost { .. } => return plain("No signal", "Looking for the level"),
        Live::Wrong { wanted, .. } => return plain("Wrong instrument", &format!("Plug in {wanted}")),
        _ => {}
    }
    let Some(l) = levelling else { return plain("Take it both ways first", "") };
    if l.phase == Phase::LayIt {
        let how = format!("facing {}", point.kind().toward(l.facing));
        return plain(&format!("Lay it {}", words::kind_words(point.kind())), &how);
    }
    if let Some(m) = moved(wing) {
        let turns = m.turns.and_then(|t| words::turns(t, 8)).map_or(String::new(), |t| format!(", {t}"));
        return Lines {
            first: format!("{} {}", shown::capital(&m.foot), m.effect.did()),
            second: format!("{}{turns}. Record it?", words::with_unit(wing.lengths(), m.mm.abs(), 1)),
            way: None,
        };
    }
    match (&l.turn, &l.coarse) {
        _ if l.too_little_to_tell() => plain("No turn can be told yet", "Less than the level can tell"),
        (Some(t), _) => {
            let mm = t.mm_to_go(l.phase);
            let verb = Effect::at(&wing.plan, &t.foot, mm).told();
            let second = match t.to_go {
                Some(turns) => {
                    let parts = if t.give_or_take.is_some_and(|g| g < 0.25) { 8 } else { 4 };
                    words::turns(turns, parts).map_or_else(
                        || "less than the level can tell".to_owned(),
                        |n| format!("{n} {}", shown::way(turns)),
                    )
                }
                None => format!("by {}", words::with_unit(wing.lengths(), mm.abs(), 1)),
            };
            let way = t.to_go.map(Way::of);
            Lines { first: format!("{verb} the {}", short(&t.foot, point)), second, way }
        }
        (None, Some(coarse)) => plain(&shown::capital(&coarse.words), "Take it both ways first"),
        (None, None) if l.reasons.is_empty() && l.tilt().is_some_and(|place| place.zero_out) => {
            plain("Level enough: leave it", "Take it both ways")
        }
        (None, None) if l.reasons.is_empty() => plain("Hold it still", "Take it both ways first"),
        (None, None) => {
            plain(l.reasons.first().map_or("", String::as_str), l.reasons.get(1).map_or("", String::as_str))
        }
    }
}

/// What moved, while the window asks whether to record it.
pub fn moved(wing: &Wing) -> Option<&bench::Measured> {
    match &wing.live.question {
        Some(Question::Record { measured, .. }) => Some(measured),
        _ => None,
    }
}

/// The name of a foot without that of its post.
fn short<'a>(foot: &'a str, point: &Point) -> &'a str {
    foot.strip_prefix(point.place()).map_or(foot, str::trim_start)
}

/// Notes beside the two lines, the most needed first.
fn notes(wing: &Wing, cx: &Cx<'_>, levelling: Option<&LevelView>) -> Vec<String> {
    // On a larger panel the plate itself says what was taken out.
    let mut out: Vec<String> =
        if cx.g.roomy() { Vec::new() } else { vec![value_note(wing, levelling).to_owned()] };
    out.retain(|note| !note.is_empty());
    let Some(l) = levelling else { return out };
    if l.coarse.as_ref().is_some_and(|c| c.foot.is_some()) && l.turn.is_none() {
        out.insert(0, "only coarse: zero not known".to_owned());
        out.push("it gives the turns".to_owned());
    }
    if l.turn.as_ref().is_some_and(|t| t.by == bench::By::Count) {
        out.push("count the turns:".to_owned());
        out.push("this axis does not show it".to_owned());
    }
    if let Some(g) = l.turn.as_ref().and_then(|t| t.give_or_take).and_then(|g| words::turns(g.max(0.125), 8))
    {
        out.push(format!("give or take {g}"));
    }
    if let Phase::Turning { done_mm, .. } = l.phase {
        let per = l.turn.as_ref().and_then(|t| t.turns.map(|n| n / t.mm)).filter(|r| r.is_finite());
        let turns = per.and_then(|r| words::turns(done_mm * r, 8));
        let length = words::with_unit(wing.lengths(), done_mm.abs(), 1);
        let away = l.turn.as_ref().is_some_and(|t| done_mm * t.mm < 0.0);
        let way = if away { " the wrong way" } else { "" };
        out.push(match turns {
            Some(turns) if cx.g.roomy() => format!("done {turns}, {length}{way}"),
            Some(turns) => format!("done {turns}{way}"),
            // Less than the smallest part of a turn is the display flickering.
            None if per.is_some() => "nothing turned yet".to_owned(),
            None => format!("done {length}{way}"),
        });
    }
    if l.turn.as_ref().is_some_and(|t| t.turns.is_some()) && !l.too_little_to_tell() {
        out.push("as you look at the screw's head".to_owned());
    }
    out
}

/// The picture of the post: which end is low, which foot, which way.
pub fn picture(ui: &Ui, wing: &Wing, cx: &Cx<'_>, rect: Rect, point: &Point, levelling: Option<&LevelView>) {
    let painter = ui.painter();
    if let Some(l) = levelling.filter(|l| l.site == bench::Site::Spars) {
        return arrow(ui, wing, cx, rect, l);
    }
    let Some((l, tilt)) = levelling.and_then(|l| Some((l, l.tilt()?))) else {
        // While the plate is turned over there is nothing to show beside the value.
        if cx.s.measuring.taken.is_some() {
            return;
        }
        let hand = cx.note(24.0, 30.0).least(15.0);
        let middle = row(rect.left(), rect.right(), rect.center().y, 14.0);
        put(painter, middle, Align::Center, hand, "no live value");
        return;
    };
    let (known, tilt) = (if tilt.zero_out { Sure::Measured } else { Sure::Coarse }, tilt.value);
    let half = wing.live.step() / 2.0;
    // Fore and aft is seen from the end (nose at the left); along the span is seen from the front, as the wing lies
    // before you.
    let cross = point.kind() == PointKind::Cross;
    let high_is_left = if cross { true } else { (wing.plan.wing.side == Side::Left) != cx.s.looks.turned };
    let low_left = (tilt.abs() >= half || known == Sure::Coarse).then_some((tilt > 0.0) != high_is_left);
    let which = match (cross, cx.g.roomy()) {
        (true, _) => "nose",
        (false, true) => "outboard end",
        (false, false) => "outboard",
    };
    let end = if tilt <= 0.0 { "low" } else { "high" };
    let text = match (tilt.abs() < half, known) {
        (true, Sure::Measured) => "level".to_owned(),
        (true, Sure::Coarse) => "zero not known".to_owned(),
        (false, Sure::Measured) => format!("{which} is {end}"),
        (false, Sure::Coarse) => format!("coarse: {which} {end}"),
    };
    let ink = if known == Sure::Measured { cx.p.ink } else { cx.p.pale };
    let hand = Hand { colour: ink, ..cx.heavy(20.0, 26.0).least(15.0) };
    // A small panel has no room for the word; the notes have it.
    let doubt = format!("{which} {end}?");
    let drawn = if text.starts_with("coarse") && !cx.g.roomy() { &doubt } else { &text };
    put(painter, row(rect.left(), rect.right(), rect.top() + hand.size * 0.6, 14.0), Align::Min, hand, drawn);
    // A measured tilt gives the foot to turn; a coarse one only a likely foot. If it was turned too far it goes back:
    // the arrow shows what is still to go.
    let measured = l.turn.as_ref().map(|t| (t.foot.as_str(), t.mm_to_go(l.phase) > 0.0));
    let measured = measured.filter(|_| known == Sure::Measured && !l.too_little_to_tell());
    let coarse = l.coarse.as_ref().and_then(|c| c.foot.as_ref()).map(|f| (f.name.as_str(), f.raise));
    let foot = measured.or(coarse.filter(|_| known == Sure::Coarse));
    let foot_left = foot.and_then(|(foot, _)| side_of(wing, point, foot, cx));
    let below = hand.size * 1.5;
    let inner =
        Rect::from_min_max(pos2(rect.left(), rect.top() + below), pos2(rect.right(), rect.bottom() - below));
    let raise = foot.is_some_and(|(_, raise)| raise);
    picture::draw(painter, &cx.p, inner, Leaning { low_left, foot_left, raise, known });
    let mut said = text;
    if let Some((foot, raise)) = foot {
        let at = row(rect.left(), rect.right(), rect.bottom() - hand.size * 0.5, 14.0);
        let align = if foot_left == Some(true) { Align::Min } else { Align::Max };
        put(painter, at, align, hand, short(foot, point));
        let way = if raise { "up" } else { "down" };
        let turns = if known == Sure::Coarse { ", no turns before the zero is known" } else { "" };
        said = format!("{said}; {foot} {way}{turns}");
    }
    name(ui, inner, "picture", &said);
}

fn arrow(ui: &Ui, wing: &Wing, cx: &Cx<'_>, rect: Rect, l: &LevelView) {
    let Some(turn) = &l.turn else { return };
    let mm = turn.mm_to_go(l.phase);
    let effect = Effect::at(&wing.plan, &turn.foot, mm);
    let verb = effect.told();
    let hand = cx.heavy(20.0, 26.0).least(15.0);
    let line = |y: f32| row(rect.left(), rect.right(), y, 14.0);
    put(ui.painter(), line(rect.top() + hand.size * 0.6), Align::Min, hand, verb);
    moves::arrow(ui, cx, rect.center(), rect.height() * 0.5, effect);
    put(ui.painter(), line(rect.bottom() - hand.size * 0.5), Align::Min, hand, &turn.foot);
    name(ui, rect, "picture", &format!("{verb} {}", turn.foot));
}

/// True if a foot is at the left of the picture.
fn side_of(wing: &Wing, point: &Point, foot: &str, cx: &Cx<'_>) -> Option<bool> {
    let post = wing.plan.posts.iter().find(|p| p.name == point.place())?;
    let foot = post.feet.iter().find(|f| f.name == foot)?;
    Some(match point.kind() {
        PointKind::Cross => foot.aft.value() < 0.0,
        _ => (foot.out.value() > 0.0) == ((wing.plan.wing.side == Side::Left) != cx.s.looks.turned),
    })
}
