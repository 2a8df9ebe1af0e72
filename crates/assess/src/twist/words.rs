//! What a person is told about the profile.

use super::reach::REACH;
use super::{Curve, ProfileFit, Source, repeats};
use crate::resolve::figure;
use crate::view::StationView;
use numerics::order::by_stations;
use quantity::Kind;
use record::plan::Plan;

impl ProfileFit {
    /// The sentences, the most urgent first.
    pub(super) fn remarks(&self, plan: &Plan, stations: &[StationView]) -> Vec<String> {
        let mut out: Vec<String> =
            stations.iter().filter_map(|s| Some(format!("{} {}", s.name, s.standing()?))).collect();
        out.extend(self.of_rounds());
        match &self.curve {
            None => out.push(self.unreached(plan).to_string()),
            Some(curve) => {
                if !(curve.reach.root && curve.reach.tip) {
                    out.push(format!(
                        "Setting, washout error and band need the whole span: {}",
                        self.unreached(plan)
                    ));
                }
                out.push(self.of_cause(plan, curve));
                out.extend(self.lone_ends(curve));
                let eta: Vec<f64> =
                    curve.fitted.iter().filter_map(|i| self.stations.get(*i)).map(|s| s.eta).collect();
                let given = by_stations(&eta);
                if curve.fit.order < given {
                    out.push(format!(
                        "The plan lowers the order of the curve to {}; the stations would give {given}.",
                        curve.fit.order
                    ));
                }
            }
        }
        out
    }

    fn of_rounds(&self) -> Option<String> {
        let rounds = &self.rounds;
        if rounds.measured < 2 {
            return None;
        }
        if rounds.differ() {
            return Some(format!(
                "The last of {} rounds does not agree with the one before. Only the last counts. Did something move?",
                rounds.measured
            ));
        }
        if rounds.moved() {
            let words = if rounds.reversed {
                "The wing rolled between the rounds: the setting is that of the last one, the twist that of all."
            } else {
                "All stations moved together between the rounds: the level's zero or the wing. Turn the level end for end."
            };
            return Some(words.to_owned());
        }
        if rounds.counted < rounds.measured {
            return Some(format!(
                "Of {} rounds, the last {} agree and count together; the earlier ones do not count.",
                rounds.measured, rounds.counted
            ));
        }
        Some(format!("{} rounds agree and count together.", rounds.counted))
    }

    fn of_cause(&self, plan: &Plan, curve: &Curve) -> String {
        match self.source(curve) {
            Source::None => {
                "Each station is judged by its own readings. Setting and washout allow for scatter of the ribs.".to_owned()
            }
            Source::Ribs => format!(
                "The ribs scatter by about {}; the level repeats as claimed, so the scatter is in the wing.",
                plan.shown_in.scale(Kind::Angle).rough_with(curve.shape.tau())
            ),
            Source::Instrument => {
                let worst = self.repeats.iter().filter(|r| r.1.p() < repeats::WORSE);
                let words = worst.map(|(name, r)| {
                    format!(
                        "{name} repeats {} times worse than its file says. Uncertainties use what it really did. Check it.",
                        figure(libm::sqrt(r.ratio()))
                    )
                });
                words.collect::<Vec<_>>().join(" ")
            }
            Source::Unknown => "The stations scatter more than the level explains. Ribs and level cannot be \
                told apart, so every station has the wider margin. Read each end for end."
                .to_owned(),
            Source::NoRepeats => "No reading was repeated, so only the instrument file vouches for the level, \
                and every station has the wider margin. Read each end for end."
                .to_owned(),
        }
    }

    fn lone_ends(&self, curve: &Curve) -> Vec<String> {
        let near = |datum: f64| {
            let stations = curve.fitted.iter().filter_map(|i| self.stations.get(*i));
            stations.filter(|s| (s.eta - datum).abs() <= REACH).count()
        };
        [("root", 0.0, "setting"), ("tip", 1.0, "washout")]
            .into_iter()
            .filter(|(_, datum, _)| near(*datum) == 1)
            .map(|(end, _, like)| {
                format!(
                    "Only one station shows the {end}. A dent there would look like {like}. Measure a second one within 5 % of \
                     the span."
                )
            })
            .collect()
    }
}
