//! Finds the point a person means.

use super::Session;
use crate::refusal::Refusal;
use crate::{NotKnown, SessionError, Unknown};
use quantity::{Kind, nearest_of};
use record::plan::Named;
use record::{Facing, Plan, Point};

#[derive(Clone, Debug, PartialEq)]
pub struct PlanPoint {
    pub point: Point,
    /// What is measured there.
    pub quantity: Kind,
}

/// The point of the plan with this name. A place alone means the point there: `S4` the incidence, `BR2` the spot
/// check.
///
/// # Errors
/// If the text matches no point of the plan, or several; the nearest one is suggested.
pub fn point_in(plan: &Plan, text: &str) -> Result<PlanPoint, SessionError> {
    let text = text.trim();
    let named = if text.len() > 200 { Named::None } else { plan.point_named(text, None) };
    match named {
        Named::One(point) => {
            if let Some(quantity) = plan.quantity_of(&point) {
                return Ok(PlanPoint { point, quantity });
            }
        }
        Named::Several(points) => {
            return Err(Refusal::SeveralPoints { text: text.to_owned(), points }.into());
        }
        Named::None => {}
    }
    let (places, owned) = (plan.points(), || text.to_owned());
    let nearest = if text.contains('@') {
        nearest_of(text, places.iter().map(ToString::to_string))
    } else {
        nearest_of(text, places.iter().map(|p| p.place().to_owned()))
    };
    let what = match (text.parse::<Point>(), plan.stations.first().zip(plan.stations.last())) {
        (Err(_), _) if text.len() > 200 => Unknown::LongPoint(owned()),
        (Err(why), _) if text.contains('@') => Unknown::NoPoint(why),
        (Err(_), Some((first, last))) => {
            Unknown::Place { place: owned(), first: first.name.clone(), last: last.name.clone() }
        }
        _ => Unknown::Point(owned()),
    };
    Err(NotKnown { what, nearest }.into())
}

/// The facing a reading is recorded with.
///
/// # Errors
/// If a facing was given for a point that has none.
pub(crate) fn facing(point: &Point, asked: Option<Facing>) -> Result<Option<Facing>, SessionError> {
    match (point.kind().reverses(), asked) {
        (true, asked) => Ok(Some(asked.unwrap_or(Facing::Forward))),
        (false, None) => Ok(None),
        (false, Some(_)) => Err(Refusal::NoFacing(point.clone()).into()),
    }
}

impl Session {
    /// The point of the plan in force that a text names.
    ///
    /// # Errors
    /// As [`point_in`].
    pub fn point_named(&self, text: &str) -> Result<PlanPoint, SessionError> {
        point_in(&self.plan, text)
    }

    /// The point of the plan that a text names, as a target for an instrument that reads this quantity.
    ///
    /// # Errors
    /// If the plan has no such point (the nearest one is suggested), or the point needs another quantity.
    pub fn target_named(&self, text: &str, reads: Kind) -> Result<bench::Target, SessionError> {
        let PlanPoint { point, quantity } = self.point_named(text)?;
        if quantity != reads {
            return Err(Refusal::NotRead { text: text.to_owned(), asks: quantity }.into());
        }
        Ok(bench::Target { point, quantity, facing: None })
    }

    /// The post of the plan that a text names.
    ///
    /// # Errors
    /// If the plan has no such post; the nearest one is suggested.
    pub fn post_named(&self, text: &str) -> Result<&record::plan::Post, SessionError> {
        let posts = &self.plan.posts;
        posts.iter().find(|post| post.name == text.trim()).ok_or_else(|| {
            let all = posts.iter().map(|post| post.name.clone());
            NotKnown::name(Unknown::Post(text.to_owned()), text, all).into()
        })
    }
}
