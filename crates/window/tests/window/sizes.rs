//! Every state of the window, and every screen of odd wings, at every size of window and text and in both themes:
//! what is painted stays on the screen, nothing covers a text, and everything can be read.

use crate::common::states::{self, State};
use crate::common::{Bench, hand, live, paint, picture};
use crate::{grid, units, walk};
use egui::Theme;
use std::panic::AssertUnwindSafe;
use std::sync::atomic::{AtomicUsize, Ordering};
use window::model::Model;
use window::theme::Palette;
use window::{Looks, Screen};

/// In pixels: small panels, a small portable, larger ones, half of a screen, one on its side.
const SIZES: [(f32, f32); 8] = [
    (800.0, 480.0),
    (1024.0, 600.0),
    (1280.0, 800.0),
    (1366.0, 768.0),
    (1920.0, 1080.0),
    (960.0, 1080.0),
    (640.0, 1000.0),
    (800.0, 1280.0),
];
const SCALES: [f32; 3] = [1.0, 1.5, 2.0];

/// What is tested: the window brought somewhere.
struct Place {
    name: String,
    model: Model,
    go: Go,
}

#[derive(Clone, Copy)]
enum Go {
    State(fn(&mut hand::Window)),
    Screen(Screen),
}

impl Place {
    fn reached(&self) -> Bench {
        let mut w = hand::small(Bench::showing(&self.model));
        match self.go {
            Go::State(go) => go(&mut w),
            Go::Screen(screen) => states::on(&mut w, screen),
        }
        w.run_steps(2);
        std::mem::replace(w.state_mut(), Bench::at_start())
    }
}

/// Every screen of unusual wings.
fn odd() -> Vec<Place> {
    let one = {
        let mut bench = Bench::empty();
        bench.does(|s| drop(s.stage(&session::BeginStage::named("jig empty")).unwrap()));
        bench.does(|s| {
            drop(
                s.take(session::Take {
                    point: "cross@root-post".to_owned(),
                    text: "0.10".to_owned(),
                    facing: Some(record::Facing::Forward),
                    ..session::Take::default()
                })
                .unwrap(),
            );
        });
        bench.model.clone()
    };
    let mut broken = Bench::whole("two-post").model.clone();
    let wing = broken.wing.as_mut().unwrap();
    let how = assess::Broken::new("its hash does not fit", Some(88));
    wing.assessment =
        std::sync::Arc::new(assess::assess(&wing.plan, &wing.entries, &assess::Chain::Broken(how.clone())));
    wing.chain = assess::Chain::Broken(how.clone());
    wing.read_only = true;
    let mut stations = Bench::whole("two-post").model.clone();
    let wing = stations.wing.as_mut().unwrap();
    let mut named = (*wing.assessment).clone();
    for station in &mut named.twist.as_mut().unwrap().stations {
        station.name = format!("rib {} with the name that the shop gave it", station.name);
    }
    wing.assessment = std::sync::Arc::new(named);
    let mut lost = Bench::whole("hold");
    lost.live(live::lost(8, -0.47));
    let mut wrong = Bench::whole("hold");
    wrong.live(live::wrong());
    let mut unread = Bench::whole("two-post").model.clone();
    unread.notice = Some(window::model::Notice {
        wrong: true,
        words: "Not written: the disk is full. The reading is still here; try again.".to_owned(),
    });
    let wings = [
        ("empty", Bench::empty().model.clone()),
        ("one-reading", one),
        ("two-post", Bench::whole("two-post").model.clone()),
        ("sixty", Bench::whole("sixty").model.clone()),
        ("upright", Bench::whole("upright").model.clone()),
        ("long-names", walk::long().model.clone()),
        ("long-names-of-stations", stations),
        ("imperial", units::case("hold", units::IMPERIAL).model.clone()),
        ("imperial-rigged", units::case("rigged", units::IMPERIAL).model.clone()),
        ("rigged", Bench::whole("rigged").model.clone()),
        ("broken", broken),
        ("lost", lost.model.clone()),
        ("wrong", wrong.model.clone()),
        ("not-written", unread),
    ];
    let screens = |(name, model): (&str, Model)| {
        Screen::ALL.map(|screen| Place {
            name: format!("{name}-{}", screen.word().replace(' ', "-")),
            model: model.clone(),
            go: Go::Screen(screen),
        })
    };
    wings.into_iter().flat_map(screens).collect()
}

fn places() -> Vec<Place> {
    let state = |s: State| Place { name: s.name.to_owned(), model: s.model, go: Go::State(s.go) };
    states::all().into_iter().map(state).chain(odd()).collect()
}

/// A mark or a line of a plot that covers a text.
fn covered(name: &str, all: &[paint::Painted], faults: &mut Vec<String>) {
    let is_text = |p: &&paint::Painted| p.text.as_ref().is_some_and(|t| !t.trim().is_empty());
    for text in all.iter().filter(is_text) {
        // A text's own background holds all of it.
        let small = |p: &&paint::Painted| {
            p.text.is_none()
                && p.bounds.is_positive()
                && p.bounds.width() < 120.0
                && p.bounds.height() < 120.0
                && !p.bounds.contains_rect(text.bounds)
        };
        for other in all.iter().filter(small) {
            let common = other.bounds.intersect(text.bounds);
            if common.width() > 1.5 && common.height() > 1.5 {
                faults.push(format!(
                    "{name}: something lies on `{}`: {:?} at {:?}",
                    text.text.as_deref().unwrap_or_default(),
                    common.size(),
                    other.bounds
                ));
            }
        }
    }
}

/// A text of which letters were left out, where no name is longer than names are.
fn cut(name: &str, all: &[paint::Painted], faults: &mut Vec<String>) {
    if name.starts_with("long-names") {
        return;
    }
    for text in all.iter().filter_map(|p| p.text.as_deref()) {
        let inside = text.split_once('\u{2026}').is_some_and(|(a, b)| !a.is_empty() && !b.is_empty());
        if inside {
            faults.push(format!("{name}: letters are left out of `{text}`"));
        }
    }
}

/// One window: the place at a size, with its text larger or not, in a theme.
#[derive(Clone, Copy)]
struct Shown {
    size: (f32, f32),
    scale: f32,
    theme: Theme,
}

fn faults(place: &Place, bench: &mut Bench, shown: Shown) -> Vec<String> {
    let Shown { size: (width, height), scale, theme } = shown;
    bench.face.set_looks(Looks { theme: Some(theme), scale, ..bench.face.looks() });
    let name = format!("{} {width}x{height} at {scale} {theme:?}", place.name);
    let mut faults = Vec::new();
    let drawn = AssertUnwindSafe(|| paint::sized(width, height, 4, |ui| bench.frame(ui)));
    let Ok((painted, points)) = std::panic::catch_unwind(drawn) else {
        return vec![format!("{name}: cannot be drawn")];
    };
    grid::texts(&name, &painted, points, Palette::of(theme).ground, &mut faults);
    covered(&name, &painted, &mut faults);
    cut(&name, &painted, &mut faults);
    if let Some(folder) = std::env::var_os("JIGTRUE_ALBUM") {
        let dark = if theme == Theme::Dark { "-dark" } else { "" };
        let file = format!("{}{dark}-{width}x{height}-{:.0}.png", place.name, scale * 100.0);
        let drawn = picture::of(width as usize, height as usize, 1.0, 4, |ui| bench.frame(ui));
        drawn.save(&std::path::Path::new(&folder).join(file));
    }
    faults
}

fn look(places: &[Place], shown: impl Fn(usize) -> Vec<Shown> + Sync) {
    let only = std::env::var("JIGTRUE_STATE").ok();
    let next = AtomicUsize::new(0);
    let some = || {
        let take = || {
            let n = next.fetch_add(1, Ordering::Relaxed);
            places.get(n).map(|p| (n, p))
        };
        let wanted = |(_, p): &(usize, &Place)| only.as_ref().is_none_or(|o| p.name.starts_with(o.as_str()));
        std::iter::from_fn(take)
            .filter(wanted)
            .flat_map(|(n, place)| {
                let mut bench = place.reached();
                shown(n).into_iter().flat_map(|s| faults(place, &mut bench, s)).collect::<Vec<_>>()
            })
            .collect::<Vec<_>>()
    };
    let faults: Vec<String> = std::thread::scope(|threads| {
        let count = std::thread::available_parallelism().map_or(1, usize::from);
        let begun: Vec<_> = (0..count).map(|_| threads.spawn(some)).collect();
        begun.into_iter().flat_map(|t| t.join().unwrap()).collect()
    });
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

fn every() -> Vec<Shown> {
    let mut out = Vec::new();
    for size in SIZES {
        for scale in SCALES {
            for theme in [Theme::Light, Theme::Dark] {
                out.push(Shown { size, scale, theme });
            }
        }
    }
    out
}

/// Each place in one of the windows, in turns.
#[test]
fn nothing_leaves_the_screen_or_lies_on_a_text() {
    let every = every();
    look(&places(), |n| vec![every[n * 7 % every.len()]]);
}

/// `JIGTRUE_ALBUM=FOLDER` draws them all; `JIGTRUE_STATE=gate` looks only at the places whose names begin so,
/// `JIGTRUE_SIZE=800-150-Dark`
/// only at the windows whose size, scale and theme have this in them.
#[test]
#[ignore = "eight thousand windows"]
fn nothing_leaves_the_screen_or_lies_on_a_text_in_any_window() {
    let only = |s: &Shown| {
        let wanted = std::env::var("JIGTRUE_SIZE").ok();
        let own = format!("{}x{}-{:.0}-{:?}", s.size.0, s.size.1, s.scale * 100.0, s.theme);
        wanted.is_none_or(|w| own.contains(&w))
    };
    let shown: Vec<Shown> = every().into_iter().filter(only).collect();
    look(&places(), |_| shown.clone());
}
