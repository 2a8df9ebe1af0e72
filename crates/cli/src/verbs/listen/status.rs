//! The display of the bench: a heading, a figure, a line of text.

use super::screen::{Picture, Stand};
use bench::{Arrow, Bench, LevelView, Live, Main, Phase, Shown, Site, View};
use quantity::shown::{self, Scale, step_decimals};
use quantity::{Kind, Unit, Units};
use session::gauges::Connected;
use session::shown as safe;

pub fn picture<'a>(view: &View, device: &'a Connected, help: &'a str) -> Picture<'a> {
    let scale = on_display(view.units, device.quantity());
    let (stand, mut figure, progress) = seen(&view.live, scale);
    // While something is moved, the figure is the tilt itself: a level that shows 0.00 is not level by its zero.
    if let (Some(shown), Some(tilt)) = (view.live.shown(), view.level.as_ref().and_then(LevelView::tilt)) {
        figure = scale.signed(tilt.value, scale.decimals(step_decimals(shown.step)));
    }
    let unit = scale.unit().symbol();
    let (head, words) = match &view.level {
        Some(level) => (level_head(level), level_words(view, level)),
        None => (walk_head(view), walk_words(view, device, &figure, unit)),
    };
    let words = match &view.question {
        Some(question) => question.words(view.units),
        None => words,
    };
    let told = format!("{head}|{}", told(view, stand));
    Picture { head, figure, unit, progress, words: safe(&words).into_owned(), help, told }
}

/// What must change before another line is written without a terminal.
fn told(view: &View, stand: Stand) -> String {
    match (&view.question, &view.level) {
        (Some(question), _) => question.words(view.units),
        (None, None) => format!("{stand:?} {}", why(view)),
        (None, Some(level)) => {
            let phase = match level.phase {
                Phase::HoldStill | Phase::LayIt => "hold",
                Phase::AtRest => "rest",
                Phase::Turning { .. } => "turning",
                Phase::Ended => "ended",
                Phase::Lost => "lost",
            };
            let at_rest = matches!(stand, Stand::Ready | Stand::Taken);
            let foot = level.turn.as_ref().map_or("", |turn| &turn.foot);
            format!("{phase} {at_rest} {} {:?} {foot}", why(view), std::mem::discriminant(&view.main))
        }
    }
}

/// Whether it is known why no value comes, or why none comes to rest.
const fn why(view: &View) -> bool {
    matches!(&view.live, Live::Waiting { fault: Some(_) } | Live::Moving { why: Some(_), .. })
}

/// The unit of the large figure: a display shows degrees where text has degrees and minutes.
fn on_display(units: Units, kind: Kind) -> Scale {
    let units = if units.of(kind) == Unit::ArcMinute { units.with(Unit::Degree) } else { units };
    units.scale(kind)
}

fn seen(live: &Live, scale: Scale) -> (Stand, String, f32) {
    let figure = |shown: &Shown| scale.signed(shown.value, scale.decimals(step_decimals(shown.step)));
    let none = || "---".to_owned();
    match live {
        Live::None | Live::Waiting { .. } => (Stand::Silent, none(), 0.0),
        Live::Moving { shown, .. } => (Stand::Moving, figure(shown), 0.0),
        Live::Settling { shown, progress } => (Stand::Moving, figure(shown), *progress),
        Live::Settled { shown } => (Stand::Ready, figure(shown), 1.0),
        Live::Taken { shown, .. } => (Stand::Taken, figure(shown), 1.0),
        Live::Lost { .. } => (Stand::Lost, none(), 0.0),
        Live::Wrong { .. } => (Stand::Wrong, none(), 0.0),
    }
}

fn walk_head(view: &View) -> String {
    let Some(target) = &view.target else { return String::new() };
    let words = safe(&target.words()).into_owned();
    match view.left {
        0 => words,
        n => format!("{words} ({n} still wanted)"),
    }
}

fn walk_words(view: &View, device: &Connected, figure: &str, unit: &str) -> String {
    match &view.live {
        Live::Lost { for_ms, .. } => lost(*for_ms, "no value; reconnecting"),
        Live::Wrong { here, wanted } => wrong(here, wanted),
        Live::None | Live::Waiting { fault: None } if device.settle.each_value() => {
            "waits for its button".to_owned()
        }
        Live::None | Live::Waiting { fault: None } => "no value comes in".to_owned(),
        Live::Waiting { fault: Some(fault) } => format!("no value comes in: {fault}"),
        Live::Moving { why: Some(why), .. } => format!("moving: {why}"),
        Live::Moving { .. } | Live::Settling { .. } => "moving".to_owned(),
        Live::Taken { .. } => "taken; go on to the next".to_owned(),
        Live::Settled { .. } if device.settle.each_value() => format!("sent {figure} {unit}"),
        Live::Settled { .. } => format!("settled at {figure} {unit}"),
    }
}

fn lost(for_ms: u64, words: &str) -> String {
    format!("LOST {} s: {words}", for_ms / 1000)
}

fn wrong(here: &str, wanted: &str) -> String {
    format!("WRONG INSTRUMENT  number {here} is here, {wanted} is wanted; nothing is recorded")
}

fn level_head(level: &LevelView) -> String {
    let facing = level.point.as_ref().map_or(level.facing.word(), |point| point.kind().toward(level.facing));
    match (&level.site, &level.turn, &level.point) {
        (Site::Post(post), _, Some(point)) => {
            let out = match level.tilt() {
                Some(tilt) if tilt.zero_out => "; facing and zero taken out",
                Some(_) => "; facing taken out, zero not known",
                None => "",
            };
            format!("level {} {}, facing {facing}{out}", safe(post), point.kind().row().short)
        }
        (Site::Post(post), ..) => format!("level {}, facing {facing}", safe(post)),
        (Site::Spars, Some(turn), Some(point)) => {
            format!("move {}, level on {}, facing {facing}", safe(&turn.foot), safe(point.place()))
        }
        (Site::Spars, None, Some(point)) => format!("level on {}, facing {facing}", safe(point.place())),
        (Site::Spars, _, None) => "no support needs turning".to_owned(),
    }
}

/// The line of the loop of moves: the tilts, their state, what to do.
fn level_words(view: &View, level: &LevelView) -> String {
    match &view.live {
        Live::Lost { for_ms, .. } => {
            return lost(*for_ms, "no value and no turns; the start is kept; reconnecting");
        }
        Live::Wrong { here, wanted } => return wrong(here, wanted),
        Live::Waiting { fault: Some(fault) } => return format!("no value comes in: {fault}"),
        Live::None | Live::Waiting { fault: None } => return "no value comes in".to_owned(),
        _ => {}
    }
    let tilts: Vec<String> = level
        .tilts
        .iter()
        .map(|place| {
            let step = view.instrument.as_ref().map_or(0.01, |device| device.resolution);
            let name = match level.site {
                Site::Post(_) => place.point.kind().word(),
                Site::Spars => place.point.place(),
            };
            format!("{name} {}", view.units.scale(Kind::Angle).signed_with(place.value, step_decimals(step)))
        })
        .collect();
    let at_rest = matches!(view.live, Live::Settled { .. } | Live::Taken { .. });
    let state = match (level.phase, at_rest) {
        (Phase::Turning { .. }, false) => "turning",
        (_, true) => "at rest",
        (_, false) => "moving",
    };
    let what = match level.phase {
        Phase::HoldStill | Phase::LayIt => hold_still(view),
        Phase::AtRest => at_rest_words(view, level),
        Phase::Turning { .. } => turned(level),
        Phase::Ended | Phase::Lost => String::new(),
    };
    format!("{}  {state}  {what}", tilts.join("  "))
}

fn hold_still(view: &View) -> String {
    match &view.live {
        Live::Moving { why: Some(why), .. } => why.to_string(),
        _ => "hold it still".to_owned(),
    }
}

fn at_rest_words(view: &View, level: &LevelView) -> String {
    match (&view.main, &level.turn, &level.coarse) {
        (_, _, Some(coarse)) => format!("{}; t takes it: take it both ways first", coarse.words),
        _ if level.too_little_to_tell() => {
            "no turn can be told yet: less than the level can tell. t takes it, both ways".to_owned()
        }
        (Main::Count, Some(turn), _) => {
            format!(
                "{}; this axis does not show it: count the turns and record them with `jigtrue move`",
                turn.words
            )
        }
        (Main::Start, Some(turn), _) => format!("Enter: start. {}", turn.words),
        (_, None, _) if !level.reasons.is_empty() => level.reasons.join("; "),
        _ => "level enough: leave it. t takes it, both ways".to_owned(),
    }
}

fn turned(level: &LevelView) -> String {
    let Some(turn) = &level.turn else { return "turn, then hold it still".to_owned() };
    match (turn.turns, turn.to_go) {
        (Some(turns), Some(to_go)) => {
            let done = shown::turns_only(turns - to_go)
                .map_or_else(|| "nothing turned".to_owned(), |done| format!("{done} so far"));
            let to_go = shown::turns(to_go)
                .map_or_else(|| "no more to go".to_owned(), |left| format!("{left} to go"));
            format!("{}: {done}, {to_go}", turn.foot)
        }
        _ => turn.words.clone(),
    }
}

/// How the instrument should be laid, said once.
pub fn seat_words(level: &LevelView, bench: &Bench, units: Units) -> String {
    let across = match bench.seat().arrow {
        Arrow::ForeAndAft => "across it, arrow to the leading edge",
        Arrow::AlongSpan => "along the span, arrow outboard",
    };
    let lay = match (&level.site, &level.point) {
        (Site::Post(post), _) => format!("Lay it on {} {across}.", safe(post)),
        (Site::Spars, Some(point)) => format!(
            "Lay it on {}, arrow to the leading edge, and leave it there while the screw is turned.",
            safe(point.place())
        ),
        (Site::Spars, None) => String::new(),
    };
    let mut words = format!("{lay} Enter does what the line says.");
    if let bench::Zero::Known { value, u, pairs } = bench.zero() {
        let zero = units.with_u(Kind::Angle, value, u).signed_with();
        words.push_str(&format!(" Zero {zero} by {}.", shown::count(u64::from(pairs), "pair", "pairs")));
    }
    words
}

/// A value with the decimals of the display.
pub fn figure(value: f64, resolution: f64) -> String {
    shown::signed(value, step_decimals(resolution))
}
