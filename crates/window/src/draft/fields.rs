//! The form as a list of fields that are typed one at a time.

use super::{Draft, SparDraft, StationDraft};
use quantity::Kind;
use record::plan::{Attitude, Side};

quantity::words! {
    #[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
    pub enum Part {
        /// Name, side, attitude, how many stations.
        #[default]
        Wing = "Wing",
        Stations = "Stations",
        Spars = "Spars",
        /// Posts, feet and screws.
        Jig = "Jig",
        Limits = "Limits",
        Rest = "Level, stages",
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

/// A field with the value it is about.
struct Cell<'d> {
    name: String,
    of: Of<'d>,
    optional: bool,
}

enum Of<'d> {
    Text(&'d mut String),
    Number(&'d mut String, Kind),
    Yes(&'d mut bool),
    Side(&'d mut Side),
    Attitude(&'d mut Attitude),
    /// A tap does this; the text says what is set now.
    Do(fn(&mut Draft), String),
}

fn cell<'d>(name: impl Into<String>, of: Of<'d>) -> Cell<'d> {
    Cell { name: name.into(), of, optional: false }
}

fn text<'d>(name: impl Into<String>, value: &'d mut String) -> Cell<'d> {
    cell(name, Of::Text(value))
}

fn length<'d>(name: impl Into<String>, value: &'d mut String) -> Cell<'d> {
    cell(name, Of::Number(value, Kind::Length))
}

fn angle<'d>(name: impl Into<String>, value: &'d mut String) -> Cell<'d> {
    cell(name, Of::Number(value, Kind::Angle))
}

impl Draft {
    fn cells(&mut self, part: Part) -> Vec<Cell<'_>> {
        match part {
            Part::Wing => {
                let count = self.stations.len().to_string();
                vec![
                    text("Name of the wing", &mut self.name),
                    cell("Side", Of::Side(&mut self.side)),
                    cell("Stands in the jig", Of::Attitude(&mut self.attitude)),
                    cell("One station fewer", Of::Do(Self::fewer_stations, count.clone())),
                    cell("One station more", Of::Do(Self::more_stations, count)),
                    cell("Fill stations evenly", Of::Do(Self::evenly, "from first to last".to_owned())),
                ]
            }
            Part::Stations => numbered(&mut self.stations, |n, s| {
                let name = s.name.clone();
                vec![
                    text(format!("Station {n}"), &mut s.name),
                    length(format!("{name} span"), &mut s.span),
                    length(format!("{name} chord"), &mut s.chord),
                    angle(format!("{name} incidence"), &mut s.incidence),
                ]
            }),
            Part::Spars => {
                let count = self.spars.len().to_string();
                let mut cells = numbered(&mut self.spars, |n, s| {
                    let name = s.name.clone();
                    vec![
                        text(format!("Spar {n}"), &mut s.name),
                        length(format!("{name} spar, aft at root"), &mut s.aft_root),
                        length(format!("{name} spar, aft at tip"), &mut s.aft_tip),
                    ]
                });
                cells.push(cell("One spar fewer", Of::Do(Self::fewer_spars, count.clone())));
                cells.push(cell("One spar more", Of::Do(Self::more_spars, count)));
                cells
            }
            Part::Jig => {
                let mut cells = numbered(&mut self.posts, |n, p| {
                    let name = p.name.clone();
                    vec![
                        text(format!("Post {n}"), &mut p.name),
                        length(format!("{name} span"), &mut p.span),
                        length(format!("{name} feet, fore and aft"), &mut p.half_aft),
                        length(format!("{name} feet, in and out"), &mut p.half_out),
                    ]
                });
                cells.push(length("A turn of a screw", &mut self.screw_per_turn));
                cells.push(length("Travel of a screw", &mut self.travel));
                cells
            }
            Part::Limits => {
                let limits = self.tolerances.iter_mut();
                let limit = limits.map(|t| cell(t.words, Of::Number(&mut t.text, t.kind)));
                limit.map(|cell| Cell { optional: true, ..cell }).collect()
            }
            Part::Rest => {
                let level = &mut self.instrument;
                let mut cells = vec![
                    text("Level", &mut level.name),
                    angle("Step of its display", &mut level.step),
                    angle("Its accuracy", &mut level.accuracy),
                ];
                cells.iter_mut().for_each(|cell| cell.optional = true);
                cells.extend(numbered(&mut self.stages, |n, s| {
                    let name = s.name.clone();
                    vec![
                        text(format!("Stage {n}"), &mut s.name),
                        cell(format!("{name}: posts level"), Of::Yes(&mut s.level)),
                        cell(format!("{name}: incidence"), Of::Yes(&mut s.incidence)),
                        cell(format!("{name}: disturbs"), Of::Yes(&mut s.disturbs)),
                    ]
                }));
                cells
            }
        }
    }

    pub fn fields(&self, part: Part) -> Vec<Field> {
        self.clone().cells(part).into_iter().map(Field::from).collect()
    }

    pub fn set(&mut self, part: Part, field: usize, text: &str) {
        if let Some(Of::Text(value) | Of::Number(value, _)) =
            self.cells(part).into_iter().nth(field).map(|cell| cell.of)
        {
            text.clone_into(value);
        }
    }

    pub fn tap(&mut self, part: Part, field: usize) {
        let change = match self.cells(part).into_iter().nth(field).map(|cell| cell.of) {
            Some(Of::Yes(yes)) => return *yes = !*yes,
            Some(Of::Side(side)) => {
                return *side = if *side == Side::Left { Side::Right } else { Side::Left };
            }
            Some(Of::Attitude(attitude)) => {
                let next = Attitude::ALL.into_iter().cycle().skip_while(|a| *a != *attitude).nth(1);
                return *attitude = next.unwrap_or(*attitude);
            }
            Some(Of::Do(change, _)) => change,
            Some(Of::Text(_) | Of::Number(..)) | None => return,
        };
        change(self);
    }

    /// The last station stays the last: a new one goes before it.
    fn more_stations(&mut self) {
        self.stations.insert(self.stations.len().saturating_sub(1), StationDraft::default());
        self.number_stations();
    }

    fn fewer_stations(&mut self) {
        if self.stations.len() > 2 {
            self.stations.remove(self.stations.len() - 2);
            self.number_stations();
        }
    }

    fn evenly(&mut self) {
        self.fill_evenly(self.stations.len());
    }

    fn more_spars(&mut self) {
        self.spars.push(SparDraft { name: "rear".to_owned(), ..SparDraft::default() });
    }

    fn fewer_spars(&mut self) {
        if self.spars.len() > 1 {
            self.spars.pop();
        }
    }

    fn number_stations(&mut self) {
        for (s, n) in self.stations.iter_mut().zip(1..) {
            s.name = format!("S{n}");
        }
    }
}

/// The cells of each of several things, which are numbered from 1.
fn numbered<T>(all: &mut [T], cells: impl Fn(usize, &mut T) -> Vec<Cell<'_>>) -> Vec<Cell<'_>> {
    all.iter_mut().zip(1..).flat_map(|(one, n)| cells(n, one)).collect()
}

impl From<Cell<'_>> for Field {
    fn from(cell: Cell<'_>) -> Self {
        let Cell { name, of, optional } = cell;
        let (value, takes) = match of {
            Of::Text(value) => (value.clone(), Takes::Text),
            Of::Number(value, kind) => (value.clone(), Takes::Number(kind)),
            Of::Yes(yes) => (if *yes { "yes" } else { "no" }.to_owned(), Takes::Tap),
            Of::Side(side) => (side.word().to_owned(), Takes::Tap),
            Of::Attitude(attitude) => (attitude.word().replace('-', " "), Takes::Tap),
            Of::Do(_, now) => (now, Takes::Tap),
        };
        Self { name, value, takes, optional }
    }
}

/// A field of the form that is being typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FieldRef {
    pub part: Part,
    /// Its place in it.
    pub at: usize,
    pub name: String,
    /// What kind of number it takes; `None` for a text.
    pub kind: Option<Kind>,
}
