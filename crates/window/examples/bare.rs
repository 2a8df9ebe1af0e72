//! The least that the window could be: a line of text in a window, with the same driver and the same features.

use eframe::egui;

struct Bare;

impl eframe::App for Bare {
    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        egui::CentralPanel::default().show(ui, |ui| ui.heading("bare"));
    }
}

fn main() -> eframe::Result {
    let viewport = egui::ViewportBuilder::default().with_title("bare").with_inner_size([1280.0, 800.0]);
    let options = eframe::NativeOptions { viewport, ..Default::default() };
    eframe::run_native("bare", options, Box::new(|_| Ok(Box::new(Bare))))
}
