//! The question that a person is asked.

use super::said::{USUAL, left, makes, other_scale, used, usual, within};
use super::words::{Say, place};
use super::work::{Clock, Step};
use quantity::shown::{Scale, WithU, exact};
use quantity::{Celsius, Kind, Millimetres, Units};
use record::plan::Travel;
use record::{Asked, At, Facing, Limits, Point};

/// What a person is asked before something is recorded, and as `Display` why. Values in the units used inside; `say` is how they are
/// said.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Question {
    /// A value further from what is expected than it may be.
    #[error("{} is {} from what {} should show ({})",
        .say.value(*.value), .say.size(.value - .shows), place(.point, *.facing), .say.about(*.shows))]
    Far { value: f64, shows: f64, point: Point, facing: Option<Facing>, say: Say },
    /// A travel of a control.
    #[error("{} is far from what {point} should show, trailing edge up ({})", .say.value(*.value), .say.about(*.shows))]
    FarTravel { value: f64, shows: f64, point: Point, say: Say },
    /// A torque or force below zero.
    #[error("{} is no torque or force: neither is below zero", .say.value(*.value))]
    BelowNothing { value: f64, say: Say },
    #[error("{} is no size at one spot: all are below 1 m", .say.value(*.value))]
    NoSize { value: f64, say: Say },
    #[error("{} is below zero, where the limits are {}", .say.value(*.value), within(*.say, *.limits))]
    BelowZero { value: f64, limits: Limits<f64>, say: Say },
    #[error("{} is far from its limits, {}", .say.value(*.value), within(*.say, *.limits))]
    FarFromLimits { value: f64, limits: Limits<f64>, say: Say },
    /// Two spars at one station: angles of the section in degrees, none where no section is so tall.
    #[error("{} at {} with {} at {other} {}; both must be measured from the same datum",
        .say.value(*.value), place(.point, None), .say.value(*.beside), makes(*.angle, *.design, *.degrees))]
    NoSection {
        value: f64,
        point: Point,
        beside: f64,
        other: Point,
        /// What the first should show.
        shows: f64,
        angle: Option<f64>,
        design: f64,
        degrees: Scale,
        say: Say,
    },
    #[error("the shaft does not go through {}; more than the shaft, {}, is wanted", .say.value(*.bore), .say.value(*.shaft))]
    NotThrough { bore: f64, shaft: f64, say: Say },
    /// The zero of a reversal pair.
    #[error("{} gives this pair a zero of {}; the pairs before gave {}. {} or {} is wrong",
        .say.value(*.value), .say.value(*.zero), .before.signed_with(.say.base_symbol()),
        place(.point, *.facing), place(.point, .facing.map(Facing::turned)))]
    OtherZero {
        value: f64,
        zero: f64,
        before: WithU,
        /// What the reading should show.
        shows: f64,
        point: Point,
        facing: Option<Facing>,
        say: Say,
    },
    #[error("{} is the third equal value in a row ({first}, {second}, {}), though the design differs by {}",
        .say.value(*.value), place(.point, Some(*.facing)), .say.size(*.differs))]
    Repeated {
        value: f64,
        /// The places that showed it before.
        first: String,
        second: String,
        point: Point,
        facing: Facing,
        differs: f64,
        shows: f64,
        say: Say,
    },
    #[error("{} is between the steps of `{instrument}`, {}", .say.value(*.value), .say.value(*.step))]
    OffStep { value: f64, step: f64, instrument: String, say: Say },
    /// A number of divisions, as it was typed.
    #[error("{text} is between the steps of `{instrument}`, {}", exact(*.step))]
    OffDivision { text: String, step: f64, instrument: String },
    #[error("{} is an unusual temperature for a part ({}); {}",
        .scale.exact_with(.part.value()), usual(*.scale), other_scale(*.scale))]
    Temperature { part: Celsius, scale: Scale },
    #[error("a move of `{support}` by zero changes nothing")]
    NothingMoved { support: String },
    #[error("{} takes `{support}` beyond its travel of {} down or forward and {} up or aft{}; {} is left",
        .scale.signed_with(.by.value(), 2), .scale.exact_with(.travel.minus.value()),
        .scale.exact_with(.travel.plus.value()), used(*.so_far, *.scale), left(*.travel, *.so_far, *.scale))]
    BeyondTravel {
        support: String,
        by: Millimetres,
        travel: Travel,
        /// The sum of its moves before, in mm.
        so_far: f64,
        scale: Scale,
    },
    #[error("{at} is in the future: {} {latest}", .by.says())]
    ToCome { at: At, latest: At, by: Clock },
    #[error("{at} is before {step}, but {point} would count as read after it")]
    Before { at: At, step: Step, point: Point },
    /// Two things that are odd of one value.
    #[error("{0}; {1}")]
    Both(Box<Self>, Box<Self>),
}

impl Question {
    /// One question for two odd things about one value.
    pub fn both(one: Option<Self>, other: Option<Self>) -> Option<Self> {
        match (one, other) {
            (Some(one), Some(other)) => Some(Self::Both(Box::new(one), Box::new(other))),
            (one, other) => one.or(other),
        }
    }

    /// What was expected, as `about +1.3°`.
    pub fn expected(&self) -> String {
        match self {
            Self::Far { shows, say, .. }
            | Self::FarTravel { shows, say, .. }
            | Self::NoSection { shows, say, .. }
            | Self::OtherZero { shows, say, .. }
            | Self::Repeated { shows, say, .. } => say.about(*shows),
            Self::BelowNothing { .. } => "torque or force: neither is below zero".to_owned(),
            Self::NoSize { .. } => "a size at one spot, below 1 m".to_owned(),
            Self::BelowZero { limits, say, .. } | Self::FarFromLimits { limits, say, .. } => {
                within(*say, *limits)
            }
            Self::NotThrough { shaft, say, .. } => format!("more than the shaft, {}", say.value(*shaft)),
            Self::OffStep { step, say, .. } => format!("a multiple of {}", say.value(*step)),
            Self::OffDivision { step, .. } => format!("a multiple of {}", exact(*step)),
            Self::Temperature { scale, .. } => usual(*scale),
            Self::NothingMoved { .. } => "a screw that was turned".to_owned(),
            Self::BeyondTravel { travel, so_far, scale, .. } => left(*travel, *so_far, *scale),
            Self::ToCome { latest, .. } => format!("a time up to {latest}"),
            Self::Before { step, .. } => format!("a time after {}", step.at),
            Self::Both(one, other) => format!("{}; {}", one.expected(), other.expected()),
        }
    }
}

impl From<Question> for Asked {
    fn from(question: Question) -> Self {
        Self { expected: question.expected(), why: question.to_string() }
    }
}

/// The question about a temperature that no shop has: usually one in the other scale, typed without its unit.
#[must_use]
pub fn temperature_question(part: Celsius, units: Units) -> Option<Question> {
    if (USUAL.0..=USUAL.1).contains(&part.value()) {
        return None;
    }
    Some(Question::Temperature { part, scale: units.scale(Kind::Temperature) })
}
