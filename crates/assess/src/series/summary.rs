//! From the columns to the rows shown.

use super::ALPHA;
use super::columns::{ChangedDuring, Column, Columns};
use super::rows::{Charted, Least, Of, Sample, chart, likely};
use super::view::{Creep, FigureRow, LackingAt, Series, States, Unmeasured};
use crate::view::Verdict;
use quantity::shown::count;

/// What no wing has a value for.
pub fn unmeasured(all: &Columns) -> Vec<Unmeasured> {
    let none = all.figures.iter().filter(|c| c.values.is_empty());
    none.map(|c| Unmeasured { kind: c.kind, about: c.about.clone() }).collect()
}

/// One row for each figure that some wing has.
pub fn figures(all: &Columns) -> Vec<FigureRow> {
    let some: Vec<&Column> = all.figures.iter().filter(|c| !c.values.is_empty()).collect();
    let tested = some.len();
    let rows = some.into_iter().filter_map(|column| {
        let values: Vec<Of> = column.values.iter().map(|v| v.of).collect();
        let sample = Sample::of(&values, Least::Nothing)?;
        let Charted { chart, outliers } = chart(&values, |wing| all.log(wing));
        let places: Vec<f64> = values.iter().map(|v| v.wing as f64).collect();
        let lacking = column.lacking.iter().map(|l| LackingAt {
            log: all.log(l.wing),
            state: l.state,
            words: l.words.clone(),
        });
        Some(FigureRow {
            kind: column.kind,
            about: column.about.clone(),
            unit: column.unit,
            n: sample.n,
            mean: sample.mean,
            half95: sample.half95,
            sd: sample.sd,
            least: sample.least,
            most: sample.most,
            u: sample.u,
            lower: column.limits.and_then(|l| l.lower),
            upper: column.limits.and_then(|l| l.upper),
            states: states(column.values.iter().filter_map(|v| v.verdict)),
            chart,
            trend: likely(&places, &values, tested),
            outliers,
            lacking: lacking.collect(),
        })
    });
    rows.collect()
}

fn states(verdicts: impl Iterator<Item = Verdict>) -> States {
    let mut out = States::default();
    for verdict in verdicts {
        match verdict {
            Verdict::Within => out.within += 1,
            Verdict::Undecided => out.undecided += 1,
            Verdict::Outside => out.outside += 1,
            // These have no value that counts.
            Verdict::Missing | Verdict::Stale | Verdict::Doubtful | Verdict::CannotJudge => {}
        }
    }
    out
}

/// What each stage does to the twist: what is more than chance first, then by size.
pub fn creeps(all: &Columns) -> Vec<Creep> {
    let alpha = ALPHA / all.changes.len().max(1) as f64;
    let mut out: Vec<Creep> = all
        .changes
        .iter()
        .filter_map(|(ChangedDuring { during, what }, values)| {
            let sample = Sample::of(values, Least::Readings)?;
            Some(Creep {
                during: during.clone(),
                what: what.clone(),
                n: sample.n,
                mean_deg: sample.mean,
                half95_deg: sample.half95,
                sd_deg: sample.sd,
                u_deg: sample.u,
                same_way: values.iter().filter(|v| v.value * sample.mean > 0.0).count(),
                p: sample.p,
                real: sample.p.is_some_and(|p| p < alpha),
            })
        })
        .collect();
    out.sort_by(|a, b| b.real.cmp(&a.real).then(b.mean_deg.abs().total_cmp(&a.mean_deg.abs())));
    out
}

/// What a person should know before using it.
pub fn remarks(series: &Series) -> Vec<String> {
    let mut out = Vec::new();
    if !series.not_counted.is_empty() {
        let n = count(series.not_counted.len(), "log is", "logs are");
        out.push(format!("{n} not counted; each is named with the reason"));
    }
    let limits = series.figures.iter().any(|f| f.lower.is_none() && f.upper.is_none());
    let judged = series.figures.iter().any(|f| f.states != States::default());
    if limits && judged {
        out.push("if no tolerance is shown, the plans have none or differ".to_owned());
    }
    if series.figures.iter().any(|f| f.chart.is_some_and(|c| c.provisional)) {
        out.push(
            "control limits from fewer than 20 wings still move (common practice, no source)".to_owned(),
        );
    }
    if series.figures.iter().any(|f| f.chart.is_some()) {
        out.push("control limits say what these wings do; they are not tolerances".to_owned());
    }
    if !series.figures.is_empty() {
        out.push(
            "an error of one instrument that is the same on every wing is in the means and not in their ±"
                .to_owned(),
        );
    }
    if let Some(other) = series.stiffness.as_ref().map(|s| s.other_jig.len()).filter(|n| *n > 0) {
        let n = count(other, "wing was built", "wings were built");
        out.push(format!("{n} in another jig: their moves do not count"));
    }
    out
}
