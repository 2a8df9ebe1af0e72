//! What a person is told about the fit.

use super::ProfileFit;
use crate::resolve::figure;
use crate::view::{OrderTried, StationView};
use numerics::gls::{Choice, OrderReason};

pub(super) fn orders(choice: &Choice) -> Vec<OrderTried> {
    choice
        .steps
        .iter()
        .filter_map(|step| {
            Some(OrderTried {
                order: step.order,
                chi2: step.chi2?,
                aicc: step.aicc,
                f: step.f,
                p: step.p,
                why: why(step.reason).to_owned(),
            })
        })
        .collect()
}

const fn why(reason: OrderReason) -> &'static str {
    match reason {
        OrderReason::First => "the straight line is where it starts",
        OrderReason::BothAsk => "taken: F test and AICc both ask for it",
        OrderReason::AiccDoesNotAsk => "left: the F test asks for it, AICc does not",
        OrderReason::FDoesNotAsk => "left: AICc asks for it, the F test does not",
        OrderReason::NeitherAsks => "left: neither F test nor AICc asks for it",
        OrderReason::NothingLeft => "left: the order below already follows the readings exactly",
        OrderReason::TooFewValues => "left: too few stations to judge it",
    }
}

pub(super) fn remarks(profile: &ProfileFit, stations: &[StationView]) -> Vec<String> {
    let fit = &profile.choice.fit;
    let mut remarks = Vec::new();
    if fit.scale > 1.0 {
        remarks.push(format!(
            "the readings scatter more than the instrument claims (chi-squared {} on {} degrees of freedom); \
             uncertainties are enlarged {} times",
            figure(fit.chi2),
            fit.dof,
            figure(fit.scale)
        ));
    }
    if fit.dof == 0 {
        remarks.push("just enough stations for a line: nothing is left to check the readings by".to_owned());
    }
    let spans: Vec<f64> = profile.stations.iter().map(|s| s.eta).collect();
    if let (Some(first), Some(last)) = (spans.first(), spans.last())
        && (*first > 0.25 || *last < 0.75)
    {
        remarks.push(
            "the stations measured cover only part of the span; beyond them the fit is a guess".to_owned(),
        );
    }
    remarks.extend(stations.iter().filter_map(|s| Some(format!("{} {}", s.name, s.standing()?))));
    remarks
}
