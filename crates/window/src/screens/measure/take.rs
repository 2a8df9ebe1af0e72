//! Taking a reading, and which point comes after it.

use crate::action::Action;
use crate::model::{Model, Wing};
use crate::pages::{Page, Typing};
use crate::screens::Screen;
use crate::state::{Asked, JustTaken, State};
use crate::words;
use bench::{HandsFree, Key, PortView, Target};
use record::{Facing, Instrument, Point, Reading, What, Withdrawn};

/// How long the plate shows what was taken, in seconds.
const TURNED_S: f64 = 1.2;

/// The instruments of the plan and of the log, each with its latest data.
pub fn instruments(wing: &Wing, gone: &Withdrawn) -> Vec<Instrument> {
    let mut list: Vec<Instrument> = wing.plan.instruments.clone();
    // Withdrawn ones are left out.
    for entry in wing.entries.iter().filter(|e| !gone.contains(e.seq)) {
        if let What::Instrument(i) = &entry.what {
            match list.iter_mut().find(|k| k.name == i.name) {
                Some(known) => *known = i.clone(),
                None => list.push(i.clone()),
            }
        }
    }
    list
}

/// True if the value on the port is what the chosen point asks for.
pub(crate) fn fits(s: &State, wing: &Wing) -> bool {
    let asked = s.measuring.point.as_ref().and_then(|p| wing.plan.quantity_of(p));
    asked.is_some() && wing.live.kind() == asked
}

/// Asks to record the settled value; nothing if there is none.
pub(crate) fn take_settled(s: &mut State, wing: &Wing, actions: &mut Vec<Action>) {
    let bench::Live::Settled { .. } = wing.live.live else { return };
    let Some(Target { point, facing, .. }) = target(s, wing) else { return };
    if wing.read_only || s.measuring.asked.is_some() {
        return;
    }
    s.measuring.asked = Some(Asked { point: point.clone(), after: wing.last_entry(), typed: None });
    let temperature = s.measuring.temperature();
    actions.extend([Action::DismissNotice, Action::TakeLive { point, facing, temperature }]);
}

/// Asks for a typed reading.
pub(crate) fn take_typed(s: &mut State, wing: &Wing, point: Point, typed: Typing, actions: &mut Vec<Action>) {
    let m = &mut s.measuring;
    let take = Action::Take {
        point: point.clone(),
        text: typed.text.clone(),
        facing: m.facing_at(&point),
        instrument: m.instrument.clone(),
        temperature: m.temperature(),
        new_round: std::mem::take(&mut m.new_round),
        sure: bench::Sure::Unsaid,
    };
    m.asked = Some(Asked { point, after: wing.last_entry(), typed: Some(typed) });
    actions.extend([Action::DismissNotice, take]);
}

/// Faces the instrument the other way; not while a screw is turned.
pub(crate) fn turn(s: &mut State, wing: &Wing) {
    if wing.live.level.as_ref().is_some_and(bench::LevelView::under_way) {
        return;
    }
    s.measuring.facing = s.measuring.facing.turned();
    s.measuring.taken = None;
}

/// Goes to the next point still wanted.
pub(crate) fn next(s: &mut State) {
    let here = s.measuring.point.clone();
    if let Some(point) = s.index.next(here.as_ref()).cloned() {
        s.choose(point);
    }
}

/// Notices when a reading that this person asked for is in the log, shows it as taken and goes on.
pub(crate) fn follow_reading(s: &mut State, wing: &Wing, who: &str, now: f64) {
    let Some(asked) = s.measuring.asked.take() else { return };
    let Some(reading) = read_since(wing, asked.after, who, &asked.point) else {
        // A value from the port that is neither in the log nor questioned was not recorded, and can be asked for
        // again.
        if asked.typed.is_some() || wing.live.question.is_some() {
            s.measuring.asked = Some(asked);
        }
        return;
    };
    show_taken(s, wing, reading, now);
}

/// Notices what was taken hands free at the point shown, and goes on.
pub(crate) fn follow_by_itself(s: &mut State, wing: &Wing, who: &str, now: f64) {
    if wing.live.hands_free == HandsFree::Off || s.measuring.asked.is_some() {
        return;
    }
    let point = s.measuring.point.as_ref();
    if let Some(reading) = point.and_then(|point| read_since(wing, s.heard, who, point)) {
        show_taken(s, wing, reading, now);
    }
}

/// The last reading that this person took at a point after an entry.
fn read_since<'w>(wing: &'w Wing, entry: u64, who: &str, point: &Point) -> Option<&'w Reading> {
    let new = wing.entries.iter().rev().take_while(|e| e.seq > entry).filter(|e| e.by == who);
    new.filter_map(|e| e.what.reading()).find(|r| r.point == *point)
}

/// Hands free takes values only where they are shown, and only at the point shown.
pub(crate) fn by_itself(s: &State, model: &Model, wing: &Wing, actions: &mut Vec<Action>) {
    if !matches!(wing.live.port, PortView::Open(_)) {
        return;
    }
    let nothing_over = s.pages.is_empty() && model.import.is_none();
    let writable = !wing.read_only && !model.who.name.is_empty();
    let target = match s.screen {
        Screen::Measure if wing.assessment.stage.is_some() && !super::summary::due(s) => target(s, wing),
        _ => None,
    };
    let moves = matches!(s.screen, Screen::Level | Screen::Moves) && wing.live.level.is_some();
    let shown = nothing_over && writable && (target.is_some() || moves);
    let wanted = if shown { s.measuring.hands_free } else { HandsFree::Off };
    if wanted == HandsFree::On
        && let Some(target) = target.filter(|target| wing.live.target.as_ref() != Some(target))
    {
        actions.push(Action::Bench(Key::Go(target)));
    }
    if wing.live.hands_free != wanted {
        actions.push(Action::Bench(Key::HandsFree(wanted)));
    }
}

/// The target of the live value; `None` if the point asks for something else.
fn target(s: &State, wing: &Wing) -> Option<Target> {
    let point = s.measuring.point.clone().filter(|_| fits(s, wing))?;
    let quantity = wing.plan.quantity_of(&point)?;
    let facing = s.measuring.facing_at(&point);
    Some(Target { point, quantity, facing })
}

fn show_taken(s: &mut State, wing: &Wing, reading: &Reading, now: f64) {
    s.measuring.taken = Some(JustTaken {
        point: reading.point.clone(),
        facing: reading.facing,
        figures: words::on_plate(&wing.plan, reading),
        until: now + TURNED_S,
    });
    go_on(s, wing, &reading.point, reading.facing);
}

/// After a reading: the other facing of the same point if it is wanted, otherwise the next point in the same facing.
fn go_on(s: &mut State, wing: &Wing, taken: &Point, facing: Option<Facing>) {
    if s.measuring.point.as_ref() != Some(taken) {
        return;
    }
    let other = s.index.view(wing, taken).and_then(|v| v.facing_wanted);
    if let (Some(other), Some(facing), true) = (other, facing, s.looks.pairs)
        && other != facing
    {
        s.measuring.facing = other;
        return;
    }
    // In Level the post stays chosen.
    if s.screen == Screen::Level {
        return;
    }
    if let Some(point) = s.index.next(Some(taken)).cloned() {
        s.measuring.point = Some(point);
    }
    s.measuring.past_summary = false;
}

/// The reading was refused: what was typed is shown again.
pub(crate) fn refused(s: &mut State) {
    if let Some(typed) = s.measuring.asked.take().and_then(|a| a.typed)
        && s.pages.is_empty()
    {
        s.pages.push(Page::Keypad(typed));
    }
}
