//! A wing being described: what the form holds, the plan it makes, and what is still wrong with it.

pub mod fields;
mod text;

use crate::words;
use quantity::Kind;
use record::plan::{Attitude, Side};

/// What the form holds, as typed.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    pub name: String,
    pub side: Side,
    pub attitude: Attitude,
    pub stations: Vec<StationDraft>,
    pub spars: Vec<SparDraft>,
    pub posts: Vec<PostDraft>,
    /// Travel of a screw for one turn, for screws under each spar at each post; empty for no screws.
    pub screw_per_turn: String,
    /// How far each can go, either way.
    pub travel: String,
    pub tolerances: [ToleranceDraft; 8],
    pub instrument: LevelDraft,
    pub stages: Vec<StageDraft>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct ToleranceDraft {
    /// Its key in a plan.
    pub name: &'static str,
    pub words: &'static str,
    pub kind: Kind,
    /// As typed; empty for none.
    pub text: String,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct StationDraft {
    pub name: String,
    /// Distance outboard.
    pub span: String,
    pub chord: String,
    pub incidence: String,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct SparDraft {
    pub name: String,
    pub aft_root: String,
    pub aft_tip: String,
}

/// A post as typed: four feet, fore and aft, inboard and outboard, with screws.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PostDraft {
    pub name: String,
    pub span: String,
    /// How far fore and aft of its middle its feet are.
    pub half_aft: String,
    /// How far inboard and outboard of its middle they are.
    pub half_out: String,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct LevelDraft {
    /// Its name; empty for none.
    pub name: String,
    pub step: String,
    /// Its accuracy; empty if it is not stated.
    pub accuracy: String,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct StageDraft {
    pub name: String,
    /// Tilts of the posts are required.
    pub level: bool,
    /// Incidence at every station is required.
    pub incidence: bool,
    /// It disturbs the incidence measured before.
    pub disturbs: bool,
}

impl Default for Draft {
    fn default() -> Self {
        let stage = |name: &str, level, incidence, disturbs| StageDraft {
            name: name.to_owned(),
            level,
            incidence,
            disturbs,
        };
        let station = |name: &str| StationDraft { name: name.to_owned(), ..StationDraft::default() };
        Self {
            name: String::new(),
            side: Side::Left,
            attitude: Attitude::ChordLevel,
            stations: vec![station("S1"), station("S2")],
            spars: vec![SparDraft { name: "front".to_owned(), ..SparDraft::default() }],
            posts: vec![
                PostDraft { name: "root-post".to_owned(), ..PostDraft::default() },
                PostDraft { name: "tip-post".to_owned(), ..PostDraft::default() },
            ],
            screw_per_turn: String::new(),
            travel: String::new(),
            tolerances: [
                ("setting", "setting of the whole wing", Kind::Angle),
                ("washout", "washout error", Kind::Angle),
                ("station", "twist error at each station", Kind::Angle),
                ("neighbour", "from station to station", Kind::Angle),
                ("level", "posts along the span", Kind::Angle),
                ("cross", "posts fore and aft", Kind::Angle),
                ("straightness", "straightness of a spar", Kind::Length),
                ("spacing", "spacing of the stations", Kind::Length),
            ]
            .map(|(name, words, kind)| ToleranceDraft { name, words, kind, text: String::new() }),
            instrument: LevelDraft::default(),
            stages: vec![
                stage("jig empty", true, false, false),
                stage("spar bolted", false, true, true),
                stage("ribs on", false, true, true),
                stage("ready to skin", true, true, false),
            ],
        }
    }
}

/// Reads a length as typed, in mm.
pub(crate) fn length(text: &str) -> Option<f64> {
    base(text, Kind::Length)
}

/// Reads an angle as typed, in degrees.
pub(crate) fn angle(text: &str) -> Option<f64> {
    base(text, Kind::Angle)
}

fn base(text: &str, kind: Kind) -> Option<f64> {
    quantity::typed(text, kind).ok().map(|t| t.amount.base())
}

impl Draft {
    /// What is still wrong, each as a sentence; empty if the plan can be made.
    pub fn wrong(&self) -> Vec<String> {
        let mut out = Vec::new();
        if self.name.trim().is_empty() {
            out.push("The wing has no name.".to_owned());
        }
        let mut must = |what: &str, text: &str, kind: Kind| {
            if let Err(e) = quantity::typed(text, kind) {
                out.push(format!("{what}: {e}."));
            }
        };
        for s in &self.stations {
            must(&format!("Span of {}", s.name), &s.span, Kind::Length);
            must(&format!("Chord of {}", s.name), &s.chord, Kind::Length);
            must(&format!("Incidence of {}", s.name), &s.incidence, Kind::Angle);
        }
        for s in &self.spars {
            must(&format!("{} spar at the root", s.name), &s.aft_root, Kind::Length);
            must(&format!("{} spar at the tip", s.name), &s.aft_tip, Kind::Length);
        }
        for p in &self.posts {
            must(&format!("Span of {}", p.name), &p.span, Kind::Length);
            must(&format!("Feet of {}, fore and aft", p.name), &p.half_aft, Kind::Length);
            must(&format!("Feet of {}, in and out", p.name), &p.half_out, Kind::Length);
        }
        if !self.posts.is_empty() {
            must("Travel a turn", &self.screw_per_turn, Kind::Length);
            must("Travel of a screw", &self.travel, Kind::Length);
        }
        for t in self.tolerances.iter().filter(|t| !t.text.trim().is_empty()) {
            must(&format!("Tolerance for {}", t.words), &t.text, t.kind);
        }
        let level = &self.instrument;
        if !level.name.trim().is_empty() {
            must("Step of the display", &level.step, Kind::Angle);
            if !level.accuracy.trim().is_empty() {
                must("Accuracy", &level.accuracy, Kind::Angle);
            }
        }
        self.wrong_names(&mut out);
        out
    }

    fn wrong_names(&self, out: &mut Vec<String>) {
        if self.stations.len() < 2 {
            out.push("A wing needs two stations at least.".to_owned());
        }
        let spans: Vec<f64> = self.stations.iter().filter_map(|s| length(&s.span)).collect();
        if spans.windows(2).any(|w| w[1] <= w[0]) {
            out.push("Give the stations in order, from the root outboard.".to_owned());
        }
        let lists = [
            ("station", self.stations.iter().map(|s| &s.name).collect::<Vec<_>>()),
            ("spar", self.spars.iter().map(|s| &s.name).collect()),
            ("post", self.posts.iter().map(|s| &s.name).collect()),
            ("stage", self.stages.iter().map(|s| &s.name).collect()),
        ];
        for (what, mut names) in lists {
            if names.iter().any(|n| n.trim().is_empty()) {
                out.push(format!("A {what} has no name."));
            }
            names.sort();
            if names.windows(2).any(|w| w[0] == w[1]) {
                out.push(format!("Two {what}s have the same name."));
            }
        }
        if self.stages.is_empty() {
            out.push("A build needs one stage at least.".to_owned());
        }
    }

    pub fn file_name(&self) -> String {
        let plain = |c: char| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { '-' };
        let name: String = self.name.trim().chars().map(plain).collect();
        let parts: Vec<&str> = name.split('-').filter(|p| !p.is_empty()).collect();
        if parts.is_empty() { "wing".to_owned() } else { parts.join("-") }
    }

    /// Fills in stations evenly between the first and the last, chord and incidence straight between theirs.
    pub fn fill_evenly(&mut self, count: usize) {
        let (Some(first), Some(last)) = (self.stations.first().cloned(), self.stations.last().cloned())
        else {
            return;
        };
        let ends = |f: fn(&StationDraft) -> &str, read: fn(&str) -> Option<f64>| {
            Some((read(f(&first))?, read(f(&last))?))
        };
        let (Some(span), Some(chord), Some(inc)) =
            (ends(|s| &s.span, length), ends(|s| &s.chord, length), ends(|s| &s.incidence, angle))
        else {
            return;
        };
        let count = count.clamp(2, 60);
        let at = |(a, b): (f64, f64), i: usize, places: usize| {
            let text =
                words::number(a + (b - a) * i as f64 / (count - 1) as f64, places).replace('\u{2212}', "-");
            if text.contains('.') {
                text.trim_end_matches('0').trim_end_matches('.').to_owned()
            } else {
                text
            }
        };
        self.stations = (0..count)
            .map(|i| StationDraft {
                name: format!("S{}", i + 1),
                span: at(span, i, 1),
                chord: at(chord, i, 1),
                incidence: at(inc, i, 3),
            })
            .collect();
    }

    pub fn plan_text(&self) -> String {
        text::write(self)
    }
}
