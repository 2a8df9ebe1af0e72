//! Every screen and state at both sizes, measured: targets from the widget tree, texts and colours from what was painted.

use crate::common::states::State;
use crate::common::{Bench, hand, paint, picture, states};
use egui::{Rect, Theme, Vec2, pos2, vec2};
use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};
use window::Looks;
use window::theme::Palette;

const SIZES: [(f32, f32); 2] = [(800.0, 480.0), (1280.0, 800.0)];
/// Most of a picture that may differ.
const MAY_DIFFER: f64 = 0.002;

/// The window brought into a state; what is then painted and drawn comes from its real face.
fn brought(state: &State, theme: Theme, (width, height): (f32, f32)) -> hand::Window {
    let mut bench = Bench::showing(&state.model);
    bench.face.set_looks(Looks { theme: Some(theme), ..Looks::default() });
    let mut w = hand::sized(bench, width, height);
    (state.go)(&mut w);
    w.run_steps(2);
    w
}

fn targets(name: &str, w: &hand::Window, size: Vec2, faults: &mut Vec<String>) {
    let screen = Rect::from_min_size(pos2(0.0, 0.0), size).expand(0.5);
    let all = hand::buttons(w);
    for (i, (n, rect, _)) in all.iter().enumerate() {
        if rect.width() < 47.5 || rect.height() < 47.5 {
            faults.push(format!("{name}: target `{n}` is {:?}", rect.size()));
        }
        if !screen.contains_rect(*rect) {
            faults.push(format!("{name}: target `{n}` leaves the screen: {rect:?}"));
        }
        for (m, other, _) in &all[i + 1..] {
            let common = rect.intersect(*other);
            if common.width() > 1.5 && common.height() > 1.5 {
                faults.push(format!("{name}: `{n}` and `{m}` overlap by {:?}", common.size()));
            }
        }
    }
}

pub fn texts(
    name: &str,
    all: &[paint::Painted],
    size: Vec2,
    ground: egui::Color32,
    faults: &mut Vec<String>,
) {
    let screen = Rect::from_min_size(pos2(0.0, 0.0), size).expand(0.5);
    let written: Vec<(usize, &paint::Painted)> = all
        .iter()
        .enumerate()
        .filter(|(_, p)| p.text.as_ref().is_some_and(|t| !t.trim().is_empty()))
        .collect();
    for (n, (i, p)) in written.iter().enumerate() {
        let text = p.text.as_deref().unwrap_or_default();
        if !screen.contains_rect(p.bounds) {
            faults.push(format!("{name}: `{text}` leaves the screen: {:?}", p.bounds));
        }
        if !p.clip.expand(1.0).contains_rect(p.bounds) {
            faults.push(format!("{name}: `{text}` is cut off at {:?}: {:?}", p.clip, p.bounds));
        }
        let contrast = paint::contrast(p.colour, paint::behind(all, *i, ground));
        if contrast < 4.5 {
            faults.push(format!("{name}: `{text}` has a contrast of {contrast:.1}"));
        }
        for (_, other) in &written[n + 1..] {
            let common = p.bounds.intersect(other.bounds);
            if common.width() > 1.0 && common.height() > 1.0 {
                let second = other.text.as_deref().unwrap_or_default();
                faults.push(format!("{name}: `{text}` lies on `{second}`: {:?}", common.size()));
            }
        }
    }
}

/// The plate says nothing about a verdict, whatever the state of the value.
fn plate(name: &str, size: Vec2, all: &[paint::Painted], p: &Palette, faults: &mut Vec<String>) {
    if !name.starts_with("measure") || name.contains("type") {
        return;
    }
    let plate = window::grid::Grid::of(Rect::from_min_size(pos2(0.0, 0.0), size)).plate();
    for q in all.iter().filter(|q| plate.contains_rect(q.bounds)) {
        if [p.met, p.outside, p.open].contains(&q.colour) {
            faults.push(format!("{name}: a verdict colour in the plate at {:?}", q.bounds));
        }
    }
}

fn compare(name: &str, now: &picture::Picture, faults: &mut Vec<String>) {
    let (w, h) = (now.width, now.height);
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("pictures");
    let kept = folder.join(format!("{name}-{w}x{h}.png"));
    if std::env::var_os("JIGTRUE_PICTURES").is_some_and(|v| v == "keep") {
        std::fs::create_dir_all(&folder).unwrap();
        now.save(&kept);
        return;
    }
    let Some(before) = picture::Picture::load(&kept) else {
        faults.push(format!("there is no {}", kept.display()));
        return;
    };
    let off = now.differs(&before);
    if off > MAY_DIFFER {
        let new = std::env::temp_dir().join(format!("{name}-{w}x{h}.png"));
        now.save(&new);
        faults.push(format!(
            "{name} differs in {:.2} % of its pixels; the new one is {}",
            off * 100.0,
            new.display()
        ));
    }
}

/// `JIGTRUE_PICTURES=keep` writes the pictures anew; look at them before they are committed. `JIGTRUE_STATE=gate`
/// tests only the states whose names begin so.
#[test]
fn every_screen_and_state_keeps_to_the_grid_and_looks_as_it_did() {
    looks_as_it_did(|name, _| {
        let both = matches!(name, "measure" | "level" | "gate" | "profile" | "measure-still-taken");
        if both { &[Theme::Light, Theme::Dark] } else { &[Theme::Light] }
    });
}

/// On the small panel every screen is also tested in the dark.
#[test]
#[ignore = "forty pictures more"]
fn every_screen_in_the_dark_looks_as_it_did() {
    looks_as_it_did(|_, size| if size == SIZES[0] { &[Theme::Dark] } else { &[] });
}

/// One state at one size in one theme.
struct Look<'s> {
    state: &'s State,
    size: (f32, f32),
    theme: Theme,
}

impl Look<'_> {
    fn faults(&self) -> Vec<String> {
        let mut faults = Vec::new();
        let Self { state, size, theme } = *self;
        let dark = if theme == Theme::Dark { "-dark" } else { "" };
        let name = format!("{}{dark}", state.name);
        let of = format!("{name} {size:?}");
        let mut w = brought(state, theme, size);
        let (area, palette) = (vec2(size.0, size.1), Palette::of(theme));
        targets(&of, &w, area, &mut faults);
        let mut bench = std::mem::replace(w.state_mut(), Bench::at_start());
        let (now, painted) =
            picture::with_shapes(size.0 as usize, size.1 as usize, 1.0, 3, |ui| bench.frame(ui));
        texts(&of, &painted, area, palette.ground, &mut faults);
        plate(&of, area, &painted, &palette, &mut faults);
        compare(&name, &now, &mut faults);
        faults
    }
}

/// The plate is turned over for a moment after each reading: what is written on it can be read too.
#[test]
fn a_plate_that_is_turned_over_can_be_read() {
    for theme in [Theme::Light, Theme::Dark] {
        for size in SIZES {
            let mut bench =
                Bench::case("two-post", |s| s.action == "take" && s.what.starts_with("cross@tip-post"));
            bench.face.set_looks(Looks { theme: Some(theme), ..Looks::default() });
            bench.settled(0.10);
            let mut w = hand::sized(bench, size.0, size.1);
            states::on(&mut w, window::Screen::Level);
            w.state_mut().face.choose("cross@tip-post".parse().unwrap());
            w.run_steps(2);
            hand::press(&mut w, egui::Key::Space);
            hand::says(&w, "Turn it end for end");
            let mut bench = std::mem::replace(w.state_mut(), Bench::at_start());
            let (_, painted) =
                picture::with_shapes(size.0 as usize, size.1 as usize, 1.0, 1, |ui| bench.frame(ui));
            let mut faults = Vec::new();
            texts("taken", &painted, vec2(size.0, size.1), Palette::of(theme).ground, &mut faults);
            assert!(faults.is_empty(), "{faults:#?}");
        }
    }
}

fn looks_as_it_did(themes: impl Fn(&str, (f32, f32)) -> &'static [Theme]) {
    let only = std::env::var("JIGTRUE_STATE").ok();
    let states = states::all();
    let mut looks = Vec::new();
    for state in states.iter().filter(|s| only.as_ref().is_none_or(|o| s.name.starts_with(o))) {
        for size in SIZES {
            looks.extend(themes(state.name, size).iter().map(|theme| Look { state, size, theme: *theme }));
        }
    }
    // Each is a window of its own, so that all processors can work on them.
    let next = AtomicUsize::new(0);
    let some = || {
        let take = || looks.get(next.fetch_add(1, Ordering::Relaxed));
        std::iter::from_fn(take).flat_map(Look::faults).collect::<Vec<_>>()
    };
    let faults: Vec<String> = std::thread::scope(|threads| {
        let count = std::thread::available_parallelism().map_or(1, usize::from);
        let begun: Vec<_> = (0..count).map(|_| threads.spawn(some)).collect();
        begun.into_iter().flat_map(|t| t.join().unwrap()).collect()
    });
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

/// Between the two sizes, beyond them and below them nothing is lost.
#[test]
fn other_sizes_lose_nothing() {
    let states = states::all();
    let mut faults = Vec::new();
    for size in [(1024.0, 600.0), (1100.0, 720.0), (1920.0, 1080.0), (800.0, 1280.0)] {
        for state in
            states.iter().filter(|s| matches!(s.name, "measure" | "level" | "gate" | "profile" | "start"))
        {
            let w = brought(state, Theme::Light, size);
            targets(&format!("{} {size:?}", state.name), &w, vec2(size.0, size.1), &mut faults);
        }
    }
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn figures_do_not_move_while_the_last_digit_changes() {
    let base = states::all().into_iter().find(|s| s.name == "measure").unwrap();
    let mut places: Option<Vec<Rect>> = None;
    for digit in 0..10 {
        let mut bench = Bench::showing(&base.model);
        bench.settled(-0.40 - f64::from(digit) / 100.0);
        let mut w = hand::small(bench);
        (base.go)(&mut w);
        let mut bench = std::mem::replace(w.state_mut(), Bench::at_start());
        let painted = paint::of(800.0, 480.0, 3, |ui| bench.frame(ui));
        let plate = window::grid::Grid::of(Rect::from_min_size(pos2(0.0, 0.0), vec2(800.0, 480.0))).plate();
        let large = |p: &&paint::Painted| {
            p.text.is_some() && plate.contains_rect(p.bounds) && p.bounds.height() > 60.0
        };
        let mut now: Vec<Rect> = painted.iter().filter(large).map(|p| p.bounds).collect();
        now.pop();
        if let Some(before) = &places {
            assert_eq!(*before, now, "at digit {digit}");
        }
        places = Some(now);
    }
    assert!(places.unwrap().len() >= 2);
}

/// The share of two drawings that differs.
fn differ(a: &[Vec<bool>], b: &[Vec<bool>]) -> f64 {
    let pixels = || a.iter().flatten().zip(b.iter().flatten());
    pixels().filter(|(a, b)| a != b).count() as f64 / pixels().count() as f64
}

fn told_apart(drawn: &[(&str, Vec<Vec<bool>>)], least: f64) {
    for (n, (name, one)) in drawn.iter().enumerate() {
        for (other, two) in &drawn[n + 1..] {
            let share = differ(one, two);
            assert!(share >= least, "{name} and {other} differ in {:.1} % only", share * 100.0);
        }
    }
}

/// In grey, in both themes: the seven marks, on the tiles of the gate, and the signs of the seven states of the live
/// value.
#[test]
fn marks_and_states_can_be_told_apart_by_shape_alone() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("pictures");
    for dark in ["", "-dark"] {
        let kept =
            |name: &str| picture::Picture::load(&folder.join(format!("{name}{dark}-800x480.png"))).unwrap();
        let gate = kept("gate");
        let marks: Vec<(&str, Vec<Vec<bool>>)> =
            ["outside", "bar", "doubtful", "undecided", "stale", "missing", "met"]
                .into_iter()
                .enumerate()
                .map(|(i, name)| {
                    let left = 88 + i * 704 / 7;
                    let tile = gate.ink(left + 4..left + 88, 97..123);
                    // The mark is the first thing drawn from the left.
                    let from = (0..84).find(|x| tile.iter().any(|row| row[*x])).unwrap();
                    (name, tile.iter().map(|row| row[from..from + 24].to_vec()).collect())
                })
                .collect();
        told_apart(&marks, 0.2);
        let states = ["", "-moving", "-settling", "-still-taken", "-last", "-lost", "-wrong"];
        let signs: Vec<(&str, Vec<Vec<bool>>)> = states
            .into_iter()
            .map(|state| (state, kept(&format!("measure{state}")).ink(100..208, 80..200)))
            .collect();
        told_apart(&signs, 0.04);
    }
}

#[test]
fn colours_keep_their_distance() {
    for theme in [Theme::Light, Theme::Dark] {
        let p = Palette::of(theme);
        for behind in [p.ground, p.sheet, p.well] {
            for text in [p.ink, p.pale] {
                assert!(paint::contrast(text, behind) >= 4.5, "{text:?} on {behind:?}");
            }
            for mark in [p.met, p.outside, p.open, p.pale, p.edge] {
                assert!(paint::contrast(mark, behind) >= 3.0, "{mark:?} on {behind:?}");
            }
        }
        assert!(paint::contrast(p.on_control, p.control) >= 4.5);
    }
}
