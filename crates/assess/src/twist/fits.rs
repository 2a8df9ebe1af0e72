//! The profiles of one assessment, each fitted once: what a stage left is often what still counts, or what was
//! disturbed.

use super::{Brief, ProfileFit, Readings, fit_profile};
use crate::answers::Answers;
use crate::parts::Values;
use crate::view::Twist;
use record::plan::Plan;
use std::cell::OnceCell;
use std::collections::BTreeSet;
use std::rc::Rc;

/// The profiles fitted so far.
pub struct Fits<'f> {
    plan: &'f Plan,
    made: Answers<Readings<'f>, Option<Rc<Fitted>>>,
}

/// A profile and its judgements.
#[derive(Debug)]
pub struct Fitted {
    pub fit: ProfileFit,
    brief: OnceCell<Brief>,
}

impl<'f> Fits<'f> {
    /// No profiles yet.
    pub fn new(plan: &'f Plan) -> Self {
        Self { plan, made: Answers::default() }
    }

    /// The profile of these readings with these values; see [`fit_profile`].
    pub fn of(&self, values: &Values, readings: Readings<'f>) -> Option<Rc<Fitted>> {
        self.made.of(readings, |readings| {
            let fit = fit_profile(self.plan, values, readings)?;
            Some(Rc::new(Fitted { fit, brief: OnceCell::new() }))
        })
    }
}

impl Fitted {
    /// What is judged.
    pub fn brief(&self, plan: &Plan) -> &Brief {
        self.brief.get_or_init(|| self.fit.brief(plan))
    }

    /// The view; `required` has the positions in the plan of the stations that the stage requires.
    pub fn view(&self, plan: &Plan, required: &BTreeSet<usize>) -> Twist {
        let (fit, mut brief) = (&self.fit, self.brief(plan).clone());
        fit.decide_part(plan, &mut brief.setting, |curve| &curve.setting);
        fit.decide_part(plan, &mut brief.washout_error, |curve| &curve.washout);
        fit.decide_stations(plan, required, &mut brief.stations);
        fit.view(plan, required, brief)
    }
}
