//! What many wings teach, at 80 columns: which count, each figure with its control limits, what stages do, what moves
//! do, what instruments did.

use super::{Listed, paint, wrap};
use assess::series::{Creep, DriftRow, FigureRow, LikelyTrend, Moved, Series};
use assess::view::ObligationKind;
use quantity::shown::{Scale, WithU, count, exact, fixed, has_plus, signed};
use quantity::{Kind, Unit, Units};

/// Logs not counted, outliers or gaps that are named on a terminal.
const NAMED: usize = 12;
/// Changes shown unless all are requested.
const CHANGES: usize = 8;

pub fn text(s: &Series, extent: Listed, units: Units) -> String {
    let wing = s.wing.as_deref().unwrap_or("no wing");
    let stage = s.stage.as_ref().map_or_else(String::new, |s| format!(", each at the end of `{s}`"));
    let wings = count(s.wings.len(), "wing", "wings");
    let mut out = vec![paint::strong(&wrap::wrap("", &format!("{wings} like {wing}{stage}")))];
    let named: Vec<String> = s.not_counted.iter().map(|n| format!("{}: {}", n.log, n.why)).collect();
    out.extend(list("NOT COUNTED", &named, extent));
    if s.wings.is_empty() {
        return out.join("\n");
    }
    out.extend(figures(s, units));
    let outliers = s.figures.iter().flat_map(|f| {
        f.outliers.iter().map(|o| {
            let what = if o.step { "after a large step" } else { "outside its control limits" };
            let scale = units.scale(f.unit);
            let value = scale.with(&number(f, scale, o.value, scale.decimals(3)));
            format!("{}: {} {value} {what}", o.log, name(f))
        })
    });
    out.extend(list("Look at", &outliers.collect::<Vec<_>>(), extent));
    let trends = s.figures.iter().filter_map(|f| {
        let t = f.trend.filter(|t| t.real)?;
        let slope = slope(units.scale(f.unit), t.per_wing, 4);
        Some(format!("{} goes by {slope} from wing to wing", name(f)))
    });
    out.extend(list("Trend", &trends.collect::<Vec<_>>(), extent));
    let gaps = s.figures.iter().flat_map(|f| {
        f.lacking.iter().map(|l| format!("{}: {} {}", l.log, name(f), l.state.obligation_word()))
    });
    out.extend(list("No value", &gaps.collect::<Vec<_>>(), extent));
    out.extend(changes(s, extent, units));
    out.extend(moves(s, units));
    let drifts: Vec<String> = s.instruments.iter().map(|d| drift(d, units)).collect();
    out.extend(list("Instruments", &drifts, Listed::All));
    out.push(String::new());
    out.extend(s.remarks.iter().map(|r| wrap::wrap("  ", r)));
    out.join("\n")
}

/// A heading and its lines; nothing without lines.
fn list(head: &str, lines: &[String], extent: Listed) -> Vec<String> {
    if lines.is_empty() {
        return vec![];
    }
    let most = if extent == Listed::All { lines.len() } else { NAMED };
    let mut out = vec![String::new(), paint::strong(head)];
    out.extend(lines.iter().take(most).map(|line| wrap::wrap_hang("  ", "    ", line)));
    if lines.len() > most {
        out.push(format!("  and {} more; --all shows them", lines.len() - most));
    }
    out
}

fn figures(s: &Series, units: Units) -> Vec<String> {
    let head = format!(
        "{}{:>4}{:>9}{:>8}{:>8}  {}{}",
        wrap::fit("", 21),
        "n",
        "mean",
        "±95 %",
        "spread",
        wrap::fit("control limits", 17),
        "tolerance"
    );
    let mut out = vec![String::new(), paint::faint(head.trim_end())];
    let mut kind: Option<ObligationKind> = None;
    for f in &s.figures {
        if kind != Some(f.kind) {
            kind = Some(f.kind);
            out.push(paint::faint(&format!("{}, {}", f.kind.plural(), units.scale(f.unit).head())));
        }
        out.push(figure(f, units));
    }
    out
}

fn figure(f: &FigureRow, units: Units) -> String {
    let scale = units.scale(f.unit);
    let shown = scale.with_half(f.mean, f.half95).against([f.lower, f.upper]);
    let d = shown.decimals().min(4);
    let chart = f.chart.map_or_else(
        || "-".to_owned(),
        |c| format!("{} to {}", number(f, scale, c.lower, d), number(f, scale, c.upper, d)),
    );
    let mark = if f.outliers.is_empty() { " " } else { "!" };
    let line = format!(
        "{mark} {}{:>4}{:>9}{:>8}{:>8}  {}{}",
        wrap::fit(&f.about, 19),
        f.n,
        number(f, scale, f.mean, d),
        shown.half().replace('±', ""),
        f.sd.map_or_else(|| "-".to_owned(), |sd| spread(scale, sd, d + 1)),
        wrap::fit(&chart, 17),
        scale.limits(f.lower, f.upper).unwrap_or_default()
    );
    line.trim_end().to_owned()
}

/// A value of a figure; a torque, a force or a size has no direction and no plus.
fn number(f: &FigureRow, scale: Scale, base: f64, decimals: usize) -> String {
    match has_plus(f.unit, f.lower, f.upper) {
        true => scale.signed(base, decimals),
        false => scale.fixed(base, decimals),
    }
}

/// A spread, which has no zero of its own: in minutes where degrees and minutes are shown.
fn spread(scale: Scale, sd: f64, decimals: usize) -> String {
    let mark = if scale.unit() == Unit::ArcMinute { "'" } else { "" };
    format!("{}{mark}", fixed(scale.size(sd), decimals))
}

fn slope(scale: Scale, per_wing: f64, inside: usize) -> String {
    match scale.unit() {
        Unit::ArcMinute => scale.signed_with(per_wing, inside),
        _ => scale.with(&signed(scale.size(per_wing), scale.decimals(inside))),
    }
}

/// The name of a figure in a sentence.
fn name(f: &FigureRow) -> String {
    match f.kind {
        ObligationKind::Setting
        | ObligationKind::Washout
        | ObligationKind::Station
        | ObligationKind::Spot => f.about.clone(),
        kind => format!("{} of {}", kind.word(), f.about),
    }
}

fn changes(s: &Series, extent: Listed, units: Units) -> Vec<String> {
    let shown: Vec<&Creep> = s.creeps.iter().filter(|c| extent == Listed::All || c.real).collect();
    let mut lines: Vec<String> = shown.iter().take(most(extent)).map(|c| creep(c, units)).collect();
    if lines.is_empty() && !s.creeps.is_empty() {
        lines.push("no stage moves the twist of these wings by more than chance".to_owned());
    }
    list("What stages do to the twist", &lines, Listed::All)
}

const fn most(extent: Listed) -> usize {
    match extent {
        Listed::All => usize::MAX,
        Listed::Notable => CHANGES,
    }
}

fn creep(c: &Creep, units: Units) -> String {
    let what = match &c.what {
        Moved::Setting => "the setting",
        Moved::WashoutError => "the washout error",
        Moved::Station(name) => name,
    };
    let by = units.scale(Kind::Angle).with_half(c.mean_deg, c.half95_deg).signed_with();
    let real = if c.real { "" } else { "; within chance" };
    format!("{what} goes by {by} during `{}` ({} of {} wings that way{real})", c.during, c.same_way, c.n)
}

fn moves(s: &Series, units: Units) -> Vec<String> {
    let Some(stiffness) = &s.stiffness else { return vec![] };
    let angle = units.scale(Kind::Angle);
    let lines = stiffness.moves.iter().map(|m| {
        let turn = m.deg_per_turn.map_or_else(
            || {
                format!(
                    "{} for {}",
                    angle.signed_with(m.deg_per_mm, 3),
                    units.scale(Kind::Length).exact_with(1.0)
                )
            },
            |deg| format!("{} for a turn", angle.signed_with(deg, 3)),
        );
        format!("{}: {turn}", m.words)
    });
    let mut out = list("What moves did", &lines.collect::<Vec<_>>(), Listed::All);
    let share = WithU::of_u(stiffness.share.mean, stiffness.share.u);
    out.push(wrap::wrap(
        "  ",
        &format!(
            "{} {} of the twist that geometry says arrives on the next wing; jigtrue advise LOG --like SERIES.json starts there",
            share.plain(),
            share.half()
        ),
    ));
    out
}

fn drift(d: &DriftRow, units: Units) -> String {
    let number = d.number.as_ref().map_or_else(String::new, |n| format!(" {n}"));
    let angle = units.scale(Kind::Angle);
    let trend = |t: LikelyTrend| format!("{} in 100 days", angle.signed_with(t.per_wing, 3));
    let mut said = Vec::new();
    if let Some(t) = d.per_100_days.filter(|t| t.real) {
        said.push(format!("drifts by {}", trend(t)));
    }
    if let Some(first) = d.outliers.first() {
        said.push(format!(
            "left its control limits in {} ({})",
            first.log,
            count(d.outliers.len(), "time", "times")
        ));
    }
    for failed in d.failed.iter().take(NAMED) {
        said.push(format!("failed its check in {} (entry {})", failed.log, failed.entry));
    }
    let verdict = if said.is_empty() { "steady".to_owned() } else { said.join("; ") };
    let found = angle.signed_with(d.last.value_deg, 3);
    format!("{}{number}: {verdict}; last {} {found} of {}", d.instrument, d.found.word(), exact(d.n as f64))
}
