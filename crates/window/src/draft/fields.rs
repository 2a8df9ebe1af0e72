//! The form as a list of fields, so that each can be typed by touch, one at a time.

use super::{Draft, SparDraft, StationDraft, is_length};
use quantity::Kind;
use record::plan::{Attitude, Side};

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Part {
    /// Name, side, attitude, how many stations.
    #[default]
    Wing,
    Stations,
    Spars,
    /// Posts, feet and screws.
    Jig,
    Limits,
    /// The level, and the stages.
    Rest,
}

impl Part {
    pub const ALL: [Self; 6] = [Self::Wing, Self::Stations, Self::Spars, Self::Jig, Self::Limits, Self::Rest];

    pub const fn name(self) -> &'static str {
        match self {
            Self::Wing => "Wing",
            Self::Stations => "Stations",
            Self::Spars => "Spars",
            Self::Jig => "Jig",
            Self::Limits => "Limits",
            Self::Rest => "Level, stages",
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Takes {
    Text,
    Number(Kind),
    Tap,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Field {
    pub name: String,
    pub value: String,
    pub takes: Takes,
    pub optional: bool,
}

/// Which value of the draft a field is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum At {
    Name,
    Side,
    Attitude,
    MoreStations,
    FewerStations,
    Evenly,
    Station(usize, u8),
    MoreSpars,
    FewerSpars,
    Spar(usize, u8),
    Post(usize, u8),
    Turn,
    Travel,
    Limit(usize),
    Level(u8),
    Stage(usize, u8),
}

impl Draft {
    fn places(&self, part: Part) -> Vec<At> {
        match part {
            Part::Wing => {
                vec![At::Name, At::Side, At::Attitude, At::FewerStations, At::MoreStations, At::Evenly]
            }
            Part::Stations => {
                (0..self.stations.len()).flat_map(|i| (0..4).map(move |k| At::Station(i, k))).collect()
            }
            Part::Spars => {
                let rows = (0..self.spars.len()).flat_map(|i| (0..3).map(move |k| At::Spar(i, k)));
                rows.chain([At::FewerSpars, At::MoreSpars]).collect()
            }
            Part::Jig => {
                let rows = (0..self.posts.len()).flat_map(|i| (0..4).map(move |k| At::Post(i, k)));
                rows.chain([At::Turn, At::Travel]).collect()
            }
            Part::Limits => (0..self.tolerances.len()).map(At::Limit).collect(),
            Part::Rest => {
                let stages = (0..self.stages.len()).flat_map(|i| (0..4).map(move |k| At::Stage(i, k)));
                (0..3).map(At::Level).chain(stages).collect()
            }
        }
    }

    pub fn fields(&self, part: Part) -> Vec<Field> {
        self.places(part).into_iter().map(|at| self.field(at)).collect()
    }

    fn field(&self, at: At) -> Field {
        let field = |name: String, value: &str, takes| Field {
            name,
            value: value.to_owned(),
            takes,
            optional: false,
        };
        let length = Takes::Number(Kind::Length);
        let angle = Takes::Number(Kind::Angle);
        let count = self.stations.len().to_string();
        match at {
            At::Name => field("Name of the wing".to_owned(), &self.name, Takes::Text),
            At::Side => field("Side".to_owned(), side(self.side), Takes::Tap),
            At::Attitude => field("Stands in the jig".to_owned(), attitude(self.attitude), Takes::Tap),
            At::FewerStations => field("One station fewer".to_owned(), &count, Takes::Tap),
            At::MoreStations => field("One station more".to_owned(), &count, Takes::Tap),
            At::Evenly => field("Fill stations evenly".to_owned(), "from first to last", Takes::Tap),
            At::Station(i, k) => {
                let s = self.stations.get(i).cloned().unwrap_or_default();
                match k {
                    0 => field(format!("Station {}", i + 1), &s.name, Takes::Text),
                    1 => field(format!("{} span", s.name), &s.span, length),
                    2 => field(format!("{} chord", s.name), &s.chord, length),
                    _ => field(format!("{} incidence", s.name), &s.incidence, angle),
                }
            }
            At::MoreSpars => field("One spar more".to_owned(), &self.spars.len().to_string(), Takes::Tap),
            At::FewerSpars => field("One spar fewer".to_owned(), &self.spars.len().to_string(), Takes::Tap),
            At::Spar(i, k) => {
                let s = self.spars.get(i).cloned().unwrap_or_default();
                match k {
                    0 => field(format!("Spar {}", i + 1), &s.name, Takes::Text),
                    1 => field(format!("{} spar, aft at root", s.name), &s.aft_root, length),
                    _ => field(format!("{} spar, aft at tip", s.name), &s.aft_tip, length),
                }
            }
            At::Post(i, k) => {
                let p = self.posts.get(i).cloned().unwrap_or_default();
                match k {
                    0 => field(format!("Post {}", i + 1), &p.name, Takes::Text),
                    1 => field(format!("{} span", p.name), &p.span, length),
                    2 => field(format!("{} feet, fore and aft", p.name), &p.half_aft, length),
                    _ => field(format!("{} feet, in and out", p.name), &p.half_out, length),
                }
            }
            At::Turn => field("A turn of a screw".to_owned(), &self.screw_per_turn, length),
            At::Travel => field("Travel of a screw".to_owned(), &self.travel, length),
            At::Limit(i) => {
                let (name, words, value) = self.tolerances.get(i).cloned().unwrap_or_default();
                let takes = if is_length(name) { length } else { angle };
                Field { optional: true, ..field(words.to_owned(), &value, takes) }
            }
            At::Level(k) => match k {
                0 => {
                    Field { optional: true, ..field("Level".to_owned(), &self.instrument.name, Takes::Text) }
                }
                1 => Field {
                    optional: true,
                    ..field("Step of its display".to_owned(), &self.instrument.step, angle)
                },
                _ => Field {
                    optional: true,
                    ..field("Its accuracy".to_owned(), &self.instrument.accuracy, angle)
                },
            },
            At::Stage(i, k) => {
                let s = self.stages.get(i).cloned().unwrap_or_default();
                let yes = |b: bool| if b { "yes" } else { "no" };
                match k {
                    0 => field(format!("Stage {}", i + 1), &s.name, Takes::Text),
                    1 => field(format!("{}: posts level", s.name), yes(s.level), Takes::Tap),
                    2 => field(format!("{}: incidence", s.name), yes(s.incidence), Takes::Tap),
                    _ => field(format!("{}: disturbs", s.name), yes(s.disturbs), Takes::Tap),
                }
            }
        }
    }

    pub fn set(&mut self, part: Part, field: usize, text: &str) {
        let text = text.to_owned();
        match self.places(part).get(field).copied() {
            Some(At::Name) => self.name = text,
            Some(At::Station(i, k)) => {
                if let Some(s) = self.stations.get_mut(i) {
                    *[&mut s.name, &mut s.span, &mut s.chord, &mut s.incidence][usize::from(k.min(3))] = text;
                }
            }
            Some(At::Spar(i, k)) => {
                if let Some(s) = self.spars.get_mut(i) {
                    *[&mut s.name, &mut s.aft_root, &mut s.aft_tip][usize::from(k.min(2))] = text;
                }
            }
            Some(At::Post(i, k)) => {
                if let Some(p) = self.posts.get_mut(i) {
                    *[&mut p.name, &mut p.span, &mut p.half_aft, &mut p.half_out][usize::from(k.min(3))] =
                        text;
                }
            }
            Some(At::Turn) => self.screw_per_turn = text,
            Some(At::Travel) => self.travel = text,
            Some(At::Limit(i)) => {
                if let Some(t) = self.tolerances.get_mut(i) {
                    t.2 = text;
                }
            }
            Some(At::Level(k)) => {
                let l = &mut self.instrument;
                *[&mut l.name, &mut l.step, &mut l.accuracy][usize::from(k.min(2))] = text;
            }
            Some(At::Stage(i, 0)) => {
                if let Some(s) = self.stages.get_mut(i) {
                    s.name = text;
                }
            }
            _ => {}
        }
    }

    pub fn tap(&mut self, part: Part, field: usize) {
        match self.places(part).get(field).copied() {
            Some(At::Side) => self.side = if self.side == Side::Left { Side::Right } else { Side::Left },
            Some(At::Attitude) => {
                self.attitude = match self.attitude {
                    Attitude::ChordLevel => Attitude::LeadingEdgeDown,
                    Attitude::LeadingEdgeDown => Attitude::LeadingEdgeUp,
                    Attitude::LeadingEdgeUp => Attitude::ChordLevel,
                }
            }
            Some(At::MoreStations) => {
                // The last stays the last: one more is put before it.
                let at = self.stations.len().saturating_sub(1);
                self.stations.insert(at, StationDraft::default());
                for (i, s) in self.stations.iter_mut().enumerate() {
                    s.name = format!("S{}", i + 1);
                }
            }
            Some(At::FewerStations) if self.stations.len() > 2 => {
                self.stations.remove(self.stations.len() - 2);
                for (i, s) in self.stations.iter_mut().enumerate() {
                    s.name = format!("S{}", i + 1);
                }
            }
            Some(At::Evenly) => self.fill_evenly(self.stations.len()),
            Some(At::MoreSpars) => {
                self.spars.push(SparDraft { name: "rear".to_owned(), ..SparDraft::default() })
            }
            Some(At::FewerSpars) if self.spars.len() > 1 => drop(self.spars.pop()),
            Some(At::Stage(i, k)) => {
                if let Some(s) = self.stages.get_mut(i) {
                    match k {
                        1 => s.level = !s.level,
                        2 => s.incidence = !s.incidence,
                        _ => s.disturbs = !s.disturbs,
                    }
                }
            }
            _ => {}
        }
    }
}

const fn side(side: Side) -> &'static str {
    match side {
        Side::Left => "left",
        Side::Right => "right",
        Side::Both => "both",
    }
}

const fn attitude(attitude: Attitude) -> &'static str {
    match attitude {
        Attitude::ChordLevel => "chord level",
        Attitude::LeadingEdgeDown => "leading edge down",
        Attitude::LeadingEdgeUp => "leading edge up",
    }
}

/// A field of the form that is being typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FieldRef {
    pub part: Part,
    /// Its place in it.
    pub at: usize,
    pub name: String,
    /// What kind of number it takes; none for a text.
    pub kind: Option<Kind>,
}
