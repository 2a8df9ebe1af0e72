//! One point over the stages.

use super::measure::chosen;
use super::table::{self, Row};
use super::{Cx, card};
use crate::history;
use crate::keys;
use crate::model::Wing;
use crate::paint::marks::{self, Mark};
use crate::plots::series::{self, Bar, Hover};
use crate::theme::palette;
use crate::words;
use assess::Verdict;
use egui::{RichText, Ui};

/// The screen.
pub fn show(ui: &mut Ui, wing: &Wing, cx: &mut Cx<'_>) {
    let Some((point, view)) = chosen(wing, cx) else {
        ui.label("Choose a point on the wing.");
        return;
    };
    let p = palette(ui);
    let past = history::of(&wing.plan, &wing.entries, &point);
    ui.horizontal_wrapped(|ui| {
        ui.heading(words::point(&point));
        marks::label(ui, &p, super::measure::mark(view), words::standing(view));
        if let Some(v) = view.value {
            let text = match view.u {
                Some(u) => format!(
                    "{} ± {}",
                    words::with_unit(v, view.unit.base_symbol(), 2),
                    words::with_unit(2.0 * u, view.unit.base_symbol(), 2)
                ),
                None => words::with_unit(v, view.unit.base_symbol(), 2),
            };
            ui.label(RichText::new(text).strong());
        }
        if let Some(d) = view.design {
            ui.label(format!("design {}", words::with_unit(d, view.unit.base_symbol(), 2)));
        }
    });
    if let Some(why) = &view.stale_because {
        ui.label(format!("Stale: {why}"));
    }
    if past.is_empty() {
        ui.label("No reading was taken here yet.");
        return;
    }
    let standing = |x: &history::Past| {
        if x.withdrawn.is_some() {
            Mark::Of(Verdict::Missing)
        } else if view.entries.contains(&x.seq) {
            super::measure::mark(view)
        } else {
            Mark::Plain
        }
    };
    let bars: Vec<Bar> = past
        .iter()
        .enumerate()
        .map(|(i, x)| Bar { x: (i + 1) as f64, y: x.value, u: 0.0, mark: standing(x), name: x.text.clone() })
        .collect();
    let say = |(i, x): (usize, &history::Past)| {
        ((i + 1) as f64, format!("entry {}\n{} {}\n{}", x.seq, x.text, x.facing, words::instant(&x.at)))
    };
    let hover = Hover(past.iter().enumerate().map(say).collect());
    let y_name = format!("value in {}", words::unit_sign(view.unit.base_symbol()));
    let height = (ui.available_height() - 150.0).clamp(160.0, 420.0);
    series::along_span("history", height, false, "reading", &y_name, hover, &p).show(ui, |plot| {
        if let Some(d) = view.design {
            series::line(plot, "design", vec![[0.5, d], [past.len() as f64 + 0.5, d]], p.ink, 1.5, false);
        }
        let kept: Vec<[f64; 2]> =
            bars.iter().zip(&past).filter(|(_, x)| x.withdrawn.is_none()).map(|(b, _)| [b.x, b.y]).collect();
        series::line(plot, "readings", kept, p.ghost, 1.5, false);
        series::bars(plot, &p, "history", &bars, 0.1);
    });
    card(ui, |ui| rows(ui, cx, view, &past, &standing));
}

fn rows(
    ui: &mut Ui,
    cx: &mut Cx<'_>,
    view: &assess::view::PointView,
    past: &[history::Past],
    standing: &impl Fn(&history::Past) -> Mark,
) {
    let row = |x: &history::Past| {
        let state = match &x.withdrawn {
            Some(reason) => format!("withdrawn: {reason}"),
            None if view.entries.contains(&x.seq) => "in use".to_owned(),
            None => "earlier".to_owned(),
        };
        Row::new(vec![
            x.seq.to_string().into(),
            x.stage.clone().unwrap_or_default().into(),
            x.text.as_str().into(),
            x.facing.into(),
            words::with_unit(x.value, view.unit.base_symbol(), 2).into(),
            table::marked(standing(x), state),
            x.instrument.as_str().into(),
            format!("{}", x.round).into(),
            x.by.as_str().into(),
            words::instant(&x.at).into(),
        ])
    };
    let rows: Vec<Row> = past.iter().map(row).collect();
    let heads =
        ["entry", "stage", "as shown", "facing", "means", "state", "instrument", "round", "by", "at (UTC)"];
    if let Some(i) = table::show(ui, "history", &heads, &rows, true)
        && let Some(x) = past.get(i).filter(|x| x.withdrawn.is_none())
    {
        cx.state.dialog = Some(super::dialogs::Dialog::Withdraw {
            seq: x.seq,
            what: format!("{} {}", view.point, x.text),
            reason: String::new(),
            fresh: true,
        });
    }
    ui.label(RichText::new("Click an entry's number to withdraw it.").color(palette(ui).pale));
    if ui.button("Withdraw the last of the log  (Backspace)").clicked() {
        keys::withdraw_last(cx.state, cx.model);
    }
}
