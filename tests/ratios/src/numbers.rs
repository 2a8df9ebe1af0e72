//! The mathematics, against nalgebra and numpy.

use crate::process::{python, rival};
use crate::row::{Aim, Row, in_turns, median, time};
use crate::{Extent, Failure};
use nalgebra::{DMatrix, DVector};
use numerics::bands::simultaneous_factor;
use numerics::gls::{self, Covariance, change_row};
use numerics::scatter::Scatter;
use numerics::straight::simulate_covariance;
use record::{Entry, Plan};
use std::hint::black_box;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

const DRAWS: usize = 100_000;
const COUNT: usize = 12;

struct Profile {
    eta: Vec<f64>,
    y: Vec<f64>,
    u: Vec<f64>,
    covariance: Covariance,
}

/// Twelve invented stations with a shared zero.
fn profile() -> Profile {
    let eta: Vec<f64> = (0..COUNT).map(|i| i as f64 / (COUNT - 1) as f64).collect();
    let y: Vec<f64> =
        eta.iter().enumerate().map(|(i, e)| 0.1 - 0.3 * e * e + 0.02 * ((i * 7 % 5) as f64 - 2.0)).collect();
    let u = vec![0.03; COUNT];
    let covariance = Covariance::new(u.clone()).with_shared(vec![0.06; COUNT]);
    Profile { eta, y, u, covariance }
}

/// The weighted fit alone, by QR in `f64`: no shared part, no covariance, no band, no residual judged.
fn by_nalgebra(p: &Profile) -> Option<DVector<f64>> {
    let a = DMatrix::from_fn(COUNT, 3, |i, k| p.eta[i].powi(k as i32) / p.u[i]);
    let b = DVector::from_fn(COUNT, |i, _| p.y[i] / p.u[i]);
    let qr = a.qr();
    qr.r().solve_upper_triangular(&(qr.q().transpose() * b))
}

/// The rows of the mathematics, on the demo's log in `folder`.
pub fn rows(extent: Extent, folder: &Path) -> Result<Vec<Row>, Failure> {
    let p = profile();
    let rounds = extent.of(2001, 501);
    let ours = || _ = black_box(gls::fit(&p.eta, &p.y, &p.covariance, 2));
    let pair = in_turns(rounds, ours, || _ = black_box(by_nalgebra(&p)));
    let mut rows = vec![Row::of_times(
        "twist fit, 12 stations, order 2",
        "nalgebra QR in f64, no shared zero",
        pair,
        Aim::Watched,
    )];
    let limit = |what, took: Duration, limit: Duration| {
        Row::of_times(what, "the aim itself, a time", (took, limit), Aim::AtMost(1.0))
    };
    rows.push(limit("the same fit", pair.0, Duration::from_micros(10)));
    rows.push(limit(
        "all of the demo's assessment",
        assessment(&folder.join("demo.jigtrue"), extent)?,
        Duration::from_millis(2),
    ));
    if let Some(python) = python() {
        rows.extend(against_numpy(python, &p, pair.0, extent)?);
    }
    Ok(rows)
}

/// From plan and entries to every verdict, in memory.
fn assessment(log: &Path, extent: Extent) -> Result<Duration, Failure> {
    let journal = journal::Journal::open_read_only(log)?;
    let entries = journal.entries().collect::<Result<Vec<Entry>, _>>()?;
    let plan = entries.iter().find_map(|e| match &e.what {
        record::What::Started { plan, .. } => Plan::parse(plan).ok(),
        _ => None,
    });
    let plan = plan.ok_or("no plan in the demo's log")?;
    let chain = assess::Chain::Whole;
    let mut times: Vec<Duration> = (0..extent.of(201, 51))
        .map(|_| time(|| _ = black_box(assess::assess(&plan, &entries, &chain))).0)
        .collect();
    Ok(median(&mut times))
}

fn against_numpy(python: &str, p: &Profile, fit: Duration, extent: Extent) -> Result<Vec<Row>, Failure> {
    let rows: Vec<Vec<f64>> = (1..=40).map(|i| change_row(3, f64::from(i) / 40.0)).collect();
    let cubic = gls::fit(&p.eta, &p.y, &p.covariance, 3)?;
    let task = serde_json::json!({
        "eta": p.eta, "y": p.y, "u": p.u, "rows": rows, "covariance": cubic.covariance, "draws": DRAWS,
    });
    let mut child = Command::new(python)
        .arg(rival("arithmetic.py"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()?;
    serde_json::to_writer(child.stdin.take().ok_or("no standard input")?, &task)?;
    let said: serde_json::Value = serde_json::from_slice(&child.wait_with_output()?.stdout)?;
    let number = |name: &str| said[name].as_f64().or(said[name][0].as_f64()).ok_or("the rival failed");

    let (mut factor, scatter) = (0.0, Scatter::of(0.0, 9, 9.0).ok_or("no scatter")?);
    let mut times: Vec<Duration> = (0..extent.of(41, 11))
        .map(|_| time(|| factor = simultaneous_factor(&rows, &cubic.covariance, &scatter, 0.95, 1)).0)
        .collect();
    let band = median(&mut times);
    let independent = Covariance::new(p.u.clone());
    let (zone, spread) = time(|| simulate_covariance(&p.eta, &p.y, &independent, DRAWS, 1));
    let mean = spread?.mean;
    // A rival that answers something else does not count.
    if (factor - number("factor")?).abs() > 0.02 || (mean - number("mean")?).abs() > 0.001 {
        return Err(format!("numpy answers something else: {said} against {factor} and {mean}").into());
    }
    let seconds = |name| number(name).map(Duration::from_secs_f64);
    Ok(vec![
        Row::of_times("the same fit", "numpy lstsq, no shared zero", (fit, seconds("lstsq")?), Aim::Watched),
        Row::of_times(
            "band over the whole span, order 3",
            "numpy, 100,000 draws",
            (band, seconds("band")?),
            Aim::AtLeast(3.0),
        ),
        Row::of_times(
            "minimum zone, 100,000 draws",
            "numpy, 100,000 draws",
            (zone, seconds("zone")?),
            Aim::AtLeast(3.0),
        ),
    ])
}
