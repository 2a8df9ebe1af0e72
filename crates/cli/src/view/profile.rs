//! The twist profile: one row for each station, root at the top, true to scale across.

use super::wrap::{fit, terminal, width, wrap};
use super::{marks, paint};
use assess::view::{
    Assessment, BandPoint, PointState, PointView, PreviousTwist, StationView, Twist, Verdict,
};
use quantity::shown::Scale;
use quantity::{Kind, Units};
use record::point::Judgement;
use std::collections::BTreeSet;

/// Degrees for each column, finest first.
const STEPS: [f64; 7] = [0.005, 0.01, 0.0125, 0.02, 0.025, 0.05, 0.1];
/// With more stations than this, those within are folded.
const MOST: usize = 24;
/// The number of worst stations that are never folded.
const WORST: usize = 12;
/// Least width of name, mark and value, in columns.
const LABEL: usize = 21;
/// Largest width of a name, in columns.
const NAME: usize = 16;
/// Least width of the drawing, in columns.
const LEAST: usize = 20;

/// Which stations have a row of their own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rows {
    All,
    /// Every station if there are few; otherwise the worst, with their neighbours.
    Worst,
    NotWithin,
}

/// The profile; empty if no station has a value.
pub fn profile(a: &Assessment, units: Units, rows: Rows) -> Vec<String> {
    let Some(twist) = &a.twist else { return Vec::new() };
    let drawn =
        Drawn { twist, previous: a.previous.as_ref(), stale: stale(a), scale: units.scale(Kind::Angle) };
    let stations: Vec<&StationView> = twist.stations.iter().collect();
    let name = stations.iter().map(|s| width(&session::shown(&s.name))).max().unwrap_or(0).clamp(3, NAME);
    let labels: Vec<String> = stations.iter().map(|s| drawn.label(s, name)).collect();
    let label = labels.iter().map(|l| width(l)).max().unwrap_or(0).max(LABEL - 1) + 1;
    let Some(across) = Across::of(twist, terminal().saturating_sub(label).max(LEAST)) else {
        return Vec::new();
    };
    let kept = kept(&stations, rows);
    let mut out = vec![drawn.head(&across, label)];
    let mut from = 0;
    for (i, station) in stations.iter().enumerate() {
        if !kept.contains(&i) {
            continue;
        }
        out.extend(drawn.folded(&stations[from..i]));
        out.push(format!("{}{}", fit(&labels[i], label), drawn.row(station, &across)).trim_end().to_owned());
        from = i + 1;
    }
    out.extend(drawn.folded(&stations[from..]));
    out.push(legend(&out, twist));
    out.into_iter().map(|line| coloured(&line)).collect()
}

/// The rows to draw, by the positions of their stations.
fn kept(stations: &[&StationView], rows: Rows) -> BTreeSet<usize> {
    let within = |s: &StationView| s.verdict == Some(Verdict::Within) && !s.stands_out;
    match rows {
        Rows::NotWithin => (0..stations.len()).filter(|i| !within(stations[*i])).collect(),
        Rows::Worst if stations.len() > MOST => {
            let size = |i: usize| stations[i].twist_error_deg.map_or(0.0, f64::abs);
            let mut order: Vec<usize> = (0..stations.len()).collect();
            order.sort_by(|a, b| {
                stations[*b].verdict.cmp(&stations[*a].verdict).then(size(*b).total_cmp(&size(*a)))
            });
            let near = |i: usize| i.saturating_sub(1)..=(i + 1).min(stations.len() - 1);
            order.into_iter().take(WORST).flat_map(near).collect()
        }
        Rows::All | Rows::Worst => (0..stations.len()).collect(),
    }
}

/// The columns across the picture: degrees for each column, with zero on one of them.
struct Across {
    step: f64,
    zero: i64,
    columns: usize,
}

impl Across {
    fn of(twist: &Twist, columns: usize) -> Option<Self> {
        let bars = twist.stations.iter().flat_map(|s| [s.lower95_deg, s.upper95_deg, s.twist_error_deg]);
        let bars: Vec<f64> = bars.flatten().filter(|v| v.is_finite()).collect();
        if bars.is_empty() {
            return None;
        }
        let ends = bars.into_iter().chain([twist.lower_deg, twist.upper_deg].into_iter().flatten());
        let (low, high) = ends.fold((0.0_f64, 0.0_f64), |(low, high), v| (low.min(v), high.max(v)));
        let needs = |step: f64| (high / step).ceil() - (low / step).floor() + 1.0;
        let room = columns as f64;
        let step = STEPS
            .into_iter()
            .chain((0..40).map(|i| 0.2 * 2.0_f64.powi(i)))
            .find(|step| needs(*step) <= room)?;
        let (first, last) = (whole((low / step).floor()), whole((high / step).ceil()));
        let free = whole(room) - (last - first + 1);
        Some(Self { step, zero: free / 2 - first, columns })
    }

    fn place(&self, value: f64) -> i64 {
        whole((value / self.step).round()).saturating_add(self.zero)
    }

    fn column(&self, value: f64) -> Option<usize> {
        usize::try_from(self.place(value)).ok().filter(|c| *c < self.columns)
    }

    /// The columns from one value to another, as far as they are drawn.
    fn columns(&self, low: f64, high: f64) -> std::ops::Range<usize> {
        let clamp = |place: i64| usize::try_from(place.max(0)).unwrap_or(0).min(self.columns);
        clamp(self.place(low))..clamp(self.place(high).saturating_add(1))
    }
}

#[expect(clippy::cast_possible_truncation, reason = "a count of columns; a cast saturates")]
fn whole(value: f64) -> i64 {
    value as i64
}

struct Drawn<'a> {
    twist: &'a Twist,
    previous: Option<&'a PreviousTwist>,
    /// Stations whose readings became stale.
    stale: BTreeSet<&'a str>,
    scale: Scale,
}

impl Drawn<'_> {
    fn limits(&self) -> impl Iterator<Item = f64> {
        [self.twist.lower_deg, self.twist.upper_deg].into_iter().flatten()
    }

    /// `S1  ● -0.01 ±0.03`
    fn label(&self, s: &StationView, name: usize) -> String {
        let verdict = if self.stale.contains(s.name.as_str()) && s.twist_error_deg.is_none() {
            Some(Verdict::Stale)
        } else {
            s.verdict
        };
        let mark = if verdict.is_none() && s.twist_error_deg.is_none() { ' ' } else { marks::of(verdict) };
        let name = fit(&session::shown(&s.name), name);
        let value = match (s.twist_error_deg, s.u_deg) {
            (Some(value), Some(u)) => self.value(value, u),
            _ => verdict.map_or("no reading", Verdict::word).to_owned(),
        };
        let again = if s.remeasure { "!" } else { " " };
        format!("{name} {mark}{again}{value}")
    }

    fn value(&self, value: f64, u: f64) -> String {
        let shown = self.scale.with_u(value, u).against([self.twist.lower_deg, self.twist.upper_deg]);
        format!("{} {}", shown.signed(), shown.half())
    }

    /// The quantity, and the figures of limits and zero over their columns.
    fn head(&self, across: &Across, label: usize) -> String {
        let mut out = fit(&format!("twist error, {}", self.scale.head()), label);
        let mut figures: Vec<(usize, String)> = self
            .limits()
            .chain([0.0])
            .filter_map(|v| {
                let sign = if v > 0.0 { "+" } else { "" };
                Some((
                    across.column(v)?,
                    if v == 0.0 { "0".to_owned() } else { format!("{sign}{}", self.scale.exact(v)) },
                ))
            })
            .collect();
        figures.sort();
        for (column, text) in figures {
            let start = (label + column).saturating_sub(width(&text) / 2);
            let start = start.min((label + across.columns).saturating_sub(width(&text)));
            let have = width(&out);
            if start > have || have == label && start >= label {
                out.push_str(&" ".repeat(start - have));
                out.push_str(&text);
            }
        }
        out.trim_end().to_owned()
    }

    /// Drawn from the top: mark, ends of the bar, curve, bar, limit, band, zero.
    fn row(&self, s: &StationView, across: &Across) -> String {
        let mut cells = vec![' '; across.columns];
        let mut put = |column: Option<usize>, sign: char| {
            if let Some(cell) = column.and_then(|c| cells.get_mut(c)) {
                *cell = sign;
            }
        };
        put(across.column(0.0), '┊');
        let band = self.band(s.span_mm);
        if let Some(b) = band {
            let (low, high) = (b.fit_deg - b.simultaneous_deg, b.fit_deg + b.simultaneous_deg);
            across.columns(low, high).for_each(|c| put(Some(c), '░'));
        }
        self.limits().for_each(|limit| put(across.column(limit), '┃'));
        let before = self.previous.iter().flat_map(|p| &p.stations);
        before
            .filter(|b| (b.span_mm - s.span_mm).abs() < 1e-6)
            .for_each(|b| put(across.column(b.twist_error_deg), '×'));
        let curve = band.and_then(|b| across.column(b.fit_deg));
        put(curve, '│');
        let (Some(value), Some(low), Some(high)) = (s.twist_error_deg, s.lower95_deg, s.upper95_deg) else {
            return cells.into_iter().collect();
        };
        let bar = across.columns(low, high);
        let limits: Vec<usize> = self.limits().filter_map(|l| across.column(l)).collect();
        for c in bar.clone() {
            let (first, last) = (c == bar.start, c + 1 == bar.end);
            let sign = match (first, last, limits.contains(&c), Some(c) == curve) {
                (true, _, false, _) => '├',
                (_, true, false, _) => '┤',
                (true, _, true, _) => '┠',
                (_, true, true, _) => '┨',
                (_, _, _, true) => '┼',
                (_, _, true, _) => '╂',
                _ => '─',
            };
            put(Some(c), sign);
        }
        put(across.column(value), marks::of(s.verdict));
        cells.into_iter().collect()
    }

    /// The curve and its band at a place, as far as they reach.
    fn band(&self, span_mm: f64) -> Option<&BandPoint> {
        let away = |b: &&BandPoint| (b.span_mm - span_mm).abs();
        let (first, last) = (self.twist.band.first()?, self.twist.band.last()?);
        let grid = (last.span_mm - first.span_mm) / self.twist.band.len().max(2) as f64;
        let near = self.twist.band.iter().min_by(|a, b| away(a).total_cmp(&away(b)))?;
        (away(&near) <= grid.abs() + 1e-9).then_some(near)
    }

    /// Stations without their own row: `S1 to S7 ● 7 within, worst -0.17 ±0.07 (S6)`.
    fn folded(&self, stations: &[&StationView]) -> Option<String> {
        let (first, last) = (stations.first()?, stations.last()?);
        let names =
            if stations.len() == 1 { first.name.clone() } else { format!("{} to {}", first.name, last.name) };
        let counts = marks::counts(Verdict::WORST_FIRST, stations.iter().filter_map(|s| s.verdict));
        let size = |s: &&&StationView| s.twist_error_deg.map_or(0.0, f64::abs);
        let worst = stations.iter().max_by(|a, b| size(a).total_cmp(&size(b)));
        let worst = worst.and_then(|s| {
            let value = self.value(s.twist_error_deg?, s.u_deg?);
            Some(format!(", worst {value} ({})", s.name))
        });
        let counts = if counts.is_empty() { "no tolerance".to_owned() } else { counts.join(", ") };
        Some(format!("{names} {counts}{}", worst.unwrap_or_default()))
    }
}

/// Stations with a stale reading.
fn stale(a: &Assessment) -> BTreeSet<&str> {
    let of_twist = |p: &&PointView| p.point.kind().row().judgement == Judgement::Twist;
    a.points
        .iter()
        .filter(of_twist)
        .filter(|p| p.state == PointState::Stale)
        .map(|p| p.point.place())
        .collect()
}

/// The meaning of the signs that were drawn.
fn legend(lines: &[String], twist: &Twist) -> String {
    let drawn = |sign: char| lines.iter().skip(1).any(|line| line.contains(sign));
    let own = if twist.stations.iter().any(|s| s.reversed) { "pair" } else { "readings" };
    // Figures contain these signs too.
    let without = twist.stations.iter().any(|s| s.verdict.is_none() && s.twist_error_deg.is_some());
    let again = twist.stations.iter().any(|s| s.remeasure);
    let mut words: Vec<String> = Verdict::WORST_FIRST
        .into_iter()
        .rev()
        .map(|v| (marks::of(Some(v)), v.word().to_owned()))
        .filter(|(sign, _)| drawn(*sign))
        .chain(without.then(|| (marks::of(None), "no tolerance".to_owned())))
        .chain(again.then(|| ('!', "measure again".to_owned())))
        .map(|(sign, words)| format!("{sign} {words}"))
        .collect();
    let signs = [
        ('├', format!("├─┤ 95 % by its own {own}")),
        ('┃', "┃ limit".to_owned()),
        ('┊', "┊ zero".to_owned()),
        ('│', "│ the curve, ┼ where a bar crosses it".to_owned()),
        ('░', "░ where it may lie (95 %, all at once)".to_owned()),
        ('×', "× the stage before".to_owned()),
    ];
    let there = |sign: char| drawn(sign) || (sign == '│' && drawn('┼'));
    words.extend(signs.into_iter().filter(|(sign, _)| there(*sign)).map(|(_, words)| words));
    // Blanks inside an item must not break.
    let items: Vec<String> = words.into_iter().map(|w| w.replace(' ', "\u{a0}")).collect();
    wrap("", &items.join("  ")).replace('\u{a0}', " ")
}

/// The marks in their colours, band and curve dim.
fn coloured(line: &str) -> String {
    let mut out = String::with_capacity(line.len() * 2);
    for c in line.chars() {
        match c {
            '░' | '│' | '┊' => out.push_str(&paint::faint(&c.to_string())),
            c => out.push(c),
        }
    }
    paint::marks(&out)
}
