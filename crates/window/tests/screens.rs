//! Every screen, walked: nothing unnamed, no text cut off, at every size and scale.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test stops where something is missing")]

mod common;

use common::Bench;
use egui::epaint::ClippedShape;
use egui::{Rect, Shape, Theme};
use window::Screen;

/// Window sizes in pixels.
const SIZES: [(f32, f32); 4] = [(900.0, 600.0), (1280.0, 800.0), (1920.0, 1080.0), (3840.0, 2160.0)];

/// Texts that stick out of what they are shown in, sideways.
fn cut(shapes: &[ClippedShape], screen: Rect) -> Vec<String> {
    let mut out = Vec::new();
    for clipped in shapes {
        texts(&clipped.shape, &mut |text, rect, elided| {
            let clip = clipped.clip_rect.intersect(screen);
            let seen = rect.intersects(clip);
            let sticks = rect.left() < clip.left() - 1.0 || rect.right() > clip.right() + 1.0;
            if elided || (seen && sticks) {
                out.push(format!("`{text}` at {rect:?} in {clip:?}"));
            }
        });
    }
    out
}

fn texts(shape: &Shape, found: &mut dyn FnMut(&str, Rect, bool)) {
    match shape {
        Shape::Text(t) => {
            let rect = t.galley.rect.translate(t.pos.to_vec2());
            found(t.galley.text(), rect, t.galley.elided);
        }
        Shape::Vec(list) => list.iter().for_each(|s| texts(s, found)),
        _ => {}
    }
}

fn walk(of: &Bench) {
    let mut wrong = Vec::new();
    for (width, height) in SIZES {
        for scale in [1.0_f32, 1.5, 2.0, 3.0] {
            for screen in Screen::ALL {
                let mut bench = Bench::showing(&of.model);
                let theme = if scale == 1.5 { Theme::Dark } else { Theme::Light };
                bench.face.set_looks(Some(theme), scale);
                if screen == Screen::Start {
                    bench.model.wing = None;
                }
                // The harness is at one pixel a point; the window's own scale makes points larger.
                let mut harness = bench.harness(width, height);
                harness.state_mut().face.go(screen);
                harness.run_steps(4);
                assert_eq!(harness.state().face.screen(), screen);
                harness.check_accessibility();
                let area = Rect::from_min_size(egui::Pos2::ZERO, egui::vec2(width, height) / scale);
                for text in cut(&harness.output().shapes, area) {
                    wrong.push(format!("{screen:?} at {width}x{height}, {scale}: {text}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{} texts are cut:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn every_screen_of_a_whole_build_fits_everywhere() {
    walk(&Bench::whole("two-post"));
}

#[test]
fn every_screen_of_an_empty_jig_fits() {
    walk(&Bench::empty());
}

#[test]
fn every_screen_of_a_wing_that_holds_fits() {
    walk(&Bench::whole("hold"));
}
