//! Where the window meets the machine: eframe, the session, the port.

mod desk;
mod device;
mod glance;
mod keep;
mod listing;
mod port;
mod sheet_file;
mod sound;
#[cfg(test)]
mod tests;

use desk::Desk;
use eframe::egui;
use std::path::PathBuf;
use std::time::Duration;
use window::Face;

/// How often the port is checked while nothing visible changes: that no value comes is to be shown too.
const PORT_EVERY: Duration = Duration::from_secs(1);
/// How often while a trace grows.
const TRACE_EVERY: Duration = Duration::from_millis(400);

/// Side of the picture that letters are kept in, in pixels.
const LETTERS_SIDE: usize = 4096;

struct App {
    face: Face,
    desk: Desk,
}

/// Runs the window until it is closed.
pub fn run(log: Option<PathBuf>) -> eframe::Result {
    let viewport = egui::ViewportBuilder::default()
        .with_title("jigtrue")
        .with_app_id("jigtrue-window")
        .with_inner_size([1280.0, 800.0])
        .with_min_inner_size([800.0, 480.0]);
    // Nothing in the window has gradients whose steps would have to be hidden.
    let options = eframe::NativeOptions { viewport, dithering: false, ..Default::default() };
    eframe::run_native(
        "jigtrue-window",
        options,
        Box::new(move |cc| {
            window::theme::install(&cc.egui_ctx);
            let mut desk = Desk::new(cc.egui_ctx.clone());
            let mut face = Face::new();
            face.set_looks(desk.looks());
            if let Some(log) = log {
                desk.open(&log);
            }
            Ok(Box::new(App { face, desk }))
        }),
    )
}

impl eframe::App for App {
    fn clear_color(&self, visuals: &egui::Visuals) -> [f32; 4] {
        window::theme::ground(visuals)
    }

    fn raw_input_hook(&mut self, _ctx: &egui::Context, input: &mut egui::RawInput) {
        // Letters are drawn once into a picture as wide as is allowed; at the widest, one row of large figures takes
        // 16 MB, twice.
        input.max_texture_side = input.max_texture_side.map(|side| side.min(LETTERS_SIDE));
    }

    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        self.desk.keep_up();
        let actions = self.face.show(ui, self.desk.model());
        let asked = !actions.is_empty();
        for action in actions {
            if action == window::Action::Quit {
                ui.ctx().send_viewport_cmd(egui::ViewportCommand::Close);
            }
            self.desk.act(action);
        }
        self.desk.keep_looks(self.face.looks());
        if asked {
            ui.ctx().request_repaint();
        }
        if self.desk.listening() {
            ui.ctx().request_repaint_after(if self.desk.watching() { TRACE_EVERY } else { PORT_EVERY });
        }
    }
}
