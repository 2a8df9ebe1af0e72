//! A handful of pictures, drawn on the processor and compared with those kept in `tests/pictures`.
//!
//! `JIGTRUE_PICTURES=keep` writes them anew; look at them before they are committed.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test stops where something is missing")]
#![allow(clippy::disallowed_methods, reason = "a test has files")]

mod common;

use common::{Bench, picture};
use egui::Theme;
use std::path::Path;
use window::Screen;

/// Most of a picture that may differ.
const MAY_DIFFER: f64 = 0.002;

fn compare(name: &str, theme: Theme, scale: f32, screen: Screen, point: Option<&str>, mut bench: Bench) {
    bench.face.set_looks(Some(theme), scale);
    bench.face.go(screen);
    let now = picture::of(1000, 700, 1.0, 4, |ui| {
        bench.frame(ui);
        // A log that opens chooses its own point first.
        if let Some(point) = point {
            bench.face.choose(point.parse().unwrap());
        }
    });
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/pictures");
    let kept = folder.join(format!("{name}.png"));
    if std::env::var_os("JIGTRUE_PICTURES").is_some_and(|v| v == "keep") {
        std::fs::create_dir_all(&folder).unwrap();
        now.save(&kept);
    }
    let Some(before) = picture::Picture::load(&kept) else { panic!("there is no {}", kept.display()) };
    let off = now.differs(&before);
    if off > MAY_DIFFER {
        let new = std::env::temp_dir().join(format!("{name}.png"));
        now.save(&new);
        panic!("{name} differs in {:.2} % of its pixels; the new one is {}", off * 100.0, new.display());
    }
}

#[test]
fn measuring() {
    let mut bench = Bench::case("two-post", |s| s.action == "take" && s.what.starts_with("incidence"));
    bench.angle(1.84, 0.7);
    compare("measure", Theme::Light, 1.0, Screen::Measure, Some("incidence@S4"), bench);
}

#[test]
fn levelling_in_the_dark() {
    let mut bench = Bench::empty();
    bench.angle(0.42, 1.0);
    compare("level", Theme::Dark, 1.0, Screen::Level, Some("cross@root-post"), bench);
}

#[test]
fn profile() {
    compare("profile", Theme::Light, 1.0, Screen::Profile, None, Bench::whole("two-post"));
}

#[test]
fn gate_at_one_and_a_half() {
    compare("gate", Theme::Light, 1.5, Screen::Gate, None, Bench::whole("hold"));
}
