//! What the instruments showed over the wings: zeros and errors in time order.

use super::columns::{Columns, FoundOn};
use super::rows::{Charted, Least, Of, Sample, chart, likely};
use super::view::{DriftRow, FailedCheck, FoundAt};
use super::zeros::{Found, FoundKind};
use std::collections::BTreeMap;

const MS_IN_100_DAYS: f64 = 100.0 * 86_400_000.0;

/// An instrument by name and number, and what was found about it.
type Key<'a> = (&'a str, Option<&'a str>, FoundKind);

/// One row for each instrument and kind of finding, by name.
pub fn instruments(all: &Columns) -> Vec<DriftRow> {
    let mut groups: BTreeMap<Key<'_>, Vec<&FoundOn>> = BTreeMap::new();
    for one in &all.found {
        let Found { instrument, number, kind, .. } = &one.found;
        groups.entry((instrument, number.as_deref(), *kind)).or_default().push(one);
    }
    let tested = groups.len();
    groups.into_iter().filter_map(|(key, found)| row(all, key, &found, tested)).collect()
}

fn row(all: &Columns, key: Key<'_>, found: &[&FoundOn], tested: usize) -> Option<DriftRow> {
    let (instrument, number, kind) = key;
    let value = |f: &&FoundOn| Of { wing: f.wing, value: f.found.value, u: f.found.u };
    let values: Vec<Of> = found.iter().map(value).collect();
    let sample = Sample::of(&values, Least::Nothing)?;
    let (first, last) = (found.first()?, found.last()?);
    let since = |f: &&FoundOn| (f.found.at.millis() - first.found.at.millis()) as f64 / MS_IN_100_DAYS;
    let times: Vec<f64> = found.iter().map(since).collect();
    let Charted { chart, outliers } = chart(&values, |wing| all.log(wing));
    let trend = likely(&times, &values, tested);
    let at = |FoundOn { wing, found }: &FoundOn| FoundAt {
        at: found.at.to_string(),
        log: all.log(*wing),
        value_deg: found.value,
        u_deg: found.u,
    };
    let failed: Vec<FailedCheck> = found
        .iter()
        .filter_map(|f| Some(FailedCheck { log: all.log(f.wing), entry: f.found.failed? }))
        .collect();
    Some(DriftRow {
        instrument: instrument.to_owned(),
        number: number.map(str::to_owned),
        found: kind,
        n: sample.n,
        mean_deg: sample.mean,
        sd_deg: sample.sd,
        first: at(first),
        last: at(last),
        drifted: trend.is_some_and(|t| t.real) || !outliers.is_empty() || !failed.is_empty(),
        chart,
        per_100_days: trend,
        outliers,
        failed,
    })
}
