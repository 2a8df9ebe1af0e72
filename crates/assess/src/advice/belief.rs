//! What is believed about a wing's stiffness, and what that says about a move.
//!
//! Supports told to move by x mm move the spars by e = (1 + C) x. Of the twist that geometry predicts, the share t
//! arrives, with a bow b: at relative place η the incidence changes by m·e + t (g - m)·e + b 4η(1 - η) d·e, with g
//! the geometric influences there, m those at mid-span, and d those at the tip less those at the root. The unknowns
//! t, b and C are independent normals before the first move (assumed, no source; checked against simulated jigs).

use super::field::{Field, Place};
use super::prior::{Pair, PerMm, Prior};
use numerics::dot;
use record::plan::Plan;

/// Share of the twist that arrives: mean and standard uncertainty.
const SHARE: (f64, f64) = (0.75, 0.18);
/// Standard uncertainty of the bow.
const BOW_U: f64 = 0.1;
/// Standard uncertainty of a support's effect on its own mm.
const OWN_U: f64 = 0.04;
/// Standard uncertainty of what a mm at one support does at another.
const OTHER_U: f64 = 0.1;
/// Up to this many supports, each pair has an unknown of its own; with more, each support has one for all.
const PAIRED: usize = 16;
/// The share of the knowledge kept when a stage changes the stiffness.
const KEPT: f64 = 0.5;

/// Unknowns before those of the supports: share and bow.
const COMMON: usize = 2;

/// The unknowns with their covariance.
#[derive(Clone, Debug)]
pub struct Belief {
    /// The supports and their geometric influence.
    pub field: Field,
    /// Share, bow, then one unknown for each of `pairs`.
    pub(super) mean: Vec<f64>,
    pub(super) covariance: Vec<Vec<f64>>,
    prior_variance: Vec<f64>,
    /// By the positions of the supports in `field`.
    pub(super) pairs: Vec<Pair>,
}

/// Derivatives of the change at a place with respect to the unknowns, for a mm at each support.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// The believed influence of each support, in degrees per mm.
    pub per_mm: Vec<f64>,
    /// With respect to share and bow, for each support.
    common: Vec<[f64; COMMON]>,
    /// The effect of a mm carried at each support.
    carried: Vec<f64>,
}

impl Way {
    /// Influences in degrees per mm without uncertainty.
    #[must_use]
    pub fn certain(per_mm: Vec<f64>) -> Self {
        Self { common: vec![[0.0; COMMON]; per_mm.len()], carried: vec![0.0; per_mm.len()], per_mm }
    }

    fn is_certain(&self) -> bool {
        self.carried.iter().chain(self.common.iter().flatten()).all(|v| *v == 0.0)
    }
}

impl Belief {
    /// The belief before the first move.
    pub fn prior(plan: &Plan) -> Self {
        let field = Field::of(plan);
        let n = field.supports.len();
        let all = (0..n).flat_map(|carried| (0..n).map(move |moved| (carried, moved)));
        let kept = all.filter(|(carried, moved)| n <= PAIRED || carried == moved).zip(COMMON..);
        let pairs: Vec<Pair> =
            kept.map(|((carried, moved), unknown)| Pair { unknown, carried, moved }).collect();
        let own = if n <= PAIRED { OWN_U } else { OTHER_U };
        let of = |p: &Pair| if p.carried == p.moved { own * own } else { OTHER_U * OTHER_U };
        let mut prior_variance = vec![SHARE.1 * SHARE.1, BOW_U * BOW_U];
        prior_variance.extend(pairs.iter().map(of));
        let size = prior_variance.len();
        let mut covariance = vec![vec![0.0; size]; size];
        for (i, v) in prior_variance.iter().enumerate() {
            covariance[i][i] = *v;
        }
        let mut mean = vec![0.0; size];
        mean[0] = SHARE.0;
        Self { field, mean, covariance, prior_variance, pairs }
    }

    /// Supports of which what they do is known for certain, and no wing that they twist.
    pub fn certain_of(supports: Vec<usize>) -> Self {
        Self {
            field: Field::bare(supports),
            mean: vec![0.0; COMMON],
            covariance: vec![vec![0.0; COMMON]; COMMON],
            prior_variance: vec![0.0; COMMON],
            pairs: vec![],
        }
    }

    /// What is believed before the first move of a wing like those that gave `prior`.
    pub fn from_prior(plan: &Plan, prior: &Prior) -> Self {
        let mut belief = Self::prior(plan);
        for (i, (mean, variance)) in
            prior.mean.iter().zip(&prior.variance).enumerate().take(belief.mean.len())
        {
            belief.mean[i] = *mean;
            belief.covariance[i][i] = *variance;
            belief.prior_variance[i] = *variance;
        }
        belief
    }

    /// Means and variances, as a start for another wing.
    pub fn summary(&self) -> Prior {
        let variance = self.covariance.iter().enumerate().map(|(i, row)| row[i]).collect();
        Prior { mean: self.mean.clone(), variance }
    }

    /// What a mm at each support does to the twist between root and tip, or, if it hardly twists, to the setting.
    pub fn per_mm(&self, plan: &Plan) -> Vec<PerMm> {
        let ends = self.field.places(plan, &[plan.wing.root.value(), plan.wing.tip.value()]);
        let [root, tip] = ends.as_slice() else { return vec![] };
        let places = [root.clone(), tip.less(root)];
        let found = places.each_ref().map(|place| {
            let way = self.way(place);
            (self.covariance_of(&way), way)
        });
        let of = |(j, support): (usize, &usize)| {
            let (setting, twist) = (places[0].by_geometry[j], places[1].by_geometry[j]);
            let twists = twist.abs() > 0.3 * setting.abs().max((setting + twist).abs());
            let (base, (covariance, way)) = if twists { (twist, &found[1]) } else { (setting, &found[0]) };
            (base.abs() >= 1e-9).then(|| PerMm {
                support: *support,
                twists,
                deg_per_mm: way.per_mm[j],
                u: covariance[j][j].max(0.0).sqrt(),
                factor: way.per_mm[j] / base,
            })
        };
        self.field.supports.iter().enumerate().filter_map(of).collect()
    }

    /// The same belief without uncertainty.
    #[must_use]
    pub fn certain(&self) -> Self {
        let mut certain = self.clone();
        certain.covariance.iter_mut().for_each(|row| row.fill(0.0));
        certain
    }

    /// A stage changed the stiffness: the means stay, the uncertainty grows.
    pub fn forget(&mut self) {
        for (i, row) in self.covariance.iter_mut().enumerate() {
            row.iter_mut().for_each(|v| *v *= KEPT);
            row[i] += (1.0 - KEPT) * self.prior_variance[i];
        }
    }

    /// What a mm at each support does at a place, with its derivatives.
    pub fn way(&self, place: &Place) -> Way {
        let n = self.field.supports.len();
        let (share, bow) = (self.mean[0], self.mean[1]);
        let twisting: Vec<f64> = (0..n).map(|s| self.field.twisting(place, s)).collect();
        let bowing: Vec<f64> = (0..n).map(|s| self.field.bowing(place, s)).collect();
        let carried: Vec<f64> =
            (0..n).map(|s| self.field.tilting(place, s) + share * twisting[s] + bow * bowing[s]).collect();
        let mut common: Vec<[f64; COMMON]> = (0..n).map(|s| [twisting[s], bowing[s]]).collect();
        let mut per_mm = carried.clone();
        for pair in &self.pairs {
            let (i, j, c) = (pair.carried, pair.moved, self.mean[pair.unknown]);
            common[j][0] += twisting[i] * c;
            common[j][1] += bowing[i] * c;
            per_mm[j] += carried[i] * c;
        }
        Way { per_mm, common, carried }
    }

    /// Derivatives of the effect of moves with respect to all unknowns.
    pub(super) fn derivatives(&self, way: &Way, moves_mm: &[f64]) -> Vec<f64> {
        let mut out = vec![0.0; self.mean.len()];
        for (k, value) in out.iter_mut().take(COMMON).enumerate() {
            *value = way.common.iter().zip(moves_mm).map(|(c, x)| c[k] * x).sum();
        }
        for pair in &self.pairs {
            out[pair.unknown] = way.carried[pair.carried] * moves_mm[pair.moved];
        }
        out
    }

    /// Covariance of the influences of all supports at a place, in (degrees per mm)², row by row.
    pub fn covariance_of(&self, way: &Way) -> Vec<Vec<f64>> {
        let n = self.field.supports.len();
        if way.is_certain() {
            return vec![vec![0.0; n]; n];
        }
        let p = &self.covariance;
        let mut of: Vec<Vec<&Pair>> = vec![vec![]; n];
        self.pairs.iter().for_each(|pair| of[pair.moved].push(pair));
        // Covariance of the influence of each support with every unknown.
        let with: Vec<Vec<f64>> = (0..n)
            .map(|j| {
                let mut row: Vec<f64> = p[0]
                    .iter()
                    .zip(&p[1])
                    .map(|(a, b)| way.common[j][0] * a + way.common[j][1] * b)
                    .collect();
                for pair in &of[j] {
                    let factor = way.carried[pair.carried];
                    row.iter_mut().zip(&p[pair.unknown]).for_each(|(r, v)| *r += factor * v);
                }
                row
            })
            .collect();
        let entry = |row: &Vec<f64>, l: usize| {
            let common = way.common[l][0] * row[0] + way.common[l][1] * row[1];
            common + of[l].iter().map(|pair| way.carried[pair.carried] * row[pair.unknown]).sum::<f64>()
        };
        with.iter().map(|row| (0..n).map(|l| entry(row, l)).collect()).collect()
    }

    /// The uncertainty of moves at any place: see [`Spread::u`].
    pub fn spread(&self, moves_mm: &[f64]) -> Spread {
        let n = self.field.supports.len();
        let size = COMMON + n;
        let p = &self.covariance;
        let moved = || self.pairs.iter().filter(|pair| moves_mm[pair.moved] != 0.0);
        // Combine the unknowns of each moved support into what it carries at every other.
        let mut half = vec![vec![0.0; size]; p.len()];
        for (row, out) in p.iter().zip(&mut half) {
            out[..COMMON].copy_from_slice(&row[..COMMON]);
            for pair in moved() {
                out[COMMON + pair.carried] += moves_mm[pair.moved] * row[pair.unknown];
            }
        }
        let mut matrix = vec![vec![0.0; size]; size];
        for (a, row) in matrix.iter_mut().take(COMMON).enumerate() {
            row.copy_from_slice(&half[a]);
        }
        for pair in moved() {
            let (row, x) = (&mut matrix[COMMON + pair.carried], moves_mm[pair.moved]);
            row.iter_mut().zip(&half[pair.unknown]).for_each(|(m, h)| *m += x * h);
        }
        Spread { moves_mm: moves_mm.to_vec(), matrix }
    }
}

/// The uncertainty of a set of moves, ready for any number of places.
#[derive(Clone, Debug)]
pub struct Spread {
    moves_mm: Vec<f64>,
    matrix: Vec<Vec<f64>>,
}

impl Spread {
    /// Standard uncertainty of what the moves do at a place, in degrees, because the stiffness is uncertain.
    pub fn u(&self, way: &Way) -> f64 {
        let mut z: Vec<f64> =
            (0..COMMON).map(|k| way.common.iter().zip(&self.moves_mm).map(|(c, x)| c[k] * x).sum()).collect();
        z.extend_from_slice(&way.carried);
        self.matrix.iter().zip(&z).map(|(row, v)| v * dot(row, &z)).sum::<f64>().max(0.0).sqrt()
    }
}

impl Prior {
    /// The belief without earlier wings.
    pub fn general(plan: &Plan) -> Self {
        Belief::prior(plan).summary()
    }

    /// The unknowns that belong to two supports.
    pub fn pairs(&self, plan: &Plan) -> Vec<Pair> {
        let belief = Belief::prior(plan);
        let place = |s: usize| belief.field.supports[s];
        let pair = |p: &Pair| Pair { carried: place(p.carried), moved: place(p.moved), ..*p };
        belief.pairs.iter().map(pair).collect()
    }

    /// What a mm at each support does according to this prior; a support without geometric effect is left out.
    pub fn per_mm(&self, plan: &Plan) -> Vec<PerMm> {
        Belief::from_prior(plan, self).per_mm(plan)
    }
}
