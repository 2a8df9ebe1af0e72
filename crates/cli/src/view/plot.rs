//! The twist profile drawn in characters.

use super::wrap::{WIDTH, width};
use assess::view::{BandPoint, PreviousTwist, StationView, Twist, Verdict};

/// Columns left of the plot for the figures of the scale.
const SCALE: usize = 8;
const COLUMNS: usize = WIDTH - SCALE - 1;
/// Target height in rows.
const ROWS: f64 = 15.0;

/// What is drawn over what, lowest first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Ink {
    Nothing,
    Band,
    Design,
    Limit,
    Before,
    Fit,
    Bar,
    Mark(char),
}

impl Ink {
    const fn symbol(self) -> char {
        match self {
            Self::Nothing => ' ',
            Self::Band => '░',
            Self::Design => '─',
            Self::Limit => '═',
            Self::Before => '·',
            Self::Fit => '•',
            Self::Bar => '│',
            Self::Mark(c) => c,
        }
    }
}

/// The mark of a station, by shape and not by colour.
pub const fn mark(verdict: Option<Verdict>) -> char {
    match verdict {
        Some(Verdict::Within) => 'o',
        Some(Verdict::Outside) => 'X',
        Some(_) => '?',
        None => '+',
    }
}

/// A rectangle of ink with a scale of even steps; the zero lies on a row of its own.
struct Canvas {
    cells: Vec<Vec<Ink>>,
    /// Number of steps above zero at which the top row stands.
    top: i64,
    step: f64,
    from_mm: f64,
    to_mm: f64,
}

impl Canvas {
    fn new(low: f64, high: f64, from_mm: f64, to_mm: f64) -> Self {
        let step = even_step((high - low) / ROWS);
        let top = to_steps((high / step).ceil());
        let bottom = to_steps((low / step).floor());
        let rows = usize::try_from(top - bottom + 1).unwrap_or(1).min(60);
        Self { cells: vec![vec![Ink::Nothing; COLUMNS]; rows], top, step, from_mm, to_mm }
    }

    fn column(&self, span_mm: f64) -> usize {
        let part = (span_mm - self.from_mm) / (self.to_mm - self.from_mm);
        let column = (part * (COLUMNS - 1) as f64).round();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the columns")]
        let column = column.clamp(0.0, (COLUMNS - 1) as f64) as usize;
        column
    }

    fn row(&self, value: f64) -> Option<usize> {
        let row = self.top - to_steps((value / self.step).round());
        usize::try_from(row).ok().filter(|r| *r < self.cells.len())
    }

    fn put(&mut self, column: usize, value: f64, ink: Ink) {
        if let Some(row) = self.row(value)
            && let Some(cell) = self.cells[row].get_mut(column)
        {
            *cell = (*cell).max(ink);
        }
    }

    fn bar(&mut self, column: usize, low: f64, high: f64, ink: Ink) {
        let rows = self.cells.len();
        let top = self.row(high).unwrap_or(0);
        let bottom = self.row(low).unwrap_or(rows.saturating_sub(1));
        for row in self.cells.iter_mut().take(bottom + 1).skip(top) {
            if let Some(cell) = row.get_mut(column) {
                *cell = (*cell).max(ink);
            }
        }
    }
}

/// The profile: twist error over span, on lines of 80 columns.
pub fn profile(twist: &Twist, previous: Option<&PreviousTwist>) -> Vec<String> {
    let spans = twist.stations.iter().map(|s| s.span_mm);
    let from_mm = spans.clone().fold(twist.root_mm, f64::min);
    let to_mm = spans.fold(twist.tip_mm, f64::max);
    let Some((low, high)) = range(twist, previous).filter(|_| to_mm > from_mm) else {
        return Vec::new();
    };
    let mut canvas = Canvas::new(low, high, from_mm, to_mm);
    draw_band(&mut canvas, twist);
    if let Some(before) = previous {
        for station in &before.stations {
            canvas.put(canvas.column(station.span_mm), station.twist_error_deg, Ink::Before);
        }
    }
    for station in &twist.stations {
        draw_station(&mut canvas, station);
    }
    let mut lines = vec!["twist error, deg (nose up is +)".to_owned()];
    lines.extend(scaled(&canvas));
    lines.extend(axis(&canvas, &twist.stations));
    lines.push(legend(&canvas));
    lines
}

fn range(twist: &Twist, previous: Option<&PreviousTwist>) -> Option<(f64, f64)> {
    let of_band = twist.band.iter().flat_map(|b| {
        let half = b.simultaneous_deg;
        [Some(b.fit_deg - half), Some(b.fit_deg + half)]
    });
    let of_stations = twist.stations.iter().flat_map(|s| [s.lower95_deg, s.upper95_deg]);
    let limits = [twist.lower_deg, twist.upper_deg];
    let before = previous.iter().flat_map(|p| &p.stations).map(|s| Some(s.twist_error_deg));
    let all = of_band.chain(of_stations).chain(limits).chain(before).flatten().filter(|v| v.is_finite());
    let (low, high) = all.fold((0.0_f64, 0.0_f64), |(low, high), v| (low.min(v), high.max(v)));
    (high - low > 1e-9).then_some((low, high))
}

fn draw_band(canvas: &mut Canvas, twist: &Twist) {
    let reached = twist.band.last().map_or(f64::NEG_INFINITY, |b| b.span_mm);
    for column in 0..COLUMNS {
        let part = column as f64 / (COLUMNS - 1) as f64;
        let span_mm = canvas.from_mm + part * (canvas.to_mm - canvas.from_mm);
        canvas.put(column, 0.0, Ink::Design);
        for limit in [twist.lower_deg, twist.upper_deg].into_iter().flatten() {
            canvas.put(column, limit, Ink::Limit);
        }
        let Some(at) = nearest(&twist.band, span_mm).filter(|_| span_mm <= reached + 1e-9) else { continue };
        canvas.bar(column, at.fit_deg - at.simultaneous_deg, at.fit_deg + at.simultaneous_deg, Ink::Band);
        canvas.put(column, at.fit_deg, Ink::Fit);
    }
}

fn nearest(band: &[BandPoint], span_mm: f64) -> Option<&BandPoint> {
    let away = |b: &BandPoint| (b.span_mm - span_mm).abs();
    band.iter().min_by(|a, b| away(a).total_cmp(&away(b)))
}

fn draw_station(canvas: &mut Canvas, station: &StationView) {
    let (Some(value), Some(low), Some(high)) =
        (station.twist_error_deg, station.lower95_deg, station.upper95_deg)
    else {
        return;
    };
    let column = canvas.column(station.span_mm);
    canvas.bar(column, low, high, Ink::Bar);
    let mark = if station.remeasure { '!' } else { mark(station.verdict) };
    canvas.put(column, value, Ink::Mark(mark));
}

/// The rows, with a label on every second or third.
fn scaled(canvas: &Canvas) -> Vec<String> {
    let every = if canvas.cells.len() > 10 { 3 } else { 2 };
    let places = if canvas.step * f64::from(every) < 0.1 { 3 } else { 2 };
    let rows = canvas.cells.iter().zip((0..).map(|r| canvas.top - r));
    rows.map(|(cells, steps)| {
        let drawn: String = cells.iter().map(|c| c.symbol()).collect();
        let label = if steps % i64::from(every) == 0 {
            #[expect(clippy::cast_precision_loss, reason = "a few dozen steps")]
            let value = steps as f64 * canvas.step;
            format!("{:>w$} ┤", quantity::shown::signed(value, places), w = SCALE - 2)
        } else {
            format!("{:>w$} │", "", w = SCALE - 2)
        };
        format!("{label}{drawn}").trim_end().to_owned()
    })
    .collect()
}

/// The line of stations and their names, as many as have room.
fn axis(canvas: &Canvas, stations: &[StationView]) -> Vec<String> {
    let mut line = vec!['─'; COLUMNS];
    let mut names = vec![' '; COLUMNS];
    let mut free = 0;
    for station in stations {
        let column = canvas.column(station.span_mm);
        line[column] = '┴';
        let name = session::shown(&station.name).into_owned();
        let start = column.saturating_sub(width(&name) / 2).min(COLUMNS.saturating_sub(width(&name)));
        if start >= free && start + width(&name) <= COLUMNS && width(&name) == name.chars().count() {
            for (i, c) in name.chars().enumerate() {
                names[start + i] = c;
            }
            free = start + width(&name) + 1;
        }
    }
    let pad = " ".repeat(SCALE - 1);
    let names: String = names.into_iter().collect();
    let ends = (format!("{:.0} mm", canvas.from_mm), format!("{:.0} mm", canvas.to_mm));
    let gap = COLUMNS.saturating_sub(ends.0.len() + ends.1.len());
    vec![
        format!("{pad}└{}", line.into_iter().collect::<String>()),
        format!("{pad} {}", names.trim_end()),
        format!("{pad} {}{}{}", ends.0, " ".repeat(gap), ends.1),
    ]
}

/// What the signs that occur mean.
fn legend(canvas: &Canvas) -> String {
    let has = |ink: Ink| canvas.cells.iter().flatten().any(|c| *c == ink);
    let signs = [
        (Ink::Mark('o'), "o within"),
        (Ink::Mark('?'), "? undecided"),
        (Ink::Mark('X'), "X outside"),
        (Ink::Mark('!'), "! measure again"),
        (Ink::Mark('+'), "+ no tolerance"),
        (Ink::Bar, "│ its 95 %"),
        (Ink::Fit, "• curve"),
        (Ink::Band, "░ its 95 % band"),
        (Ink::Limit, "═ tolerance"),
        (Ink::Before, "· before"),
    ];
    // Blanks inside an item must not break.
    let shown: Vec<String> = signs
        .into_iter()
        .filter(|(ink, _)| has(*ink))
        .map(|(_, words)| words.replace(' ', "\u{a0}"))
        .collect();
    super::wrap::wrap(&" ".repeat(SCALE), &shown.join("  ")).replace('\u{a0}', " ")
}

/// The next of 1, 2, 2.5 and 5 times a power of ten.
fn even_step(at_least: f64) -> f64 {
    let power = 10_f64.powi(to_power(at_least.log10().floor()));
    [1.0, 2.0, 2.5, 5.0, 10.0]
        .into_iter()
        .map(|m| m * power)
        .find(|s| *s >= at_least * 0.999)
        .unwrap_or(at_least)
}

#[expect(clippy::cast_possible_truncation, reason = "a logarithm of an angle")]
fn to_power(value: f64) -> i32 {
    value as i32
}

#[expect(clippy::cast_possible_truncation, reason = "a count of rows; a cast saturates")]
fn to_steps(value: f64) -> i64 {
    value as i64
}
