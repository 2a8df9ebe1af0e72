//! Wrong rules fail the test that the right one passes.

use crate::acceptance::{NONE, SLACK};
use crate::simulated::score::{Share, even, once};
use crate::simulated::shape::{Kind, Shape};
use crate::simulated::{Dice, PAIRS, plan};

/// Two wrong rules under the same simulation: stations of a bowed wing judged by a line through all of them, and
/// scattering ribs judged with a factor of 1.96 although the scatter is only estimated. Both must fail where the
/// right rule passes.
#[test]
fn wrong_rules_fail_the_same_test() {
    let n = 8;
    let eta = even(n, 0.0, 1.0);
    let plan = plan(&eta, &PAIRS, None);
    let mut dice = Dice::new(8);
    let (mut pooled, mut ours) = (Share::default(), Share::default());
    let (mut normal, mut ours_scattered) = (Share::default(), Share::default());
    for _ in 0..600 {
        let shape = Shape::drawn(Kind { bow: 2.0, ..NONE }, &eta, PAIRS.s(), false, &mut dice);
        let twist = once(&plan, &shape, &PAIRS, &mut dice).unwrap();
        let deviation: Vec<f64> = twist.stations.iter().map(|s| s.deviation_deg.unwrap()).collect();
        let line = Line::through(&eta, &deviation);
        for (i, s) in twist.stations.iter().enumerate().skip(1) {
            let half = 1.96 * PAIRS.s() * line.change_per_sd(eta[i]);
            pooled.add((line.slope * eta[i] - shape.error[i]).abs() <= half);
            ours.add(s.lower95_deg.unwrap() <= shape.error[i] && shape.error[i] <= s.upper95_deg.unwrap());
        }
        let shape = Shape::drawn(Kind { scatter: 4.0, ..NONE }, &eta, PAIRS.s(), false, &mut dice);
        let twist = once(&plan, &shape, &PAIRS, &mut dice).unwrap();
        let washout = twist.washout_error.judged().unwrap();
        ours_scattered.add(washout.lower95 <= shape.smooth(1.0) && shape.smooth(1.0) <= washout.upper95);
        // The same with 1.96, the factor for a known scatter, instead of Student's for the degrees of freedom at hand
        // (2.776 for 4).
        let half = (washout.upper95 - washout.value) * 1.96 / 2.776;
        normal.add((washout.value - shape.smooth(1.0)).abs() <= half);
    }
    println!(
        "pooled {:.3}, ours {:.3}; normal factor {:.3}, ours {:.3}",
        pooled.value(),
        ours.value(),
        normal.value(),
        ours_scattered.value()
    );
    assert!(pooled.value() < 0.80, "a pooled verdict must fail: {}", pooled.value());
    assert!(ours.value() >= 0.94);
    assert!(
        normal.value() < 0.93 - SLACK,
        "a factor with the wrong degrees of freedom must fail: {}",
        normal.value()
    );
    assert!(ours_scattered.value() >= 0.93 - SLACK);
}

/// A straight line by least squares.
struct Line {
    slope: f64,
    mean: f64,
    spread: f64,
    count: f64,
}

impl Line {
    fn through(x: &[f64], y: &[f64]) -> Self {
        let count = x.len() as f64;
        let (mean, level) = (x.iter().sum::<f64>() / count, y.iter().sum::<f64>() / count);
        let spread: f64 = x.iter().map(|x| (x - mean) * (x - mean)).sum();
        let slope = x.iter().zip(y).map(|(x, y)| (x - mean) * (y - level)).sum::<f64>() / spread;
        Self { slope, mean, spread, count }
    }

    /// Standard deviation of the line's change from 0 to a place, if each value has a standard deviation of 1.
    fn change_per_sd(&self, at: f64) -> f64 {
        assert!(self.mean > 0.0 && self.count > 2.0);
        at / self.spread.sqrt()
    }
}
