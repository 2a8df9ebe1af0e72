//! What the judgements found, by what they judged. Without judgements it is empty, and then nothing is met.

use crate::incidence;
use crate::parts::{self, Values};
use crate::view::{
    Assessment, Finding as Found, Judged, JudgedBy, ObligationKind as K, StationView, TwistTest, Unjudged,
    Verdict,
};
use quantity::Kind;
use record::plan::Plan;
use record::{Limits, Point};
use std::collections::{BTreeMap, BTreeSet};

/// What one judgement found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Finding {
    /// Its verdict; `None` if there was nothing to judge by.
    pub verdict: Option<Verdict>,
    /// What was found, as text: the thing, its value, its limit.
    pub words: String,
    /// The value found with its 95 % and unit, if there is one.
    pub found: Option<String>,
    /// The limit it was judged by, with its unit.
    pub limit: Option<String>,
    /// Probability that it conforms.
    pub conforms: Option<f64>,
    /// What would settle it.
    pub settles: Option<String>,
    /// The thing that causes it, if it would be within without that.
    pub follows: Option<JudgedBy>,
}

/// What the judgements found.
#[derive(Clone, Debug, Default)]
pub struct Findings {
    found: BTreeMap<(K, String), Finding>,
    /// The points a judgement rests on, if only some of the possible ones.
    rests_on: BTreeMap<(K, String), BTreeSet<Point>>,
}

impl Findings {
    /// From the views; a test of the twist with a probability below `level` puts its subject in doubt.
    pub fn of(plan: &Plan, a: &Assessment, values: &Values, level: f64) -> Self {
        let mut out = Self::default();
        a.judged().for_each(|one| out.judged(one.kind, one.about, &one.judged.what, one.judged));
        for spot in &plan.spots {
            parts::spot(plan, spot, values).iter().for_each(|j| out.judged(K::Spot, &spot.name, &j.what, j));
        }
        if let Some(twist) = &a.twist {
            out.found(K::Setting, "setting", "setting", &twist.setting);
            out.found(K::Washout, "washout error", "washout error", &twist.washout_error);
            let badness = |f: &Found| f.judged().map_or(0.0, badness);
            let worst = twist
                .neighbours
                .iter()
                .map(|s| &s.finding)
                .max_by(|a, b| a.verdict().cmp(&b.verdict()).then(badness(a).total_cmp(&badness(b))));
            worst.iter().for_each(|f| out.found(K::Neighbour, "steps", f.what(), f));
            let washout = twist.washout_error.judged();
            twist.stations.iter().for_each(|s| out.station(plan, s, washout));
            twist.tests.iter().filter(|t| t.p < level).for_each(|t| out.contradicted(t));
        }
        a.unjudged.iter().for_each(|u| out.unjudged(u));
        out.rest_on(plan, values);
        out
    }

    /// If points are alternatives, a judgement rests on those it was made from.
    fn rest_on(&mut self, plan: &Plan, values: &Values) {
        let mut whole = BTreeSet::new();
        for station in &plan.stations {
            let ways = incidence::ways(plan, station, values).into_iter().flat_map(|way| way.points);
            let points: BTreeSet<Point> = ways.collect();
            whole.extend(points.iter().cloned());
            self.rests_on.insert((K::Station, station.name.clone()), points);
        }
        for (kind, about) in K::OF_PROFILE {
            self.rests_on.insert((kind, about.to_owned()), whole.clone());
        }
        for spar in &plan.spars {
            let points = parts::straightness_points(plan, spar, values);
            self.rests_on.insert((K::Straightness, spar.name.clone()), points);
        }
    }

    /// Whether the judgement of a thing was made from this point.
    pub fn rests_on(&self, kind: K, about: &str, point: &Point) -> bool {
        self.rests_on.get(&(kind, about.to_owned())).is_none_or(|points| points.contains(point))
    }

    /// What was found of a thing.
    pub fn get(&self, kind: K, about: &str) -> Option<&Finding> {
        self.found.get(&(kind, about.to_owned()))
    }

    fn found(&mut self, kind: K, about: &str, name: &str, found: &Found) {
        match found {
            Found::Judged(judged) => self.judged(kind, about, name, judged),
            Found::Not(not) => {
                let finding = Finding {
                    verdict: not.verdict,
                    words: format!("{name}: {}", not.why),
                    ..Finding::default()
                };
                self.found.insert((kind, about.to_owned()), finding);
            }
        }
    }

    /// Readings that cannot both be right: the subject of the test is doubtful, and so is what the whole wing gives.
    fn contradicted(&mut self, test: &TwistTest) {
        for ((kind, about), finding) in &mut self.found {
            let whole = matches!(kind, K::Setting | K::Washout | K::Neighbour);
            let its = *kind == K::Station && (test.about.is_empty() || test.about.contains(about));
            if (whole || its) && finding.verdict.is_some() {
                finding.verdict = Some(Verdict::Doubtful);
                finding.words = format!("{}; {}", finding.words, test.words);
                finding.follows = None;
            }
        }
    }

    fn judged(&mut self, kind: K, about: &str, name: &str, judged: &Judged) {
        let limited = judged.lower.is_some() || judged.upper.is_some();
        let (shown, limits) = (judged.shown(), limited.then(|| judged.limits()));
        let limit = limits.as_ref().map_or_else(String::new, |l| format!(", limit {l}"));
        let finding = Finding {
            verdict: judged.verdict,
            words: format!("{name} {shown}{limit}"),
            found: Some(shown),
            limit: limits.map(|l| judged.scale().with(&l)),
            conforms: judged.probability,
            settles: judged.decide.clone(),
            follows: None,
        };
        self.found.insert((kind, about.to_owned()), finding);
    }

    fn station(&mut self, plan: &Plan, s: &StationView, washout: Option<&Judged>) {
        let (Some(error), Some(u)) = (s.twist_error_deg, s.u_deg) else { return };
        let limits = plan.tolerances.station.map(Limits::values);
        let (lower, upper) = limits.map_or((None, None), |l| (l.lower, l.upper));
        let scale = plan.shown_in.scale(Kind::Angle);
        let shown = scale.with_u(error, u).against([lower, upper]).signed_with();
        let limit = scale.limits(lower, upper).map_or_else(String::new, |l| format!(", limit {l}"));
        // If it would be within without the washout error, the cause is the wing's twist, not the rib.
        let rest = error - washout.map_or(0.0, |w| w.value) * s.eta;
        let inside = lower.is_none_or(|l| rest >= l) && upper.is_none_or(|u| rest <= u);
        let washed = !matches!(washout.and_then(|w| w.verdict), None | Some(Verdict::Within));
        let finding = Finding {
            verdict: s.verdict,
            words: format!("{} {shown}{limit}", s.name),
            found: Some(shown),
            limit: None,
            conforms: s.probability,
            settles: s.decide.clone(),
            follows: (inside && washed && !s.stands_out).then(|| JudgedBy::new(K::Washout, "washout error")),
        };
        self.found.insert((K::Station, s.name.clone()), finding);
    }

    fn unjudged(&mut self, u: &Unjudged) {
        let finding = Finding {
            verdict: Some(Verdict::CannotJudge),
            words: format!("{}: {}", u.judged_by, u.why),
            settles: Some("withdraw the wrong reading and measure again".to_owned()),
            ..Finding::default()
        };
        self.found.insert((u.judged_by.kind, u.judged_by.about.clone()), finding);
    }
}

fn badness(judged: &Judged) -> f64 {
    let of = |limit: Option<f64>| limit.map_or(0.0, |l| (judged.value / l).max(0.0));
    of(judged.upper).max(of(judged.lower))
}
