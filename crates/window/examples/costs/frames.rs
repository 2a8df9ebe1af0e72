//! Frames of the screens with plots against an empty frame, in one window and in turns.

use super::common::Bench;
use super::screen::Screen;
use eframe::egui;
use std::time::Instant;
use window::Screen as Of;
use window::trace::Trace;

/// What is drawn in turns; none is the empty frame.
const SUBJECTS: [Option<Of>; 5] =
    [None, Some(Of::Watch), Some(Of::Profile), Some(Of::Shape), Some(Of::History)];
/// Frames of one turn, and how many of them only warm up.
const TURN: usize = 24;
const WARMING: usize = 6;
const ROUNDS: usize = 6;
/// Samples of the trace.
const SAMPLES: u32 = 1_000_000;

/// Measures them in a window of their own: name, microseconds of a frame, of an empty one.
pub fn measured(screen: &Screen) -> Vec<(String, f64, f64)> {
    let out = screen.command(&std::env::current_exe().unwrap()).arg("frames").output().unwrap();
    let text = String::from_utf8_lossy(&out.stdout).into_owned();
    let times: Vec<(String, f64)> = text
        .lines()
        .filter_map(|l| l.split_once('\t').and_then(|(name, us)| Some((name.to_owned(), us.parse().ok()?))))
        .collect();
    let empty = times.first().unwrap().1;
    times.into_iter().skip(1).map(|(name, us)| (name, us, empty)).collect()
}

fn name(of: Option<Of>) -> String {
    match of {
        None => "empty".to_owned(),
        Some(Of::Watch) => "window frame, 1 M samples".to_owned(),
        Some(screen) => format!("window frame, {}", screen.name()),
    }
}

struct Frames {
    bench: Bench,
    at: usize,
    frame: usize,
    round: usize,
    last: Option<Instant>,
    times: Vec<Vec<f64>>,
}

/// Draws until all are measured, and prints what came of it.
pub fn run() {
    let mut bench = Bench::whole("two-post");
    let mut trace = Trace::of("level@root-post".parse().unwrap());
    for i in 0..SAMPLES {
        trace.push(f64::from(i) * 0.1, 0.05 + f64::from(i % 977) * 1e-5);
    }
    bench.model.wing.as_mut().unwrap().trace = Some(trace);
    let frames =
        Frames { bench, at: 0, frame: 0, round: 0, last: None, times: vec![Vec::new(); SUBJECTS.len()] };
    let viewport = egui::ViewportBuilder::default().with_inner_size([1280.0, 800.0]);
    // As the window has it.
    let mut options = eframe::NativeOptions { viewport, dithering: false, ..Default::default() };
    // As fast as it goes.
    options.glow_options.vsync = false;
    eframe::run_native("frames", options, Box::new(|_| Ok(Box::new(frames)))).unwrap();
}

impl eframe::App for Frames {
    fn clear_color(&self, visuals: &egui::Visuals) -> [f32; 4] {
        window::theme::ground(visuals)
    }

    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        let now = Instant::now();
        if let Some(last) = self.last.replace(now)
            && self.frame > WARMING
            && self.round > 0
        {
            self.times[self.at].push((now - last).as_secs_f64() * 1e6);
        }
        self.frame += 1;
        if self.frame > TURN {
            self.frame = 0;
            self.at += 1;
            if self.at == SUBJECTS.len() {
                (self.at, self.round) = (0, self.round + 1);
            }
        }
        if self.round > ROUNDS {
            for (of, times) in SUBJECTS.iter().zip(std::mem::take(&mut self.times)) {
                println!("{}\t{}", name(*of), super::median(times));
            }
            self.round = 0;
            self.times = vec![Vec::new(); SUBJECTS.len()];
            ui.ctx().send_viewport_cmd(egui::ViewportCommand::Close);
            return;
        }
        match SUBJECTS[self.at] {
            None => {
                egui::CentralPanel::default().show(ui, |_| {});
            }
            Some(screen) => {
                self.bench.face.go(screen);
                self.bench.frame(ui);
            }
        }
        ui.ctx().request_repaint();
    }
}
