//! Frames of the screens with plots against an empty frame, in one window and in turns.

use super::common::Bench;
use super::screen::Screen;
use eframe::egui;
use std::time::Instant;
use window::Screen as Of;
use window::trace::Trace;

/// What is drawn in turns; none is the empty frame. With it the samples of the watch.
const SUBJECTS: [(Option<Of>, u32); 6] = [
    (None, 0),
    (Some(Of::Watch), 1_000_000),
    (Some(Of::Watch), 1_000),
    (Some(Of::Profile), 0),
    (Some(Of::Shape), 0),
    (Some(Of::History), 0),
];
/// Frames of one turn, and how many of them only warm up.
const TURN: usize = 24;
const WARMING: usize = 6;
const ROUNDS: usize = 6;

/// A frame and what it is measured against, in microseconds.
pub struct Pair {
    pub name: String,
    pub rival: String,
    pub us: f64,
    pub rival_us: f64,
    pub aim: f64,
}

/// Measures them in a window of their own.
pub fn measured(screen: &Screen) -> Vec<Pair> {
    let out = screen.command(&std::env::current_exe().unwrap()).arg("frames").output().unwrap();
    let text = String::from_utf8_lossy(&out.stdout).into_owned();
    let times: Vec<(String, f64)> = text
        .lines()
        .filter_map(|l| l.split_once('\t').and_then(|(name, us)| Some((name.to_owned(), us.parse().ok()?))))
        .collect();
    let pair = |(name, us): &(String, f64), (rival, rival_us): &(String, f64), aim| {
        let (name, rival) = (format!("window frame, {name}"), format!("{rival}, same renderer"));
        Pair { name, rival, us: *us, rival_us: *rival_us, aim }
    };
    let mut pairs: Vec<Pair> = times.iter().skip(1).map(|one| pair(one, &times[0], 2.0)).collect();
    pairs.insert(1, pair(&times[1], &times[2], 1.2));
    pairs
}

fn name((of, samples): (Option<Of>, u32)) -> String {
    match of {
        None => "empty frame".to_owned(),
        Some(Of::Watch) => format!("{samples} samples"),
        Some(screen) => screen.word().to_owned(),
    }
}

/// A trace with noise as of an instrument at rest, so that it fills its chart.
fn trace(samples: u32) -> Trace {
    let mut trace = Trace::of("level@root-post".parse().unwrap());
    for i in 0..samples {
        let mixed = i.wrapping_mul(0x9e37_79b1);
        let noise = (mixed ^ (mixed >> 15)).wrapping_mul(0x85eb_ca6b).count_ones();
        trace.push(f64::from(i) * 0.1, 0.05 + f64::from(noise) * 1e-3);
    }
    trace
}

struct Frames {
    bench: Bench,
    traces: Vec<Option<Trace>>,
    at: usize,
    frame: usize,
    round: usize,
    last: Option<Instant>,
    times: Vec<Vec<f64>>,
}

/// Draws until all are measured, and prints what came of it.
pub fn run() {
    let bench = Bench::whole("two-post");
    let traces = SUBJECTS.iter().map(|(_, samples)| Some(trace(*samples))).collect();
    let times = vec![Vec::new(); SUBJECTS.len()];
    let frames = Frames { bench, traces, at: 0, frame: 0, round: 0, last: None, times };
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
        match SUBJECTS[self.at].0 {
            None => {
                egui::CentralPanel::default().show(ui, |_| {});
            }
            Some(screen) => {
                self.bench.face.go(screen);
                let shown = self.at;
                std::mem::swap(&mut self.bench.model.wing.as_mut().unwrap().trace, &mut self.traces[shown]);
                self.bench.frame(ui);
                std::mem::swap(&mut self.bench.model.wing.as_mut().unwrap().trace, &mut self.traces[shown]);
            }
        }
        ui.ctx().request_repaint();
    }
}
