//! The row that says what to do next, and the last readings under the strip.

use super::Plate;
use super::evidence::counting;
use crate::draw::text::{Hand, put, row, say, width};
use crate::model::Wing;
use crate::screens::{Cx, halves, notice};
use crate::words;
use bench::Live;
use egui::{Align, Rangef, Rect, Ui, pos2};
use record::{Entry, Point};

pub fn show(ui: &Ui, wing: &Wing, cx: &mut Cx<'_>, point: &Point, plate: &Plate) {
    let bar = cx.g.instruction();
    if notice(ui, cx, bar) {
        return;
    }
    let text = words(wing, cx, point, plate);
    let (first, second) = notes(wing, cx, point);
    let hand = cx.heavy(60.0, 72.0).least(cx.g.pick(30.0, 48.0));
    let note = cx.note(22.0, 25.0);
    let painter = ui.painter();
    let need = width(painter, &hand, &text);
    let aside = width(painter, &note, &first).max(width(painter, &note, &second));
    // If the text is too long for its row, the notes are left out first.
    let notes = aside > 0.0 && need + aside + 20.0 <= bar.width();
    let free = if notes { bar.width() - aside - 20.0 } else { bar.width() };
    say(ui, bar.with_max_x(bar.left() + free), Align::Min, hand, "instruction", &text);
    if notes {
        let right = Rect::from_min_max(pos2(bar.right() - aside - 1.0, bar.top()), bar.max);
        if second.is_empty() {
            say(ui, right, Align::Max, note, "note", &first);
        } else {
            let [above, below] = halves(right, 0.31, 0.75);
            say(ui, above, Align::Max, note, "note", &first);
            say(ui, below, Align::Max, note, "note 2", &second);
        }
    }
}

fn words(wing: &Wing, cx: &Cx<'_>, point: &Point, plate: &Plate) -> String {
    let facing = point.kind().toward(cx.s.measuring.facing);
    if let Some(taken) = &cx.s.measuring.taken {
        return after(wing, cx, taken.facing.is_some(), &taken.point, point);
    }
    if !plate.figures() {
        return match &wing.live.live {
            Live::None if wing.live.port_name().is_none() => "Not live: plug in, or type it".to_owned(),
            Live::None | Live::Waiting { .. } => "Waiting for the first value".to_owned(),
            Live::Lost { .. } => "No signal. Looking for the instrument".to_owned(),
            Live::Wrong { wanted, .. } => format!("Plug in {wanted}"),
            _ => "Another instrument is needed here".to_owned(),
        };
    }
    match &wing.live.live {
        Live::Moving { .. } => "Hold it still".to_owned(),
        Live::Settling { .. } => "Keep it still".to_owned(),
        Live::Settled { .. } => "Settled: take it".to_owned(),
        Live::Taken { .. } if cx.index().is_half(wing, point) => "Turn it end for end".to_owned(),
        Live::Taken { .. } if point.kind().reverses() => {
            format!("Go to {}, facing {facing}", point.place())
        }
        Live::Taken { .. } => format!("Go to {}", point.place()),
        _ => String::new(),
    }
}

/// What comes after the reading just taken.
fn after(wing: &Wing, cx: &Cx<'_>, reverses: bool, taken: &Point, next: &Point) -> String {
    let same_kind = taken.kind() == next.kind();
    match next.place() {
        _ if cx.index().left.is_empty() => "All taken".to_owned(),
        _ if taken == next && cx.index().is_half(wing, taken) => "Turn it end for end".to_owned(),
        _ if taken == next => "Taken".to_owned(),
        place if reverses && same_kind => {
            format!("Next {place}, still {}", next.kind().toward(cx.s.measuring.facing))
        }
        place if same_kind => format!("Next {place}"),
        place => format!("Next {place}, {}", words::kind_words(next.kind())),
    }
}

/// At the right: the design as the instrument will show it, and the other reading.
fn notes(wing: &Wing, cx: &Cx<'_>, point: &Point) -> (String, String) {
    let Some(view) = cx.index().view(wing, point) else { return Default::default() };
    let (scale, places) = (wing.scale(view.unit), words::usual_decimals(view.unit));
    let hidden = cx.s.looks.blind && view.value.is_none();
    let design = view.design.filter(|_| !hidden).map(|d| {
        let shown = expected(wing, cx, point, d);
        format!("by design {}", words::signed_unit(scale, shown, places))
    });
    let design = design.unwrap_or_else(|| match (view.lower, view.upper) {
        (None, None) => String::new(),
        (l, u) => words::limits(scale, l, u),
    });
    if let Some(taken) = &cx.s.measuring.taken {
        let stations = wing.assessment.twist.iter().flat_map(|t| &t.stations);
        let own = stations.filter(|s| s.name == taken.point.place()).find_map(|s| s.twist_error_deg);
        let second = own.map_or(String::new(), |v| {
            format!("{} error {}", taken.point.place(), words::signed_unit(wing.angles(), v, 2))
        });
        return (design, second);
    }
    let other = counting(wing, cx, point).into_iter().rev().find_map(|r| {
        let facing = r.facing.filter(|f| *f != cx.s.measuring.facing)?;
        Some(format!("{} was {}", point.kind().toward(facing), words::reading(&wing.plan, r)))
    });
    (design, other.unwrap_or_default())
}

/// What the instrument should show in this facing if the wing is as designed, without the instrument's zero.
fn expected(wing: &Wing, cx: &Cx<'_>, point: &Point, design: f64) -> f64 {
    let fixture = wing.plan.fixture_of(point);
    let sign = if point.kind().reverses() { cx.s.measuring.facing.sign() } else { 1.0 };
    (design + fixture) * sign
}

/// The last two readings and the instrument, if there is room for them.
pub fn readings(ui: &Ui, wing: &Wing, cx: &Cx<'_>) {
    if !cx.g.roomy() {
        return;
    }
    let strip = cx.g.strip();
    let Rangef { min: left, max: right } = cx.g.body();
    let counts = |e: &&Entry| !cx.index().gone.contains(e.seq);
    let last = wing.entries.iter().rev().take(500).filter(counts);
    let last = last.filter_map(|e| Some((e, e.what.reading()?)));
    let dark = Hand::medium(20.0, cx.p.ink);
    let pale = Hand::medium(20.0, cx.p.pale);
    let painter = ui.painter();
    for (i, (entry, r)) in last.take(2).enumerate() {
        let middle = strip.bottom() + 33.0 + 32.0 * i as f32;
        let cell = |x: f32, wide: f32| row(left + x, left + x + wide, middle, 14.0);
        put(painter, cell(0.0, 66.0), Align::Min, pale, &format!("#{}", entry.seq));
        put(painter, cell(72.0, 90.0), Align::Min, dark, r.point.place());
        put(painter, cell(168.0, 90.0), Align::Min, dark, r.facing.map_or("", record::Facing::word));
        put(painter, cell(264.0, 100.0), Align::Min, dark, &words::reading(&wing.plan, r));
        let time = entry.at.to_string();
        put(painter, cell(372.0, 100.0), Align::Min, pale, time.get(11..19).unwrap_or_default());
    }
    let instrument = match (wing.live.instrument_name(), wing.live.port_name()) {
        (Some(name), Some(_)) => {
            format!("{name} on its port, reads to {}", step_words(wing))
        }
        _ => cx.s.measuring.instrument.clone().unwrap_or_else(|| "no instrument named".to_owned()),
    };
    let line = |n: f32| row(left + 500.0, right, strip.bottom() + 33.0 + 32.0 * n, 14.0);
    put(painter, line(0.0), Align::Max, dark, &instrument);
    let zero = wing.assessment.zeros.iter().rev().find(|z| {
        Some(z.instrument.as_str()) == wing.live.instrument_name().or(cx.s.measuring.instrument.as_deref())
    });
    if let Some(z) = zero {
        let text = format!("zero {} by reversal", words::with_u(wing.angles(), z.zero_deg, z.u_deg));
        put(painter, line(1.0), Align::Max, pale, &text);
    }
}

fn step_words(wing: &Wing) -> String {
    let Some(kind) = wing.live.kind() else { return String::new() };
    let (scale, step) = (words::on_display(&wing.plan, kind), wing.live.step());
    scale.with(&words::number(scale.size(step), words::step_decimals(scale, step)))
}
