//! A wing being described: what the form holds, the plan it makes, and what is still wrong with it.

mod text;

use crate::words;
use quantity::{Degrees, Kind, Millimetres};
use record::plan::{Attitude, Post, Side, Spar, Station, Wing};
use record::{Limits, Plan};

/// What the form holds, as typed.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// The wing's name.
    pub name: String,
    /// Which side.
    pub side: Side,
    /// How it stands in the jig.
    pub attitude: Attitude,
    /// The stations.
    pub stations: Vec<StationDraft>,
    /// The spars.
    pub spars: Vec<SparDraft>,
    /// Where posts stand.
    pub posts: Vec<PostDraft>,
    /// Screws under each spar at each post: travel a turn; empty for none.
    pub screw_per_turn: String,
    /// How far each can go, either way.
    pub travel: String,
    /// Tolerances, each name as the plan has it, and what was typed; empty for none.
    pub tolerances: [(&'static str, &'static str, String); 8],
    /// The instrument for angles: name, step of its display, accuracy.
    pub instrument: (String, String, String),
    /// The stages.
    pub stages: Vec<StageDraft>,
    /// The folder plan and log go into; empty for the usual one.
    pub folder: String,
    /// For the other way: a plan there is.
    pub from_plan: String,
    /// The log to make from it.
    pub to_log: String,
}

/// A station as typed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StationDraft {
    /// Its name.
    pub name: String,
    /// Distance outboard.
    pub span: String,
    /// Chord.
    pub chord: String,
    /// Design incidence.
    pub incidence: String,
}

/// A spar as typed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SparDraft {
    /// Its name.
    pub name: String,
    /// How far aft at the root.
    pub aft_root: String,
    /// How far aft at the tip.
    pub aft_tip: String,
}

/// A post as typed: two feet, fore and aft, with screws.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PostDraft {
    /// Its name.
    pub name: String,
    /// Where along the span.
    pub span: String,
    /// Half the distance of its feet.
    pub half_foot: String,
}

/// A stage as typed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StageDraft {
    /// Its name.
    pub name: String,
    /// Tilts of the posts are required.
    pub level: bool,
    /// Incidence at every station is required.
    pub incidence: bool,
    /// It disturbs the incidence taken before.
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
                ("setting", "setting of the whole wing", String::new()),
                ("washout", "washout error", String::new()),
                ("station", "twist error at each station", String::new()),
                ("neighbour", "from station to station", String::new()),
                ("level", "posts along the span", String::new()),
                ("cross", "posts fore and aft", String::new()),
                ("straightness", "straightness of a spar", String::new()),
                ("spacing", "spacing of the stations", String::new()),
            ],
            instrument: (String::new(), String::new(), String::new()),
            stages: vec![
                stage("jig empty", true, false, false),
                stage("spar bolted", false, true, true),
                stage("ribs on", false, true, true),
                stage("ready to skin", true, true, false),
            ],
            folder: String::new(),
            from_plan: String::new(),
            to_log: String::new(),
        }
    }
}

/// Reads a length as typed, in mm.
pub(crate) fn length(text: &str) -> Option<f64> {
    quantity::typed(text, Kind::Length).ok().map(|t| t.amount.base())
}

/// Reads an angle as typed, in degrees.
pub(crate) fn angle(text: &str) -> Option<f64> {
    quantity::typed(text, Kind::Angle).ok().map(|t| t.amount.base())
}

impl Draft {
    /// What is still wrong, each as a sentence; empty when the plan can be made.
    #[must_use]
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
            must(&format!("Feet of {}", p.name), &p.half_foot, Kind::Length);
        }
        if !self.posts.is_empty() {
            must("Travel a turn", &self.screw_per_turn, Kind::Length);
            must("Travel of a screw", &self.travel, Kind::Length);
        }
        for (name, words, text) in &self.tolerances {
            if !text.trim().is_empty() {
                let kind = if is_length(name) { Kind::Length } else { Kind::Angle };
                must(&format!("Tolerance for {words}"), text, kind);
            }
        }
        if !self.instrument.0.trim().is_empty() {
            must("Step of the display", &self.instrument.1, Kind::Angle);
            if !self.instrument.2.trim().is_empty() {
                must("Accuracy", &self.instrument.2, Kind::Angle);
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

    /// The part of it that can already be drawn; none before two stations have their numbers.
    #[must_use]
    pub fn sketch(&self) -> Option<Plan> {
        let station = |s: &StationDraft| {
            Some(Station {
                name: s.name.clone(),
                span: Millimetres::new(length(&s.span)?),
                chord: Millimetres::new(length(&s.chord).filter(|c| *c > 0.0)?),
                incidence: Degrees::new(angle(&s.incidence).unwrap_or(0.0)),
                fixture: Degrees::new(0.0),
                height_angle: Degrees::new(0.0),
            })
        };
        let mut stations: Vec<Station> = self.stations.iter().filter_map(station).collect();
        stations.sort_by(|a, b| a.span.value().total_cmp(&b.span.value()));
        let (first, last) = (stations.first()?.span, stations.last()?.span);
        if last.value() <= first.value() {
            return None;
        }
        let spar = |s: &SparDraft| {
            let (root, tip) = (length(&s.aft_root)?, length(&s.aft_tip)?);
            Some(Spar {
                name: s.name.clone(),
                aft_root: Millimetres::new(root),
                aft_tip: Millimetres::new(tip),
            })
        };
        let post = |p: &PostDraft| {
            let half = length(&p.half_foot).unwrap_or(300.0);
            let foot = |aft: f64| record::plan::Foot {
                name: String::new(),
                aft: Millimetres::new(aft),
                out: Millimetres::new(0.0),
                travel: record::plan::Travel { minus: Millimetres::new(0.0), plus: Millimetres::new(0.0) },
                adjust: record::plan::Adjust::Fixed,
            };
            let span = Millimetres::new(length(&p.span)?);
            Some(Post { name: p.name.clone(), span, feet: vec![foot(-half), foot(half)] })
        };
        Some(Plan {
            wing: Wing {
                name: self.name.clone(),
                side: self.side,
                attitude: self.attitude,
                root: first,
                tip: last,
                material: None,
                note: None,
                identity: record::plan::Identity::default(),
            },
            rule: record::plan::Rule::default(),
            tolerances: record::plan::Tolerances { washout: None::<Limits<Degrees>>, ..Default::default() },
            stations,
            spars: self.spars.iter().filter_map(spar).collect(),
            supports: Vec::new(),
            posts: self.posts.iter().filter_map(post).collect(),
            lines: Vec::new(),
            bays: Vec::new(),
            shaft: None,
            bushes: Vec::new(),
            spots: Vec::new(),
            record_only: Vec::new(),
            reworks: Vec::new(),
            stages: Vec::new(),
            instruments: Vec::new(),
        })
    }

    /// A file name made of the wing's name.
    #[must_use]
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

    /// The plan as text.
    #[must_use]
    pub fn plan_text(&self) -> String {
        text::write(self)
    }
}

pub(crate) fn is_length(tolerance: &str) -> bool {
    matches!(tolerance, "straightness" | "spacing")
}
