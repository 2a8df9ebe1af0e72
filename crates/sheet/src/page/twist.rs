//! The twist: every station by its own readings, with the readings behind it, and how it was judged.

use super::Sheet;
use super::judged::behind;
use super::words::{degrees, percent, spaced};
use crate::draw::Role;
use crate::flow::{Break, Cell, PlotHeight, Stack, Table};
use crate::plot::{Ticks, legend, legend_height, profile_words, twist_dots, twist_legend};
use assess::view::{Finding, JudgedBy, ObligationKind, PointView, StationView, StepView, Twist, Verdict};
use quantity::shown::{fixed, step_decimals};
use record::plan::Side;

pub(super) const CHAPTER: &str = "twist";
/// With up to this many stations, the span is shown under the name; with more, only the name.
const NAMED: usize = 16;
const READINGS: usize = 2;

pub(super) fn page<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, begins: Break) {
    stack.chapter(begins.of(CHAPTER));
    let Some(twist) = &s.a.twist else {
        stack.heading("Twist error of each station", "", None);
        stack.paragraph("", "No twist profile: fewer than two stations have a usable reading.");
        return;
    };
    plot(s, stack, twist);
    stations(s, stack, twist);
    whole(s, stack, twist);
    judged(s, stack, twist);
}

impl Sheet<'_> {
    pub(super) fn design(&self, deg: f64) -> String {
        self.angle().signed(deg, self.angle().decimals(step_decimals(deg).max(2)))
    }

    /// The angle measured at a station.
    pub(super) fn measured_at<'c>(&self, v: &StationView) -> Cell<'c> {
        Cell::maybe(v.measured_deg.zip(v.measured_u_deg).map(|(m, u)| self.angle().with_u(m, u).signed()))
    }

    /// The side of the tip in pictures along the span, seen from aft.
    pub(super) const fn tip(&self) -> &'static str {
        match self.a.side {
            Side::Left => "tip at left",
            Side::Right | Side::Both => "tip at right",
        }
    }
}

/// The plot over the whole width.
pub(super) fn plot<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, twist: &'a Twist) {
    let worst = twist.stations.iter().filter_map(|v| v.verdict).max();
    let right = worst.map(|w| {
        let n = twist.stations.iter().filter(|v| v.verdict == Some(w)).count();
        (w, format!("{n} {}", w.word()))
    });
    stack.heading(
        &format!("Twist error of each station, {}", degrees(s.angle())),
        &format!("nose up is positive; 95 % bars; seen from aft: {}", s.tip()),
        right,
    );
    let previous = s.a.previous.as_ref();
    let mut dots = twist_dots(s.a, twist, previous, Ticks::Round);
    if dots.dots.len() <= NAMED {
        dots.dots.iter_mut().for_each(|d| d.under = s.length().exact(d.x));
    }
    let about = profile_words(twist, s.angle());
    stack.figure(dots, about, PlotHeight { usual: 165.0, most: 283.0 });
    stack.keep();
    let entries = twist_legend(twist, previous);
    stack.fixed(legend_height(s.set, s.grid.width, &entries), move |canvas, area| {
        let shapes = legend(canvas.set, area, &entries);
        canvas.said(Role::Paragraph, shapes);
    });
}

/// `#171 +2.15 fwd, #172 -1.90 aft`.
fn readings(s: &Sheet<'_>, points: &[&PointView]) -> String {
    let all = || points.iter().flat_map(|p| p.behind.iter().map(move |r| (p, r)));
    let one = |(p, r): (&&PointView, &assess::view::ShownReading)| {
        let (scale, decimals) = (s.a.units.scale(p.unit), step_decimals(r.resolution));
        let value = if p.unit == quantity::Kind::Angle {
            scale.signed(r.value, scale.decimals(decimals))
        } else {
            scale.fixed(r.value, scale.decimals(decimals))
        };
        let facing = match r.facing {
            Some(record::Facing::Forward) => " fwd",
            Some(record::Facing::Aft) => " aft",
            None => "",
        };
        format!("#{} {value}{facing}", r.entry)
    };
    let shown: Vec<String> = all().take(READINGS).map(one).collect();
    match all().count().saturating_sub(READINGS) {
        0 => shown.join("   "),
        more => format!("{}   and {more} more", shown.join("   ")),
    }
}

fn rounds(points: &[&PointView]) -> String {
    let mut all: Vec<u32> = points.iter().filter_map(|p| p.round).collect();
    all.sort_unstable();
    all.dedup();
    all.iter().map(u32::to_string).collect::<Vec<_>>().join(", ")
}

fn stations<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, twist: &'a Twist) {
    let zero = s.a.zeros.iter().max_by_key(|z| z.round).map_or_else(String::new, |z| {
        let zero = spaced(&s.angle().with_u(z.zero_deg, z.u_deg).signed_with());
        format!("; zero of the last round, taken out by the pair: {zero}")
    });
    stack.heading("Stations", &format!("readings as displayed, with facing{zero}"), None);
    let points = behind(&s.a.points);
    let mut changes = s.a.changes.iter().flat_map(|c| &c.stations).peekable();
    let since = s.a.changes.as_ref().map_or("", |c| c.since.as_str());
    let mine = |v: &StationView| -> Vec<&PointView> {
        let read = points.get(&JudgedBy::new(ObligationKind::Station, &v.name)).into_iter().flatten();
        let kind = |p: &&&PointView| v.from.is_none_or(|f| f.word().starts_with(p.point.kind().word()));
        read.filter(kind).copied().collect()
    };
    let length = s.length();
    let mut table = Table::of("Stations", &twist.stations)
        .marks(|v| v.verdict)
        .text("station", |v| Cell::strong(v.name.as_str()))
        .figures(format!("span {}", length.head()), |v| Cell::text(length.exact(v.span_mm)))
        .figures("design", |v| Cell::text(s.design(v.design_deg)))
        .figures("measured", |v| s.measured_at(v))
        .figures("error, 95 %", |v| error(s, twist, v))
        .figures("conforms", |v| Cell::maybe(v.probability.map(percent)));
    if changes.peek().is_some() {
        table = table.figures(format!("since {since}"), |v| {
            let Some(c) = changes.next_if(|c| c.name == v.name) else { return Cell::Empty };
            let shown = s.angle().with_u(c.change_deg, c.u_deg);
            let text = spaced(&format!("{} {}", shown.signed(), shown.half()));
            if c.real { Cell::Strong(text) } else { Cell::Text(text) }
        });
    }
    let table = table
        .words("readings behind it", |v| Cell::text(readings(s, &mine(v))))
        .count("round", |v| Cell::text(rounds(&mine(v))));
    stack.table(table);
}

/// The twist error of a station, or the word for the reason there is none.
pub(super) fn error<'a>(s: &Sheet<'_>, twist: &Twist, v: &StationView) -> Cell<'a> {
    match (v.twist_error_deg, v.u_deg) {
        (Some(value), Some(u)) if value.is_finite() => {
            let shown = s.angle().with_u(value, u).against([twist.lower_deg, twist.upper_deg]);
            Cell::value(&shown.signed_with())
        }
        _ => Cell::strong(v.verdict.map_or("not measured", Verdict::word)),
    }
}

/// The step nearest to its limit.
fn largest_step(twist: &Twist) -> Option<&Finding> {
    let off = |f: &Finding| f.judged().map_or(0.0, |j| j.value.abs());
    twist
        .neighbours
        .iter()
        .map(|n| &n.finding)
        .max_by(|a, b| a.verdict().cmp(&b.verdict()).then(off(a).total_cmp(&off(b))))
}

fn whole<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, twist: &'a Twist) {
    stack.heading("Setting, washout, largest step", "", None);
    let or_why = |name: &str, found: &'a Finding, words: &str| match found {
        Finding::Judged(_) => (name.to_owned(), found, words.to_owned()),
        Finding::Not(not) => (name.to_owned(), found, not.why.to_string()),
    };
    let washout = "the curve at the tip datum less that at the root datum";
    let mut all = vec![
        or_why("setting", &twist.setting, "how the whole wing sits in the jig; not twist"),
        or_why("washout error", &twist.washout_error, washout),
    ];
    if let Some(step) = largest_step(twist) {
        let is_within = |n: &&StepView| n.finding.verdict() == Some(Verdict::Within);
        let within = twist.neighbours.iter().filter(is_within).count();
        let words = match step.verdict() {
            None => "the plan has no limit for it".to_owned(),
            Some(_) => format!("{within} of {} steps within", twist.neighbours.len()),
        };
        all.push((format!("largest step, {}", step.what()), step, words));
    }
    let limits = |found: &Finding| match found {
        Finding::Judged(j) => j.scale().limits_with(j.lower, j.upper),
        Finding::Not(not) => s.a.units.scale(not.unit).limits_with(not.lower, not.upper),
    };
    // A stale value gives no probability for the present state.
    let current = |found: &'a Finding| found.judged().filter(|j| j.verdict != Some(Verdict::Stale));
    let table = Table::of("Setting, washout, largest step", &all)
        .marks(|(_, found, _)| found.verdict())
        .text("what", |(name, ..)| Cell::strong(name.as_str()))
        .figures("value, 95 %", |(_, found, _)| match found {
            Finding::Judged(j) => Cell::value(&j.shown()),
            Finding::Not(not) => Cell::text(not.verdict.map_or("no value", Verdict::word)),
        })
        .text("limits", |(_, found, _)| Cell::text(limits(found).unwrap_or_else(|| "none".to_owned())))
        .figures("conforms", |(_, found, _)| {
            Cell::maybe(current(found).and_then(|j| j.probability).map(percent))
        })
        .words("what it is", |(_, found, words)| {
            Cell::text(found.judged().and_then(|j| j.decide.as_ref()).unwrap_or(words))
        });
    stack.table(table);
}

fn judged<'a>(s: &Sheet<'a>, stack: &mut Stack<'a>, twist: &'a Twist) {
    stack.heading("How it was judged", "", None);
    let remarks: Vec<String> = twist
        .stations
        .iter()
        .filter_map(|v| v.standing().map(|words| format!("{} {words}", v.name)))
        .chain(twist.remarks.iter().cloned())
        .collect();
    stack.pair(
        0.5,
        |stack| {
            stack.paragraph(
                "By its own readings.",
                "Each station is judged by its own readings, less the setting. The curve only shows the shape.",
            );
            if twist.order > 0 {
                let scatter = twist.scatter_deg.filter(|t| *t > 0.0).map_or_else(String::new, |t| {
                    format!(" Scatter of the ribs, about {}, is allowed for.", s.angle().rough_with(t))
                });
                let words = format!(
                    "chi squared {} on {} about the curve.{scatter}",
                    fixed(twist.chi2, 2),
                    twist.dof
                );
                stack.paragraph("Scatter:", &words);
                let words = format!(
                    "{} stations: a curve of order {}, by rule and not by choice from the data.",
                    twist.stations.iter().filter(|v| v.measured_deg.is_some()).count(),
                    twist.order
                );
                stack.paragraph("Order:", &words);
            }
        },
        |stack| {
            stack.paragraph("± is 95 %.", "It covers display, seating and the scatter of the ribs. The level’s zero drops out of a pair.");
            let least = twist.stations.iter().filter_map(|v| v.probability).fold(f64::INFINITY, f64::min);
            if least.is_finite() {
                stack.paragraph("Conforms:", &format!("the least certain station conforms {}.", percent(least)));
            }
            if s.left_right() {
                stack.paragraph("Left against right.", "Not compared: it needs the log of the other wing.");
            }
        },
    );
    for remark in remarks {
        stack.paragraph("", &remark);
    }
}
