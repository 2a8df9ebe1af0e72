//! The tests of the profile. Each reacts at its own level by widening and with a sentence; what is improbable enough,
//! over all the tests of a log, puts its subject in doubt, which is for the gate to say.

use super::{ProfileFit, again};
use crate::view::{TwistTest, TwistTestKind};
use record::plan::Plan;

impl ProfileFit {
    /// Every test made, passed or not.
    pub(super) fn tests(&self, plan: &Plan) -> Vec<TwistTest> {
        let name = |i: &usize| {
            let planned = self.stations.get(*i).and_then(|s| plan.stations.get(s.index));
            planned.map_or_else(String::new, |s| s.name.clone())
        };
        let mut out = Vec::new();
        if let Some(curve) = &self.curve {
            let worst = again::departures(curve).into_iter().min_by(|a, b| a.by.p.total_cmp(&b.by.p));
            out.extend(worst.map(|again::Departs { station, by }| TwistTest {
                kind: TwistTestKind::OddStation,
                about: vec![name(&station)],
                p: by.p,
                words: format!(
                    "{} stands out from its neighbours. Seat the level afresh and measure it again.",
                    name(&station)
                ),
            }));
        }
        if self.rounds.stations.dof > 0 {
            out.push(TwistTest {
                kind: TwistTestKind::RoundsDiffer,
                about: self.rounds.differing.iter().map(name).collect(),
                p: self.rounds.stations.p(),
                words: "The rounds do not agree. Only the last counts. Did something move?".to_owned(),
            });
        }
        if self.rounds.wholes.dof > 0 && !self.rounds.differ() {
            let words = if self.rounds.reversed {
                "The whole wing rolled between the rounds. The setting is that of the last."
            } else {
                "All stations moved together: the level's zero or the wing. Turn the level end for end."
            };
            out.push(TwistTest {
                kind: TwistTestKind::AllMoved,
                about: Vec::new(),
                p: self.rounds.wholes.p(),
                words: words.to_owned(),
            });
        }
        for (instrument, repeats) in self.repeats.iter().filter(|r| r.1.dof > 0) {
            out.push(TwistTest {
                kind: TwistTestKind::Instrument,
                about: vec![instrument.clone()],
                p: repeats.p(),
                words: format!("{instrument} repeats worse than its file says. Check it."),
            });
        }
        out
    }
}
