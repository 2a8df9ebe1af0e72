//! A table that becomes a list where it does not fit: no cell is ever cut.

use crate::paint::marks::{self, Mark};
use crate::theme::palette;
use egui::{FontId, RichText, TextStyle, Ui};

/// A cell.
#[derive(Clone, Debug, Default)]
pub struct Cell {
    /// Its text.
    pub text: String,
    /// A mark before it.
    pub mark: Option<Mark>,
}

impl From<String> for Cell {
    fn from(text: String) -> Self {
        Self { text, mark: None }
    }
}

impl From<&str> for Cell {
    fn from(text: &str) -> Self {
        text.to_owned().into()
    }
}

/// A cell with a mark.
pub fn marked(mark: Mark, text: impl Into<String>) -> Cell {
    Cell { text: text.into(), mark: Some(mark) }
}

/// A row.
pub struct Row {
    /// Its cells, as many as there are heads.
    pub cells: Vec<Cell>,
    /// True if it is the chosen one.
    pub chosen: bool,
}

impl Row {
    /// A row that is not chosen.
    pub fn new(cells: Vec<Cell>) -> Self {
        Self { cells, chosen: false }
    }
}

/// Draws it; gives the row whose first cell was clicked, where rows can be chosen.
pub fn show(ui: &mut Ui, id: &str, heads: &[&str], rows: &[Row], choosable: bool) -> Option<usize> {
    let available = ui.available_width();
    if natural_width(ui, heads, rows) <= available {
        grid(ui, id, heads, rows, choosable)
    } else {
        list(ui, heads, rows, choosable)
    }
}

fn natural_width(ui: &Ui, heads: &[&str], rows: &[Row]) -> f32 {
    let body = TextStyle::Body.resolve(ui.style());
    let width = |text: &str, font: FontId| {
        ui.painter().layout_no_wrap(text.to_owned(), font, egui::Color32::WHITE).size().x
    };
    let mark_room = ui.text_style_height(&TextStyle::Body) + 4.0;
    let mut total = 0.0;
    for (i, head) in heads.iter().enumerate() {
        let mut most = width(head, body.clone());
        for row in rows {
            if let Some(cell) = row.cells.get(i) {
                let extra =
                    if cell.mark.is_some() { mark_room } else { 0.0 } + if i == 0 { 22.0 } else { 0.0 };
                most = most.max(width(&cell.text, body.clone()) + extra);
            }
        }
        total += most + 18.0;
    }
    total
}

fn grid(ui: &mut Ui, id: &str, heads: &[&str], rows: &[Row], choosable: bool) -> Option<usize> {
    let mut clicked = None;
    let pale = palette(ui).pale;
    egui::Grid::new(ui.scope_id().with(id)).striped(true).spacing([18.0, 4.0]).min_row_height(24.0).show(
        ui,
        |ui| {
            for head in heads {
                ui.label(RichText::new(*head).color(pale));
            }
            ui.end_row();
            for (r, row) in rows.iter().enumerate() {
                for (c, cell) in row.cells.iter().enumerate() {
                    if show_cell(ui, cell, choosable && c == 0, row.chosen) {
                        clicked = Some(r);
                    }
                }
                ui.end_row();
            }
        },
    );
    clicked
}

fn list(ui: &mut Ui, heads: &[&str], rows: &[Row], choosable: bool) -> Option<usize> {
    let mut clicked = None;
    let pale = palette(ui).pale;
    for (r, row) in rows.iter().enumerate() {
        ui.separator();
        for (c, (cell, head)) in row.cells.iter().zip(heads).enumerate() {
            if cell.text.is_empty() && cell.mark.is_none() {
                continue;
            }
            ui.horizontal_wrapped(|ui| {
                if c > 0 && !head.is_empty() {
                    ui.label(RichText::new(format!("{head}:")).color(pale));
                }
                if show_cell(ui, cell, choosable && c == 0, row.chosen) {
                    clicked = Some(r);
                }
            });
        }
    }
    clicked
}

fn show_cell(ui: &mut Ui, cell: &Cell, choosable: bool, chosen: bool) -> bool {
    let p = palette(ui);
    match (cell.mark, choosable) {
        (Some(mark), _) => {
            if ui.layout().is_horizontal() && ui.layout().main_wrap {
                marks::icon(ui, &p, mark);
                ui.label(&cell.text);
            } else {
                marks::label(ui, &p, mark, &cell.text);
            }
            false
        }
        (None, true) => ui.selectable_label(chosen, &cell.text).clicked(),
        (None, false) => {
            ui.label(&cell.text);
            false
        }
    }
}
