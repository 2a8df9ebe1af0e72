//! The value that is read across the shop.

use super::Cx;
use crate::face::quantity_of;
use crate::live::{self, Heading};
use crate::model::Wing;
use crate::paint::big::{self, Big};
use crate::paint::marks;
use crate::theme::palette;
use crate::words;
use assess::view::PointView;
use egui::{Role, Sense, Ui, vec2};
use record::Point;

/// What the big figures say.
struct Showing {
    /// The figures.
    text: String,
    /// Their unit.
    unit: String,
    /// The line below.
    under: String,
    /// Which way.
    heading: Option<Heading>,
    /// The ring.
    ring: Option<f32>,
}

/// Works out what to show at a point: the live value if one stands on the port, else the last reading.
fn showing(wing: &Wing, point: &Point, view: &PointView, facing: record::Facing) -> Showing {
    let kind = quantity_of(wing, point);
    let live = wing.live.value.filter(|v| Some(v.kind) == kind);
    let last_step = last_resolution(wing, point);
    let (value, step, ring) = match live {
        Some(v) => {
            (Some(live::meant(&wing.plan, point, v.shown, Some(facing))), v.resolution, Some(v.settled))
        }
        None => (view.value, last_step, None),
    };
    let places =
        if live.is_some() { words::decimals(step) } else { words::usual_decimals(view.unit.base_symbol()) };
    let text = value.map_or_else(|| "–".to_owned(), |v| words::number(v, places));
    let unit = value.map_or_else(String::new, |_| words::unit_sign(view.unit.base_symbol()).to_owned());
    let deviation = value.zip(view.design).map(|(v, d)| v - d);
    let heading = deviation.and_then(|d| live::heading(&wing.plan, point, d, step));
    let under = match (value, deviation, heading) {
        (None, _, _) => view.design.map_or_else(
            || "not measured yet".to_owned(),
            |d| {
                format!(
                    "not measured yet; should be {}",
                    words::with_unit(
                        d,
                        view.unit.base_symbol(),
                        words::usual_decimals(view.unit.base_symbol())
                    )
                )
            },
        ),
        (Some(_), Some(d), Some(_)) if live.is_none() && view.verdict == Some(assess::Verdict::Within) => {
            format!("{}: within", words::signed_unit(d, view.unit.base_symbol(), places.max(1)))
        }
        (Some(_), Some(d), Some(h)) => {
            format!("{}: {}", words::signed_unit(d, view.unit.base_symbol(), places.max(1)), h.words)
        }
        (Some(_), Some(_), None) => "as designed".to_owned(),
        (Some(_), None, _) => limits_words(view),
    };
    let settled_within = live.is_none() && view.verdict == Some(assess::Verdict::Within);
    let heading = heading.filter(|_| !settled_within);
    Showing { text, unit, under, heading, ring }
}

fn limits_words(view: &PointView) -> String {
    match (view.lower, view.upper) {
        (None, None) => words::standing(view).to_owned(),
        (l, u) => words::limits(l, u, view.unit.base_symbol()),
    }
}

fn last_resolution(wing: &Wing, point: &Point) -> f64 {
    let step = wing.entries.iter().rev().find_map(|e| match &e.what {
        record::What::Reading(r) if r.point == *point => Some(r.resolution),
        _ => None,
    });
    step.unwrap_or(0.01)
}

/// Draws it, of that height.
pub fn show(ui: &mut Ui, wing: &Wing, cx: &Cx<'_>, point: &Point, view: &PointView, height: f32) {
    let p = palette(ui);
    let shows = showing(wing, point, view, cx.state.facing_now(wing, point));
    let typing = !cx.state.typed.is_empty();
    let (text, unit) =
        if typing { (cx.state.typed.clone(), String::new()) } else { (shows.text, shows.unit) };
    let under = if typing { "Enter takes it, Esc drops it".to_owned() } else { shows.under };
    let ready = wing.live.value.is_some_and(|v| v.ready);
    let colour = match (shows.ring, ready) {
        (Some(_), true) => p.within,
        _ => p.ink,
    };
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    let arrow = if typing { None } else { shows.heading.and_then(|h| h.arrow) };
    let ring = if typing { None } else { shows.ring };
    big::draw(
        &ui.painter_at(rect),
        &p,
        rect,
        &Big { text: &text, unit: &unit, under: &under, arrow, ring, colour },
    );
    let space = if unit.starts_with('°') || unit.is_empty() { "" } else { " " };
    let settled = match (ring, ready) {
        (None, _) => "",
        (Some(_), true) => ", settled",
        (Some(_), false) => ", settling",
    };
    marks::name(&response, Role::Label, None, &format!("{point}: {text}{space}{unit}, {under}{settled}"));
}
