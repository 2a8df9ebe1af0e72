//! Draws every screen of every shipped case into a folder, for looking at: `album FOLDER [WIDTH HEIGHT SCALE [dark]]`.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a tool for whoever works on the screens; it stops where something is missing"
)]
#![allow(clippy::disallowed_methods, reason = "it writes pictures")]

#[path = "../tests/window/common/mod.rs"]
mod common;

use common::{Bench, picture};
use egui::Theme;
use window::{Looks, Screen};

fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let number = |i: usize, or: f32| args.get(i).and_then(|a| a.parse().ok()).unwrap_or(or);
    let Some(folder) = args.first() else {
        eprintln!("album FOLDER [WIDTH HEIGHT SCALE [dark]]");
        return;
    };
    std::fs::create_dir_all(folder).unwrap();
    let (width, height, scale) = (number(1, 1280.0), number(2, 800.0), number(3, 1.0));
    let theme = if args.get(4).is_some_and(|a| a == "dark") { Theme::Dark } else { Theme::Light };
    let only = args.get(5);
    for case in session::demo::CASES.iter().filter(|c| only.is_none_or(|o| o == c.name)) {
        for screen in Screen::ALL {
            let mut bench = Bench::whole(case.name);
            if matches!(screen, Screen::Start | Screen::Setup) {
                bench.model.wing = None;
            }
            bench.face.set_looks(Looks { theme: Some(theme), scale, ..Looks::default() });
            bench.face.go(screen);
            let drawn = picture::of(width as usize, height as usize, 1.0, 5, |ui| {
                bench.frame(ui);
                bench.face.go(screen);
            });
            let name = format!("{}-{}.png", case.name, screen.word().replace(' ', "-"));
            drawn.save(&std::path::Path::new(folder).join(name));
        }
    }
}
