//! The builders: one who takes the advice, and rivals who do not.

use super::on_incidence;
use assess::advice::belief::{Belief, Way};
use assess::advice::search::Task;
use assess::advice::steps;
use assess::advice::targets::targets;
use assess::view::Assessment;
use numerics::Dd;
use numerics::lsq;
use record::plan::{Adjust, Plan};

/// A way of deciding what to move.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Builder {
    /// Takes the advice.
    Advised,
    /// Takes the advice with a level on the wing, and reads it after every move.
    Live,
    /// Knows the stiffness, and searches as the advice does.
    Oracle,
    /// The usual way: one support at a time, by its own error.
    OneAtATime,
    /// The same for root and tip in one round.
    BothEnds,
    /// Least squares over all supports by geometry; never learns.
    LeastSquares,
}

impl Builder {
    /// The moves of a round: support and mm, in eighths of a turn inside travel.
    pub fn moves(self, plan: &Plan, assessment: &Assessment, moved: &[f64]) -> Vec<(usize, f64)> {
        let deviations: Vec<(f64, f64)> = assessment.twist.as_ref().map_or(vec![], |t| {
            t.stations.iter().filter_map(|s| Some((s.span_mm, s.deviation_deg?))).collect()
        });
        let real = |s: usize, mm: f64| to_real(plan, s, mm, moved[s]);
        let made: Vec<(usize, f64)> = match self {
            Self::Advised | Self::Live | Self::Oracle => vec![],
            Self::OneAtATime => {
                let ends = own_errors(plan, &deviations);
                let worst = ends.into_iter().max_by(|a, b| a.2.abs().total_cmp(&b.2.abs()));
                worst.map(|(s, mm, _)| (s, real(s, mm))).into_iter().collect()
            }
            Self::BothEnds => {
                own_errors(plan, &deviations).into_iter().map(|(s, mm, _)| (s, real(s, mm))).collect()
            }
            Self::LeastSquares => least_squares(plan, &deviations)
                .into_iter()
                .enumerate()
                .map(|(s, mm)| (s, real(s, mm)))
                .collect(),
        };
        made.into_iter().filter(|(_, mm)| *mm != 0.0).collect()
    }
}

/// The rear screws, each with that error and the move that takes out the error of the station beside it (as if the
/// other end stayed).
fn own_errors(plan: &Plan, deviations: &[(f64, f64)]) -> Vec<(usize, f64, f64)> {
    (0..plan.supports.len())
        .filter(|s| plan.supports[*s].spar == "rear")
        .filter_map(|s| {
            let span = plan.supports[s].span.value();
            let (at, error) =
                deviations.iter().min_by(|a, b| (a.0 - span).abs().total_cmp(&(b.0 - span).abs()))?;
            Some((s, -error / on_incidence(plan, *at)[s], *error))
        })
        .collect()
}

/// The rear screws that minimise the sum of squared deviations by geometry; the front ones, which do the same in
/// reverse, stay.
fn least_squares(plan: &Plan, deviations: &[(f64, f64)]) -> Vec<f64> {
    let rear: Vec<usize> = (0..plan.supports.len()).filter(|s| plan.supports[*s].spar == "rear").collect();
    let rows: Vec<Vec<f64>> = deviations.iter().map(|(span, _)| on_incidence(plan, *span)).collect();
    let columns: Vec<Vec<Dd>> = rear.iter().map(|s| rows.iter().map(|r| Dd::new(-r[*s])).collect()).collect();
    let values: Vec<Dd> = deviations.iter().map(|d| Dd::new(d.1)).collect();
    let fit = lsq::fit(&columns, &values, None).expect("two screws can be told apart");
    let mut out = vec![0.0; plan.supports.len()];
    rear.iter().zip(fit.coefficients).for_each(|(s, mm)| out[*s] = mm);
    out
}

/// The nearest eighth of a turn inside what is left of the travel.
fn to_real(plan: &Plan, support: usize, mm: f64, moved: f64) -> f64 {
    let Adjust::Screw { per_turn, .. } = plan.supports[support].adjust else { return 0.0 };
    let travel = plan.supports[support].travel;
    let eighth = per_turn.value() / 8.0;
    let held = mm.clamp(-travel.minus.value() - moved, travel.plus.value() - moved);
    let nearest = (held / eighth).round() * eighth;
    let past = moved + nearest > travel.plus.value() + 1e-9 || moved + nearest < -travel.minus.value() - 1e-9;
    if past { nearest - eighth * nearest.signum() } else { nearest }
}

/// What somebody does who knows what every support does at every station: the advice's own search, with nothing
/// uncertain.
pub fn oracle(plan: &Plan, truth: &[Vec<f64>], assessment: &Assessment, moved: &[f64]) -> Vec<(usize, f64)> {
    let Some(twist) = &assessment.twist else { return vec![] };
    let belief = Belief::prior(plan).certain();
    let mut targets = targets(plan, twist, &belief).targets;
    let of = |station: usize| truth[station].clone();
    let less = |a: usize, b: usize| of(a).iter().zip(of(b)).map(|(x, y)| x - y).collect::<Vec<f64>>();
    let last = truth.len() - 1;
    for target in &mut targets {
        let per_mm = match plan.stations.iter().position(|s| s.name == target.what) {
            Some(i) => less(i, 0),
            None if target.what == "setting" => of(0),
            None => less(last, 0),
        };
        target.way = Way::certain(per_mm);
    }
    let amounts: Vec<Vec<f64>> = plan
        .supports
        .iter()
        .zip(moved)
        .map(|(s, m)| {
            let left = steps::travel_left(s.travel, *m);
            steps::real_amounts(&s.adjust, left, steps::Grain::Eighths)
        })
        .collect();
    let found =
        Task { belief: &belief, targets: &targets, amounts: &amounts, made: &vec![0.0; amounts.len()] }
            .search();
    let moves = found.unwrap_or_default();
    moves.into_iter().enumerate().filter(|(_, x)| *x != 0.0).collect()
}
