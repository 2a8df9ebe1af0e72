//! Choosing a file: logs by wing, stage and last reading, and why one cannot be opened.

use super::{Page, change};
use crate::action::{Action, Files};
use crate::draw::button::Button;
use crate::draw::shape::dashed;
use crate::draw::text::{Hand, row, say};
use crate::model::LogRow;
use crate::screens::Cx;
use crate::screens::list;
use egui::{Align, Rect, Stroke, Ui, pos2, vec2};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FilesFor {
    Log,
    Plan,
    Table,
    /// The log of a wing built in a jig: its place among the plan's wings.
    Wing(usize),
}

impl FilesFor {
    pub const fn files(self) -> Files {
        match self {
            Self::Log | Self::Wing(_) => Files::Logs,
            Self::Plan => Files::Plans,
            Self::Table => Files::Tables,
        }
    }

    const fn title(self) -> &'static str {
        match self {
            Self::Log => "Open a log",
            Self::Wing(_) => "Which log?",
            Self::Plan => "Which plan?",
            Self::Table => "Import a table",
        }
    }
}

pub fn show(ui: &mut Ui, cx: &mut Cx<'_>, to: FilesFor, at: usize) {
    let Some(listing) = cx.model.listing.clone() else {
        return cx.ask(Action::ListFolder { path: cx.model.folder.clone(), files: to.files() });
    };
    let x = cx.g.whole();
    let bar = cx.g.title(x);
    let cell = cx.g.split(bar, 8.0, [200.0, 150.0, 150.0, 150.0]);
    say(ui, cell[0], Align::Min, cx.heavy(40.0, 56.0).least(22.0), "title", to.title());
    let size = cx.g.pick(21.0, 26.0);
    for (i, place) in listing.places.iter().take(2).enumerate() {
        let here = listing.folder.starts_with(&place.path);
        if Button::new(cell[1 + i], &place.name, size).chosen_if(here).show(ui) {
            look(cx, to, &place.path);
        }
    }
    let none = listing.above.is_none().then_some("top");
    if Button::new(cell[3], "Up a folder", size).unless(none).show(ui)
        && let Some(above) = &listing.above
    {
        look(cx, to, above);
    }
    let line = row(x.min, x.max, bar.bottom() + cx.g.pick(16.0, 20.0), 18.0);
    say(ui, line, Align::Min, cx.note(18.0, 22.0).least(15.0), "folder", &listing.folder);
    let top = bar.bottom() + cx.g.pick(34.0, 42.0) - cx.g.screen.top();
    let area =
        cx.g.rect(x.min..=x.max - cx.g.pick(84.0, 130.0), top..=cx.g.buttons_y().min - cx.g.pick(10.0, 20.0));
    let folders = listing.folders.len();
    let rows: Vec<LogRow> =
        listing.folders.iter().map(|f| folder_row(f)).chain(listing.files.iter().cloned()).collect();
    let high = cx.g.pick(64.0, 72.0);
    let per = crate::grid::fit(area.height(), high, 8.0);
    let mut at = cx.s.row_from(at, rows.len());
    let from = at / per * per;
    for (n, (i, r)) in rows.iter().enumerate().skip(from).take(per).enumerate() {
        let rect =
            Rect::from_min_size(area.min + vec2(0.0, n as f32 * (high + 8.0)), vec2(area.width(), high));
        if show_row(ui, cx, rect, r, i == at) {
            at = i;
        }
    }
    if rows.is_empty() {
        let text = "Nothing here that can be opened.";
        let line = row(area.left(), area.right(), area.top() + 40.0, 30.0);
        say(ui, line, Align::Min, cx.heavy(26.0, 32.0), "empty", text);
    }
    let side = Rect::from_min_max(
        pos2(area.right() + 16.0, area.top()),
        pos2(cx.g.screen.left() + x.max, area.bottom()),
    );
    let to_row = list::turn(ui, cx, list::stacked(side), area, rows.len(), per, from);
    if to_row != from {
        at = to_row;
    }
    buttons(ui, cx, to, rows.get(at), at < folders, at);
}

fn folder_row(path: &str) -> LogRow {
    let name = path.rsplit(['/', '\\']).next().unwrap_or(path).to_owned();
    LogRow { path: path.to_owned(), file: name, wing: "folder".to_owned(), ..LogRow::default() }
}

fn look(cx: &mut Cx<'_>, to: FilesFor, path: &str) {
    cx.ask(Action::ListFolder { path: path.to_owned(), files: to.files() });
    change(cx, Page::Files { to, at: 0 });
}

fn show_row(ui: &Ui, cx: &Cx<'_>, rect: Rect, r: &LogRow, chosen: bool) -> bool {
    let named = format!("File {}", r.file);
    let button = Button::new(rect, &r.file, 20.0).named(&named).chosen_if(chosen);
    match (&r.problem, chosen) {
        (Some(_), false) => dashed(ui.painter(), rect, Stroke::new(1.5, cx.p.edge)),
        _ => button.face(ui),
    }
    let ink = if r.problem.is_some() { cx.p.pale } else { cx.p.ink };
    let (first, second) =
        (Hand::heavy(cx.g.pick(22.0, 26.0), ink).least(16.0), cx.note(18.0, 20.0).least(15.0));
    let painter = ui.painter();
    let (a, b) = (rect.top() + rect.height() * 0.33, rect.top() + rect.height() * 0.75);
    let (left, right) = (rect.left() + 20.0, rect.right() - 20.0);
    let (top_right, under) = match &r.problem {
        Some(why) => ("cannot open", why.as_str()),
        None => (r.stage.as_str(), r.wing.as_str()),
    };
    let last = if r.problem.is_some() { "" } else { r.last.as_str() };
    let most = rect.width() * 0.5;
    list::ends(painter, row(left, right, a, 14.0), most, first, [&r.file, top_right]);
    list::ends(painter, row(left, right, b, 14.0), most, second, [under, last]);
    button.target(ui).clicked()
}

fn buttons(ui: &Ui, cx: &mut Cx<'_>, to: FilesFor, row: Option<&LogRow>, folder: bool, at: usize) {
    let [cancel, open] = cx.g.split(cx.g.buttons(cx.g.whole()), 8.0, [215.0, 545.0]);
    if Button::new(cancel, "Cancel", cx.g.pick(24.0, 30.0)).show(ui) {
        return cx.s.close();
    }
    let verb = if matches!(to, FilesFor::Wing(_)) && !folder { "Take up" } else { "Open" };
    let text = row.map_or(verb.to_owned(), |r| format!("{verb} {}", r.file));
    let why = row.map_or(Some("nothing is chosen"), |r| r.problem.as_deref());
    let pressed =
        Button::new(open, &text, cx.g.pick(30.0, 38.0)).named("Open it").main().unless(why).show(ui);
    if let Some(LogRow { path, .. }) = row.filter(|_| pressed) {
        if folder {
            return look(cx, to, path);
        }
        cx.s.close();
        let path = path.clone();
        let action = match to {
            FilesFor::Log => Action::OpenLog(path),
            FilesFor::Plan => Action::NewLogFromPlan { log: log_beside(&path), plan: path },
            FilesFor::Table => Action::Import(path),
            FilesFor::Wing(at) => match wing_name(cx, at) {
                Some(wing) => Action::TakeUp { wing, log: path },
                None => return,
            },
        };
        return cx.ask_anew(action);
    }
    if let Some(Page::Files { at: then, .. }) = cx.s.pages.last_mut() {
        *then = at;
    }
}

fn wing_name(cx: &Cx<'_>, at: usize) -> Option<String> {
    let wings = &cx.model.wing.as_ref()?.plan.rigging.wings;
    wings.get(at).map(|w| w.name.clone())
}

/// The log that goes with a plan, beside it.
fn log_beside(plan: &str) -> String {
    let stem = plan.strip_suffix(".toml").unwrap_or(plan);
    format!("{stem}.jigtrue")
}
