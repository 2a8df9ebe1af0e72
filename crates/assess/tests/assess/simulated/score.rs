//! How often the truth lies where the assessment says.

use super::shape::Shape;
use super::{Dice, Level, SPAN_MM, begun, plan};
use assess::view::Twist;
use assess::{Chain, Verdict, assess};
use record::plan::Plan;

/// Yes and no.
#[derive(Clone, Copy, Debug, Default)]
pub struct Share {
    yes: u32,
    all: u32,
}

impl Share {
    pub fn add(&mut self, yes: bool) {
        self.yes += u32::from(yes);
        self.all += 1;
    }

    pub fn value(self) -> f64 {
        f64::from(self.yes) / f64::from(self.all.max(1))
    }

    pub fn any(self) -> bool {
        self.all > 0
    }
}

/// Coverage of every kind of interval; each station by itself.
#[derive(Clone, Debug, Default)]
pub struct Score {
    pub stations: Vec<Share>,
    pub setting: Share,
    pub washout: Share,
    pub band: Share,
    pub within_washout: Share,
    pub within_station: Share,
    pub width: f64,
    pub wings: u32,
}

impl Score {
    /// The least of the stations.
    pub fn station(&self) -> f64 {
        self.stations.iter().filter(|s| s.any()).map(|s| s.value()).fold(1.0, f64::min)
    }

    /// All stations together.
    pub fn stations(&self) -> f64 {
        let count = self.stations.iter().filter(|s| s.any()).count().max(1);
        self.stations.iter().filter(|s| s.any()).map(|s| s.value()).sum::<f64>() / count as f64
    }

    /// Adds one wing. Without a profile nothing is covered.
    pub fn add(&mut self, twist: Option<&Twist>, shape: &Shape, eta: &[f64]) {
        self.stations.resize(eta.len(), Share::default());
        self.wings += 1;
        let inside = |low: f64, high: f64, truth: f64| low <= truth && truth <= high;
        let Some(twist) = twist else {
            self.stations.iter_mut().for_each(|s| s.add(false));
            [&mut self.setting, &mut self.washout, &mut self.band].into_iter().for_each(|s| s.add(false));
            return;
        };
        for (i, s) in twist.stations.iter().enumerate() {
            let covered = match (s.lower95_deg, s.upper95_deg) {
                (Some(low), Some(high)) => inside(low, high, shape.error[i]),
                _ => false,
            };
            self.stations[i].add(covered);
            self.within_station.add(s.verdict == Some(Verdict::Within));
            self.width += s.u_deg.unwrap_or(0.0) * 1.96 / eta.len() as f64;
        }
        let part = |f: &assess::view::Finding, truth: f64| {
            f.judged().is_some_and(|j| inside(j.lower95, j.upper95, truth))
        };
        self.setting.add(part(&twist.setting, shape.setting));
        self.washout.add(part(&twist.washout_error, shape.smooth(1.0)));
        self.within_washout.add(twist.washout_error.verdict() == Some(Verdict::Within));
        if eta.len() >= 5 {
            let covered = !twist.band.is_empty()
                && twist.band.iter().all(|b| {
                    (b.fit_deg - shape.smooth(b.span_mm / SPAN_MM)).abs() <= b.simultaneous_deg + 1e-12
                });
            self.band.add(covered);
        }
    }
}

/// One wing of that shape, walked once and judged.
pub fn once(plan: &Plan, shape: &Shape, level: &Level, dice: &mut Dice) -> Option<Twist> {
    let mut log = begun();
    let all: Vec<usize> = (0..plan.stations.len()).collect();
    log.walk(plan, shape, level, &all, dice);
    assess(plan, &log.entries, &Chain::Whole).twist
}

/// Many wings of one kind.
pub fn many(wings: u32, kind: super::shape::Kind, eta: &[f64], level: &Level, seed: u64) -> Score {
    let mut dice = Dice::new(seed);
    let plan = plan(eta, level, None);
    let mut score = Score::default();
    for _ in 0..wings {
        let shape = Shape::drawn(kind, eta, level.s(), level.flat, &mut dice);
        let twist = once(&plan, &shape, level, &mut dice);
        score.add(twist.as_ref(), &shape, eta);
    }
    score
}

/// Stations evenly from the first place to the last.
pub fn even(n: usize, first: f64, last: f64) -> Vec<f64> {
    (0..n).map(|i| first + (last - first) * i as f64 / (n - 1) as f64).collect()
}

/// How many wings the long run draws, and how much looser its bounds are.
#[derive(Clone, Copy, Debug)]
pub struct Many {
    pub wings: u32,
    pub slack: f64,
}

impl Many {
    /// 20,000 without slack; fewer if the environment's `WINGS` says so, with the slack for that number.
    pub fn asked_for() -> Self {
        let wings = std::env::var("WINGS").ok().and_then(|w| w.parse().ok()).unwrap_or(20_000);
        Self { wings, slack: if wings >= 20_000 { 0.0 } else { slack_of(wings) } }
    }
}

/// Slack on a bound for this number of wings: 0.015 at 2,000 (three standard deviations at 95 %).
pub fn slack_of(wings: u32) -> f64 {
    0.015 * (2000.0 / f64::from(wings)).sqrt()
}
