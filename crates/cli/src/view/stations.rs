//! The table of stations.

use super::Listed;
use super::{marks, paint, wrap};
use assess::view::{PointState, PointView, StationView, Twist, Verdict};
use quantity::shown::{K95, Scale, decimals, percent};
use quantity::{Kind, Units};
use record::point::Judgement;
use std::collections::BTreeMap;

/// With more stations than this, only those that are not within are listed.
const MOST: usize = 60;
/// Entries that are named before the rest is counted.
const ENTRIES: usize = 2;
const GAP: usize = 2;

/// A column of figures or words.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Column {
    Name,
    Span,
    Design,
    Measured,
    Error,
    Half,
    Conforms,
    Verdict,
    From,
}

use Column as C;

const ALL: [Column; 9] =
    [C::Name, C::Span, C::Design, C::Measured, C::Error, C::Half, C::Conforms, C::Verdict, C::From];
/// The columns dropped first if there is no room.
const DROPPED: [Column; 4] = [C::From, C::Conforms, C::Span, C::Measured];
/// Columns of a name, at most.
const NAME: usize = 20;

impl Column {
    fn head(self, length: Scale) -> String {
        match self {
            C::Name => "station".to_owned(),
            C::Span => format!("span {}", length.head()),
            C::Design => "design".to_owned(),
            C::Measured => "measured".to_owned(),
            C::Error => "error".to_owned(),
            C::Half => "±".to_owned(),
            C::Conforms => "conforms".to_owned(),
            C::Verdict => "verdict".to_owned(),
            C::From => "from".to_owned(),
        }
    }

    /// The text in its column: figures to the right, words to the left.
    fn put(self, text: &str, columns: usize) -> String {
        match self {
            C::Name | C::Verdict | C::From => wrap::fit(text, columns),
            _ => format!("{}{text}", " ".repeat(columns.saturating_sub(wrap::width(text)))),
        }
    }
}

/// The table; all stations, or the notable ones. The points say why a station has no value, and which entries it
/// comes from.
pub fn table(twist: &Twist, points: &[PointView], units: Units, listed: Listed) -> Vec<String> {
    let shown = |s: &&StationView| {
        listed == Listed::All
            || twist.stations.len() <= MOST
            || s.verdict != Some(Verdict::Within)
            || s.stands_out
    };
    let stations: Vec<&StationView> = twist.stations.iter().filter(shown).collect();
    let table = Table::of(&stations, points, units);
    let mut lines = vec![paint::faint(&table.line(|c| c.head(table.length), None))];
    for station in &stations {
        lines.push(table.line(|c| table.cell(c, station), station.verdict));
        lines.extend(station.decide.as_deref().map(|d| wrap::wrap("    ", d)));
    }
    let left = twist.stations.len() - stations.len();
    if left > 0 {
        lines.push(format!("{left} more stations are within; --full lists them"));
    }
    lines
}

struct Table<'a> {
    points: BTreeMap<&'a str, Vec<&'a PointView>>,
    angle: Scale,
    length: Scale,
    places: usize,
    columns: Vec<(Column, usize)>,
}

impl<'a> Table<'a> {
    fn of(stations: &[&StationView], points: &'a [PointView], units: Units) -> Self {
        let (angle, length) = (units.scale(Kind::Angle), units.scale(Kind::Length));
        let known = stations.iter().filter_map(|s| s.u_deg).filter(|u| *u > 0.0);
        let least = known.fold(f64::INFINITY, f64::min);
        let places = decimals(angle.size(2.0 * least)).clamp(angle.decimals(2), angle.decimals(3));
        let mut by_place: BTreeMap<&str, Vec<&PointView>> = BTreeMap::new();
        for point in points.iter().filter(|p| p.point.kind().row().judgement == Judgement::Twist) {
            by_place.entry(point.point.place()).or_default().push(point);
        }
        let mut table = Self { points: by_place, angle, length, places, columns: Vec::new() };
        let widest = |c: Column| {
            let cells = stations.iter().map(|s| wrap::width(&table.cell(c, s)));
            cells.max().unwrap_or(0).max(wrap::width(&c.head(length)))
        };
        let mut columns: Vec<(Column, usize)> = ALL.into_iter().map(|c| (c, widest(c))).collect();
        columns[0].1 = columns[0].1.min(NAME);
        for column in DROPPED {
            if columns.iter().map(|(_, wide)| wide + GAP).sum::<usize>() > wrap::terminal() + GAP {
                columns.retain(|(c, _)| *c != column);
            }
        }
        table.columns = columns;
        table
    }

    fn line(&self, cell: impl Fn(Column) -> String, verdict: Option<Verdict>) -> String {
        let last = self.columns.iter().rposition(|(c, _)| !cell(*c).is_empty()).unwrap_or(0);
        let cells = self.columns.iter().take(last + 1).enumerate().map(|(i, (c, wide))| {
            let text = c.put(&cell(*c), *wide);
            let text = if i == last { text.trim_end().to_owned() } else { text };
            if *c == C::Verdict { paint::verdict(verdict, &text) } else { text }
        });
        cells.collect::<Vec<_>>().join(&" ".repeat(GAP)).trim_end().to_owned()
    }

    fn cell(&self, column: Column, station: &StationView) -> String {
        let number = |v: Option<f64>| v.map_or_else(|| "-".to_owned(), |v| self.angle.signed(v, self.places));
        match column {
            C::Name => session::shown(&station.name).into_owned(),
            C::Span => self.length.fixed(station.span_mm, 2 * self.length.decimals(0)),
            C::Design => number(Some(station.design_deg)),
            C::Measured => number(station.measured_deg),
            C::Error => number(station.twist_error_deg),
            C::Half => match station.u_deg {
                Some(u) if u > 0.0 => {
                    let half = self.angle.with_half(0.0, K95 * u).at_least(self.places);
                    half.half().trim_start_matches('±').to_owned()
                }
                Some(_) => "?".to_owned(),
                None => "-".to_owned(),
            },
            C::Conforms => station.probability.map(percent).unwrap_or_default(),
            C::Verdict => self.word(station),
            C::From => self.entries(station),
        }
    }

    fn word(&self, station: &StationView) -> String {
        let word = match (station.verdict, station.measured_deg) {
            (_, None) if self.is_stale(station) => "stale",
            (Some(verdict), _) => verdict.word(),
            (None, Some(_)) => "no tolerance",
            (None, None) => "no reading",
        };
        let again = if station.stands_out { " !" } else { "" };
        let mark = if word == "stale" { Some(Verdict::Stale) } else { station.verdict };
        match mark {
            Some(_) => format!("{} {word}{again}", marks::of(mark)),
            None => format!("{word}{again}"),
        }
    }

    /// The entries that its incidence comes from: `72, 73`.
    fn entries(&self, station: &StationView) -> String {
        let mut all: Vec<u64> = self.points(station).flat_map(|p| p.entries.iter().copied()).collect();
        all.sort_unstable();
        let named: Vec<String> = all.iter().take(ENTRIES).map(u64::to_string).collect();
        let more = all.len().saturating_sub(ENTRIES);
        let rest = if more > 0 { format!(" +{more}") } else { String::new() };
        format!("{}{rest}", named.join(", "))
    }

    fn points(&self, station: &StationView) -> impl Iterator<Item = &&'a PointView> {
        self.points.get(station.name.as_str()).into_iter().flatten()
    }

    /// Whether a reading that would give the station's incidence became stale.
    fn is_stale(&self, station: &StationView) -> bool {
        self.points(station).any(|p| p.state == PointState::Stale)
    }
}
